"""Scores that the tests of exporters share: made by hand, and by drills."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gripwright import (
    Chart,
    Chord,
    ChordEvent,
    Chorus,
    Instrument,
    Meter,
    RhythmPattern,
    Score,
    ScoreBar,
    Voicing,
    lead,
    load_registry,
)
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill

if TYPE_CHECKING:
    from collections.abc import Iterable

INSTRUMENTS = load_registry().instruments
GUITAR = INSTRUMENTS["guitar"]

GRIPS: dict[str, tuple[tuple[str, tuple[int, ...]], ...]] = {
    "guitar": (
        ("Cmaj7", (-1, 3, 5, 4, 5, -1)),
        ("Dm7", (-1, -1, 0, 2, 1, 1)),
        ("G13", (3, -1, 3, 4, 5, -1)),
        ("Em", (0, 2, 2, 0, 0, 0)),
        ("G", (3, 2, 0, 0, 0, 3)),
    ),
    "banjo": (("G", (0, 0, 0, 0, 0)), ("C", (10, 2, 0, 1, 2))),
    "twelve-string": (("Em", (0, 2, 2, 0, 0, 0)), ("C/D", (-1, 5, 5, 5, 5, -1))),
    "ukulele": (("C", (0, 0, 0, 3)), ("Am", (2, 0, 0, 0))),
}
"""Grips by instrument, several of them with one pitch on two strings or in turn."""


def voicings(name: str) -> list[Voicing]:
    """Return the grips of an instrument."""
    own = INSTRUMENTS[name]
    return [Voicing(Chord.parse(symbol), own, frets) for symbol, frets in GRIPS[name]]


def drill(
    chart: str,
    pattern: str,
    click: str = "all",
    *,
    on: Instrument = GUITAR,
    meter: Meter | None = None,
    conditions: dict[str, Any] | None = None,
    **settings: Any,
) -> Score:
    """Return a drill over a chart."""
    line = lead(Chart.parse(chart), on, **(conditions or {"max_notes": 4}))
    return make_drill(line, RhythmPattern.parse(pattern, meter), Click.parse(click), **settings)


def one_bar(
    events: Iterable[ChordEvent] = (), *, meter: Meter | None = None, **settings: Any
) -> Score:
    """Return a score of one bar with these events."""
    meter = meter or Meter()
    bar = ScoreBar(1, Fraction(0), meter, meter.length, 1)
    end = settings.get("bars", [bar])[-1].end
    usual: dict[str, Any] = {
        "instrument": GUITAR,
        "bars": [bar],
        "choruses": [Chorus(1, Fraction(0), end, Fraction(60))],
        "changes": [],
        "events": events,
    }
    return Score(**{**usual, **settings})


def chord(onset: object, end: object, grip: int = 0, **settings: Any) -> ChordEvent:
    """Return an event of a guitar grip in the first bar, from quarters such as ``"3/2"``."""
    start = Fraction(str(onset))
    usual: dict[str, Any] = {"bar": 1, "beat": 1 + start, "dynamic": 80}
    voicing = voicings("guitar")[grip]
    return ChordEvent(start, Fraction(str(end)), voicing, **{**usual, **settings})
