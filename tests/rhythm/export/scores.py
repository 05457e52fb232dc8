"""Scores that the tests of exporters share: made by hand, by drills, and at random."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate
from typing import TYPE_CHECKING, Any

import attrs
from hypothesis import strategies as st

from gripwright import (
    Chart,
    Chord,
    ChordChange,
    ChordEvent,
    Chorus,
    ClickEvent,
    Instrument,
    Meter,
    NoteEvent,
    Pitch,
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


def times(least: Fraction, most: Fraction) -> st.SearchStrategy[Fraction]:
    """Return times from least to below most: on beats, between them, and where no tick is."""
    denominators = st.sampled_from([1, 2, 3, 4, 5, 7, 12, 960, 1921])
    return denominators.flatmap(
        lambda under: st.integers(-(-least.numerator * under // least.denominator), 2**20).map(
            lambda over: Fraction(over % max(int(most * under), 1), under)
        )
    ).map(lambda time: min(max(time, least), most - Fraction(1, 2000)))


@st.composite
def bars_of_many_kinds(draw: st.DrawFn) -> list[ScoreBar]:
    """Return bars of changing metres, some after a pickup or a count-in."""
    meters = st.sampled_from(["4/4", "3/4", "6/8", "3+2/4", "7/8", "2/2", "12/8", "5/16"])
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


@st.composite
def scores(draw: st.DrawFn) -> Score:
    """Return any score: overlapping chords, unisons, times between ticks, tempos that change."""
    bars = draw(bars_of_many_kinds())
    start, end = bars[0].onset, bars[-1].end
    name = draw(st.sampled_from(sorted(GRIPS)))
    grips = voicings(name)
    tempos = st.fractions(20, 400, max_denominator=7)
    swings = st.sampled_from([Fraction(1), Fraction(2), Fraction(3, 2)])
    choruses = [
        Chorus(number, own[0].onset, own[-1].end, draw(tempos), draw(swings))
        for number in (0, 1)
        if (own := [bar for bar in bars if bar.chorus == number])
    ]
    places = times(start, end)
    spans = st.tuples(places, places).filter(lambda span: span[0] != span[1])
    drawn = [sorted(span) for span in draw(st.lists(spans, max_size=8))]
    dynamics = st.integers(1, 127)
    frame = Score(
        instrument=grips[0].instrument, bars=bars, choruses=choruses, changes=[], events=[]
    )

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
    changes = [
        ChordChange(bar.onset, bar.end, draw(st.sampled_from([None, *(g.chord for g in grips)])))
        for bar in bars
        if bar.onset >= 0
    ]
    return attrs.evolve(
        frame,
        changes=changes,
        events=events,
        clicks=clicks,
        bass=notes,
        root=notes if draw(st.booleans()) else [],
        title=draw(st.one_of(st.none(), st.text(st.characters(exclude_categories=["Cs"])))),
    )
