"""Metres and hits: time in exact fractions of a quarter note.

Nothing here knows a chord, and nothing imports NumPy.
"""

from gripwright.meter.hit import Hit
from gripwright.meter.meter import Meter

__all__ = ["Hit", "Meter"]
