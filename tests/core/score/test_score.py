"""Scores: bars, choruses, the clock, and what does not hold together."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ChordChange, Chorus, ConditionError, Score, ScoreBar
from gripwright.meter import Meter
from gripwright.score.sample import sample_score

SAMPLE = sample_score()
HALF = Fraction(1, 2)


def _made(**fields: Any) -> Score:
    return attrs.evolve(SAMPLE, **fields)


def _tempos(*rows: tuple[int, int, int]) -> list[Chorus]:
    return [
        Chorus(index, Fraction(on), Fraction(end), Fraction(bpm))
        for index, (on, end, bpm) in enumerate(rows)
    ]


def test_a_score_lasts_from_its_first_bar_to_its_last() -> None:
    """The count-in stands before 0."""
    assert SAMPLE.start == -4
    assert SAMPLE.end == 8


@pytest.mark.parametrize(
    ("time", "bar", "chorus"),
    [
        ("-4", 0, 0),
        ("-1/2", 0, 0),
        ("0", 1, 1),
        ("7/2", 1, 1),
        ("4", 2, 1),
        ("8", 2, 1),
        ("-9", 0, 0),
    ],
)
def test_a_time_lies_in_a_bar_and_a_chorus(time: str, bar: int, chorus: int) -> None:
    """From its start to just before its end; the end is the last one's."""
    assert SAMPLE.bar_at(Fraction(time)).number == bar
    assert SAMPLE.chorus_at(Fraction(time)).number == chorus


def test_the_clock_counts_from_the_first_bar() -> None:
    """At 60 beats a minute a quarter is a second."""
    assert [SAMPLE.seconds_at(Fraction(time)) for time in (-4, 0, 8)] == [0, 4, 12]
    assert SAMPLE.seconds == 12


def test_the_clock_follows_the_tempo_of_each_chorus() -> None:
    """Four quarters at 60 and eight at 120."""
    score = _made(choruses=_tempos((-4, 0, 60), (0, 8, 120)))
    assert [score.seconds_at(Fraction(time)) for time in (-4, -2, 0, 1, 8)] == [0, 2, 4, 4.5, 8]


def test_the_clock_counts_pulses() -> None:
    """A bar of 6/8 at 60 dotted quarters a minute lasts two seconds, one of 2/2 as well."""
    bars = [
        ScoreBar(1, Fraction(0), Meter(6, 8), Fraction(3), 1),
        ScoreBar(2, Fraction(3), Meter(2, 2), Fraction(4), 1),
    ]
    score = Score(
        SAMPLE.instrument, bars, [Chorus(1, Fraction(0), Fraction(7), Fraction(60))], (), ()
    )
    assert [score.seconds_at(Fraction(time)) for time in (0, 3, 5, 7)] == [0, 2, 3, 4]


def test_swing_is_counted_from_the_first_beat_of_a_bar() -> None:
    """In a pickup from where that would be, and in pulses of the bar's own metre."""
    bars = [
        ScoreBar(0, Fraction(-3, 2), Meter(), Fraction(3, 2), 1, lead_in=Fraction(5, 2)),
        ScoreBar(1, Fraction(0), Meter(2, 2), Fraction(4), 1),
    ]
    choruses = [Chorus(1, Fraction(-3, 2), Fraction(4), Fraction(60), Fraction(2))]
    score = Score(SAMPLE.instrument, bars, choruses, (), ())
    assert score.sounding(Fraction(-1)) == -1
    assert score.sounding(Fraction(-1, 2)) == Fraction(-1, 3)
    assert score.sounding(Fraction(1)) == Fraction(4, 3)
    assert score.sounding(Fraction(2)) == 2


@given(
    time=st.fractions(-4, 8, max_denominator=48),
    ratios=st.tuples(*[st.fractions(1, 4, max_denominator=8)] * 2),
)
def test_written_undoes_sounding(time: Fraction, ratios: tuple[Fraction, Fraction]) -> None:
    """Exactly, whatever swings in the chorus before."""
    rows = zip(_tempos((-4, 0, 60), (0, 8, 90)), ratios, strict=True)
    score = _made(choruses=[attrs.evolve(chorus, swing=ratio) for chorus, ratio in rows])
    assert score.written(score.sounding(time)) == time
    assert score.sounding(score.written(time)) == time


def test_tuples_are_made_of_whatever_comes() -> None:
    """Lists and generators."""
    assert _made(bars=list(SAMPLE.bars), events=iter(SAMPLE.events)) == SAMPLE
    assert hash(SAMPLE) == hash(sample_score())


@pytest.mark.parametrize(
    "fields",
    [
        {"bars": ()},
        {"choruses": ()},
        {"bars": SAMPLE.bars[::2]},
        {"bars": SAMPLE.bars[::-1]},
        {"bars": [attrs.evolve(bar, number=1) for bar in SAMPLE.bars]},
        {"events": SAMPLE.events[::-1]},
        {"clicks": SAMPLE.clicks[::-1]},
        {"changes": SAMPLE.changes[::-1]},
        {"choruses": SAMPLE.choruses[::-1]},
        {"choruses": _tempos((-4, 0, 60), (0, 9, 60))},
        {"changes": [ChordChange(Fraction(4), Fraction(9), None)]},
        {"events": [attrs.evolve(SAMPLE.events[1], end=Fraction(9))]},
        {"events": [attrs.evolve(SAMPLE.events[0], onset=Fraction(-5))]},
        {"events": [attrs.evolve(SAMPLE.events[0], bar=3)]},
        {"clicks": [attrs.evolve(SAMPLE.clicks[0], onset=Fraction(8))]},
        {"clicks": [attrs.evolve(SAMPLE.clicks[0], bar=-1)]},
    ],
)
def test_what_does_not_hold_together_is_no_score(fields: dict[str, Any]) -> None:
    """Gaps, wrong order, what lies outside, and bars that are not there."""
    with pytest.raises(ConditionError):
        _made(**fields)


@pytest.mark.parametrize(
    ("value", "fields"),
    [
        *((SAMPLE.bars[0], {"length": length}) for length in (Fraction(0), Fraction(-1))),
        (SAMPLE.bars[0], {"lead_in": -HALF}),
        *((SAMPLE.choruses[0], {"tempo_bpm": tempo}) for tempo in (Fraction(0), Fraction(-60))),
        *((SAMPLE.choruses[0], {"swing": swing}) for swing in (Fraction(0), HALF)),
        (SAMPLE.choruses[0], {"end": Fraction(-4)}),
        (SAMPLE.changes[0], {"end": Fraction(0)}),
    ],
)
def test_a_part_out_of_range_is_refused(
    value: ScoreBar | Chorus | ChordChange, fields: dict[str, Any]
) -> None:
    """A bar, a chorus or a chord that no clock could play."""
    with pytest.raises(ConditionError):
        attrs.evolve(value, **fields)


def test_a_pickup_may_have_the_number_of_the_bar_that_it_completes() -> None:
    """A pickup is not counted (common practice); two whole bars are."""
    lengths = [(0, 1, 3), (1, 3, 0), (1, 1, 3), (2, 4, 0)]
    onset = Fraction(0)
    bars = []
    for number, length, lead_in in lengths:
        bars.append(
            ScoreBar(number, onset, Meter(), Fraction(length), 1, lead_in=Fraction(lead_in))
        )
        onset += length
    choruses = [Chorus(1, Fraction(0), onset, Fraction(60))]
    score = Score(SAMPLE.instrument, bars, choruses, (), ())
    assert [bar.number for bar in score.bars] == [0, 1, 1, 2]
    with pytest.raises(ConditionError, match="a number for each bar"):
        Score(SAMPLE.instrument, [*bars[:3], attrs.evolve(bars[3], number=1)], choruses, (), ())


def test_the_grip_of_a_change_is_one_of_its_chord() -> None:
    """Another chord's grip would be drawn under its name."""
    own, other = SAMPLE.events[0].voicing, SAMPLE.events[1].voicing
    assert attrs.evolve(SAMPLE.changes[0], voicing=own).voicing == own
    for change in (SAMPLE.changes[0], attrs.evolve(SAMPLE.changes[0], chord=None)):
        with pytest.raises(ConditionError, match="voicing"):
            attrs.evolve(change, voicing=other)
