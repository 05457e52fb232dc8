"""The core's types behind ``st.from_type``, through Hypothesis' own entry point.

Hypothesis calls `register` when it is imported; nothing here is loaded by the library itself.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any, Final

from gripwright.meter import Attack, Hit, Meter, RhythmPattern
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument, InstrumentString
from gripwright.neck.recipe import Recipe
from gripwright.neck.shape import Shape
from gripwright.neck.voicing import Voicing
from gripwright.score.score import Score
from gripwright.theory import Chord, Degree, Interval, Note, Pitch, Quality
from gripwright.tune import Chart, Key

if TYPE_CHECKING:
    from collections.abc import Callable

    from hypothesis.strategies import SearchStrategy

DRAWN_BY: Final[dict[type, str]] = {
    Attack: "attacks",
    Chart: "charts",
    Chord: "chords",
    Degree: "degrees",
    Hand: "hands",
    Hit: "hits",
    Instrument: "instruments",
    InstrumentString: "instrument_strings",
    Interval: "intervals",
    Key: "keys",
    Meter: "meters",
    Note: "notes",
    Pitch: "pitches",
    Quality: "qualities",
    Recipe: "recipes",
    RhythmPattern: "growing_patterns",
    Score: "scores",
    Shape: "shapes",
    Voicing: "voicings",
}
"""For each type the function of `gripwright.laws.drawing` that draws it."""


def register() -> None:
    """Tell Hypothesis how each type is drawn; what draws it is loaded when it is first wanted.

    Example:
        >>> from hypothesis import find, strategies as st
        >>> find(st.from_type(Pitch), lambda pitch: pitch.midi == 60).midi
        60
    """
    # Late on purpose: Hypothesis is importing this module, and is not ready before it calls.
    from hypothesis.strategies import register_type_strategy  # noqa: PLC0415

    for kind, name in DRAWN_BY.items():
        register_type_strategy(kind, _drawn_by(name))


def _drawn_by(name: str) -> Callable[[Any], SearchStrategy[Any]]:
    def resolve(_type: object) -> SearchStrategy[Any]:
        drawing = importlib.import_module("gripwright.laws.drawing")
        strategy: SearchStrategy[Any] = getattr(drawing, name)()
        return strategy

    return resolve
