"""Drills: lines of grips in strict time."""

from gripwright_rhythm.drill.drill import make_drill

__all__ = ["make_drill"]
