"""Notes, pitches, intervals, degrees, chord qualities and chords.

Nothing here knows an instrument, and nothing imports NumPy.
"""

from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import Interval
from gripwright.theory.modifier import Modifier
from gripwright.theory.naming import ChordName, name_notes
from gripwright.theory.note import Note
from gripwright.theory.pitch import A4_HZ, Pitch
from gripwright.theory.quality import QUALITIES, Quality
from gripwright.theory.symbol import SymbolReader

__all__ = [
    "A4_HZ",
    "QUALITIES",
    "Chord",
    "ChordName",
    "Degree",
    "Interval",
    "Modifier",
    "Note",
    "Pitch",
    "Quality",
    "SymbolReader",
    "name_notes",
]
