"""Instruments, hands, and the complete search of playable voicings."""

from gripwright.neck.conditions import Conditions
from gripwright.neck.emptiness import Emptiness, explain_empty
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument, InstrumentString
from gripwright.neck.presses import Press, presses_of
from gripwright.neck.ranking import RANKINGS, Ranking
from gripwright.neck.recipe import Recipe, VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.neck.shape import Shape
from gripwright.neck.table import VoicingTable
from gripwright.neck.voicing import Voicing

__all__ = [
    "RANKINGS",
    "Conditions",
    "Emptiness",
    "Hand",
    "Instrument",
    "InstrumentString",
    "Press",
    "Ranking",
    "Recipe",
    "Shape",
    "Voicing",
    "VoicingStrategy",
    "VoicingTable",
    "explain_empty",
    "find_voicings",
    "presses_of",
]
