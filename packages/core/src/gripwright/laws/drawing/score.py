"""Scores to draw from: what an exporter may be given."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate
from typing import Any, Final

import attrs
from hypothesis import strategies as st

from gripwright.meter import Meter
from gripwright.neck import Instrument, InstrumentString, Voicing
from gripwright.score import (
    ChordChange,
    ChordEvent,
    Chorus,
    ClickEvent,
    NoteEvent,
    Score,
    ScoreBar,
)
from gripwright.theory import Chord, Pitch

Grips = tuple[tuple[str, tuple[int, ...]], ...]

_METERS: Final = ("4/4", "3/4", "6/8", "3+2/4", "7/8", "2/2", "12/8", "5/16")
_COURSES: Final = ("E2 E3", "A2 A3", "D3 D4", "G3 G4", "B3 B3", "E4 E4")
_GUITAR: Final[Grips] = (
    ("Cmaj7", (-1, 3, 5, 4, 5, -1)),
    ("Dm7", (-1, -1, 0, 2, 1, 1)),
    ("G13", (3, -1, 3, 4, 5, -1)),
    ("Em", (0, 2, 2, 0, 0, 0)),
    ("G", (3, 2, 0, 0, 0, 3)),
)
_BANJO: Final[Grips] = (("G", (0, 0, 0, 0, 0)), ("C", (10, 2, 0, 1, 2)))
_TWELVE: Final[Grips] = (("Em", (0, 2, 2, 0, 0, 0)), ("C/D", (-1, 5, 5, 5, 5, -1)))
_UKULELE: Final[Grips] = (("C", (0, 0, 0, 3)), ("Am", (2, 0, 0, 0)))


def _instruments() -> tuple[tuple[Instrument, Grips], ...]:
    """A guitar, a banjo with its short string, twelve strings in courses, a re-entrant ukulele."""
    pitches = [tuple(map(Pitch.parse, course.split())) for course in _COURSES]
    short = InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5)
    banjo = Instrument.from_text("D3 G3 B3 D4", scale_mm=670.0)
    twelve = [InstrumentString(low, 648.0, doubles=(mate,)) for low, mate in pitches]
    return (
        (Instrument.from_text("E2 A2 D3 G3 B3 E4", id="guitar"), _GUITAR),
        (attrs.evolve(banjo, id="banjo", name="banjo", strings=(short, *banjo.strings)), _BANJO),
        (Instrument("twelve-string", "twelve strings", tuple(twelve), 20), _TWELVE),
        (
            Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0, id="ukulele"),
            _UKULELE,
        ),
    )


_INSTRUMENTS: Final = _instruments()
"""With grips by symbol and frets, several of them with one pitch on two strings or in turn."""


@st.composite
def scores(draw: st.DrawFn) -> Score:
    """Any score: overlapping chords, unisons, times between ticks, tempos that change.

    Args:
        draw: Given by Hypothesis.

    Example:
        >>> from hypothesis.strategies import SearchStrategy
        >>> isinstance(scores(), SearchStrategy)
        True
    """
    bars = draw(_bars())
    start, end = bars[0].onset, bars[-1].end
    instrument, rows = draw(st.sampled_from(_INSTRUMENTS))
    grips = [Voicing(Chord.parse(symbol), instrument, frets) for symbol, frets in rows]
    tempos = st.fractions(20, 400, max_denominator=7)
    swings = st.sampled_from([Fraction(1), Fraction(2), Fraction(3, 2)])
    choruses = [
        Chorus(number, own[0].onset, own[-1].end, draw(tempos), draw(swings))
        for number in (0, 1)
        if (own := [bar for bar in bars if bar.chorus == number])
    ]
    places = _times(start, end)
    spans = st.tuples(places, places).filter(lambda span: span[0] != span[1])
    drawn = [sorted(span) for span in draw(st.lists(spans, max_size=8))]
    dynamics = st.integers(1, 127)
    frame = Score(instrument=instrument, bars=bars, choruses=choruses, changes=[], events=[])

    def placed(time: Fraction) -> dict[str, Any]:
        bar = frame.bar_at(time)
        return {"bar": bar.number, "beat": bar.meter.beat_of(time - bar.onset + bar.lead_in)}

    events = [
        ChordEvent(
            onset,
            until,
            draw(st.sampled_from(grips)),
            dynamic=draw(dynamics),
            accent=draw(st.booleans()),
            stroke=draw(st.sampled_from(["down", "up", "pluck"])),
            push=draw(st.booleans()),
            approach=draw(st.booleans()),
            short=draw(st.booleans()),
            **placed(onset),
        )
        for onset, until in sorted(drawn)
    ]
    pitches = st.integers(28, 60).map(Pitch.from_midi)
    notes = [
        NoteEvent(onset, until, draw(pitches), dynamic=draw(dynamics), **placed(onset))
        for onset, until in sorted(sorted(span) for span in draw(st.lists(spans, max_size=4)))
    ]
    clicks = [
        ClickEvent(time, accent=draw(st.booleans()), **placed(time))
        for time in sorted(draw(st.lists(places, max_size=6)))
    ]
    placed_by_hand = draw(st.booleans())
    changes = []
    for bar in bars:
        if bar.onset >= 0:
            grip = draw(st.sampled_from([None, *grips]))
            chord = None if grip is None else grip.chord
            changes.append(ChordChange(bar.onset, bar.end, chord, grip if placed_by_hand else None))
    return attrs.evolve(
        frame,
        changes=changes,
        events=events,
        clicks=clicks,
        bass=notes,
        root=notes if draw(st.booleans()) else [],
        title=draw(st.one_of(st.none(), st.text(st.characters(exclude_categories=["Cs"])))),
    )


def _times(least: Fraction, most: Fraction) -> st.SearchStrategy[Fraction]:
    """Times from least to below most: on beats, between them, and where no tick is."""
    denominators = st.sampled_from([1, 2, 3, 4, 5, 7, 12, 960, 1921])
    return denominators.flatmap(
        lambda under: st.integers(-(-least.numerator * under // least.denominator), 2**20).map(
            lambda over: Fraction(over % max(int(most * under), 1), under)
        )
    ).map(lambda time: min(max(time, least), most - Fraction(1, 2000)))


@st.composite
def _bars(draw: st.DrawFn) -> list[ScoreBar]:
    """Bars of changing metres, some after a pickup or a count-in."""
    meters = st.sampled_from(_METERS)
    found = [Meter.parse(draw(meters)) for _ in range(draw(st.integers(1, 5)))]
    lengths = [meter.length for meter in found]
    if draw(st.booleans()):
        shorter = [Fraction(length) for length in (1, 2, 3) if length < lengths[0]]
        lengths[0] = draw(st.sampled_from(shorter or lengths[:1]))
    counted = draw(st.integers(0, min(2, len(found) - 1)))
    starts = list(accumulate(lengths, initial=Fraction(0)))
    zero = starts[counted]
    return [
        ScoreBar(
            number=index - counted + 1,
            onset=starts[index] - zero,
            meter=meter,
            length=lengths[index],
            chorus=0 if index < counted else 1,
            section=draw(st.sampled_from([None, None, "A", "Bridge"])),
            lead_in=meter.length - lengths[index],
        )
        for index, meter in enumerate(found)
    ]
