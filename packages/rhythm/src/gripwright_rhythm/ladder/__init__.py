"""The ladder of practice: rungs in order, each with its drills in the metres that it is for."""

from gripwright_rhythm.ladder.overview import PlaceRow, place_rows
from gripwright_rhythm.ladder.rung import Drill, Part, Rung
from gripwright_rhythm.ladder.rungs import RUNGS, rung, rungs_in

__all__ = ["RUNGS", "Drill", "Part", "PlaceRow", "Rung", "place_rows", "rung", "rungs_in"]
