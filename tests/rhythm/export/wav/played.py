"""Scores for the tests of sound: made by hand, or by a drill over an invented form."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright import (
    Chart,
    Chord,
    ChordEvent,
    Chorus,
    Instrument,
    InstrumentString,
    Meter,
    NoteEvent,
    Pitch,
    RhythmPattern,
    Score,
    ScoreBar,
    Voicing,
    lead,
)
from gripwright.meter.attack import Stroke
from gripwright_rhythm import Click, make_drill

GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six")

TWELVE = Instrument(
    id="twelve",
    name="Twelve strings in six courses",
    strings=tuple(
        InstrumentString(Pitch.parse(low), 648.0, doubles=(Pitch.parse(high),))
        for low, high in zip(
            ("E2", "A2", "D3", "G3", "B3", "E4"),
            ("E3", "A3", "D4", "G4", "B3", "E4"),
            strict=True,
        )
    ),
    frets=20,
)

CHART = Chart.parse("| Dm7 | G7 | Cmaj7 A7 | F#m7b5 B7 | Em7 | A13 | Dm9 G7 | C6 |")

ONE = Fraction(1)


def struck(
    onset: Fraction | int,
    end: Fraction | int,
    frets: tuple[int, ...] = (-1, 3, 5, 4, 5, -1),
    *,
    instrument: Instrument = GUITAR,
    dynamic: int = 80,
    stroke: Stroke = "down",
) -> ChordEvent:
    """Return a chord from quarter to quarter; x-3-5-4-5-x where nothing else is said."""
    grip = Voicing(Chord.parse("Cmaj7"), instrument, frets)
    return ChordEvent(Fraction(onset), Fraction(end), grip, 1, ONE, dynamic, stroke=stroke)


def sung(onset: int, end: int, pitch: str, dynamic: int = 80) -> NoteEvent:
    """Return a single note from quarter to quarter."""
    return NoteEvent(Fraction(onset), Fraction(end), Pitch.parse(pitch), 1, ONE, dynamic)


def score_of(
    events: Iterable[ChordEvent] = (),
    *,
    quarters: int = 4,
    tempo_bpm: int = 60,
    **tracks: Any,
) -> Score:
    """Return a score of one bar, at a second a quarter where nothing else is said."""
    length = Fraction(quarters)
    return Score(
        instrument=GUITAR,
        bars=[ScoreBar(1, Fraction(0), Meter(), length, 1)],
        choruses=[Chorus(1, Fraction(0), length, Fraction(tempo_bpm))],
        changes=(),
        events=events,
        **tracks,
    )


def drill(
    pattern: str, click: str = "all", *, dynamic: int = 80, max_notes: int = 5, **settings: Any
) -> Score:
    """Return a drill over the invented form."""
    line = lead(CHART, GUITAR, max_notes=max_notes)
    rhythm = attrs.evolve(RhythmPattern.parse(pattern), dynamic=dynamic)
    return make_drill(line, rhythm, Click.parse(click), **settings)


def onset_seconds(score: Score) -> NDArray[np.float64]:
    """Return the seconds at which a chord or a click starts."""
    onsets = {event.onset for event in score.events} | {click.onset for click in score.clicks}
    return np.array([float(score.seconds_at(onset)) for onset in sorted(onsets)])
