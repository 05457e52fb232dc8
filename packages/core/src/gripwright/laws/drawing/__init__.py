"""Hypothesis strategies for every type of the core: what a test draws its values from.

Each is a function that returns a strategy. With Hypothesis installed they stand behind
``st.from_type`` too: ``st.from_type(Chord)`` draws as `chords` does.

Example:
    >>> from hypothesis import find
    >>> from gripwright.laws import drawing
    >>> find(drawing.chords(), lambda chord: len(chord.degrees) == 5).bass is None
    True
"""

from gripwright.laws.drawing.meter import (
    attacks,
    growing_patterns,
    hits,
    meters,
    patterns,
)
from gripwright.laws.drawing.neck import (
    hands,
    instrument_strings,
    instruments,
    recipes,
    shapes,
    tunings,
    voicings,
)
from gripwright.laws.drawing.score import scores
from gripwright.laws.drawing.symbol import spellings, symbols
from gripwright.laws.drawing.theory import (
    chords,
    degrees,
    intervals,
    notes,
    pitches,
    qualities,
    small_intervals,
    spelled_chords,
)
from gripwright.laws.drawing.tune import charts, keys, progressions

__all__ = [
    "attacks",
    "charts",
    "chords",
    "degrees",
    "growing_patterns",
    "hands",
    "hits",
    "instrument_strings",
    "instruments",
    "intervals",
    "keys",
    "meters",
    "notes",
    "patterns",
    "pitches",
    "progressions",
    "qualities",
    "recipes",
    "scores",
    "shapes",
    "small_intervals",
    "spelled_chords",
    "spellings",
    "symbols",
    "tunings",
    "voicings",
]
