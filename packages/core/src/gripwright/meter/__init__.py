"""Metres, hits and rhythm patterns: time in exact fractions of a quarter note.

Nothing here knows a chord, and nothing imports NumPy.
"""

from gripwright.meter.attack import Attack
from gripwright.meter.family import MadeFamily, RhythmFamily, WrittenFamily
from gripwright.meter.hit import Hit
from gripwright.meter.meter import Meter
from gripwright.meter.meter_set import ANY_METER, USUAL_METERS, MeterSet
from gripwright.meter.pattern import Cell, RhythmPattern

__all__ = [
    "ANY_METER",
    "USUAL_METERS",
    "Attack",
    "Cell",
    "Hit",
    "MadeFamily",
    "Meter",
    "MeterSet",
    "RhythmFamily",
    "RhythmPattern",
    "WrittenFamily",
]
