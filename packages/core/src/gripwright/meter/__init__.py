"""Metres, hits and rhythm patterns: time in exact fractions of a quarter note.

Nothing here knows a chord, and nothing imports NumPy.
"""

from gripwright.meter.attack import Attack
from gripwright.meter.hit import Hit
from gripwright.meter.meter import Meter
from gripwright.meter.pattern import Cell, RhythmPattern

__all__ = ["Attack", "Cell", "Hit", "Meter", "RhythmPattern"]
