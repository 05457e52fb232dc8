"""The drill agrees with a second, tick-by-tick reading of the definitions, on random tunes."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gripwright import RhythmPattern, Score
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import line_of
from tests.rhythm.drill.scalar_model import Heard, Tune, heard
from tests.rhythm.drill.tunes import chart_of, tunes_and_patterns


def _played(score: Score) -> list[Heard]:
    return [
        Heard(one.onset, one.end, str(one.chord), one.push, one.approach, one.short)
        for one in score.events
    ]


@given(
    drawn=tunes_and_patterns(),
    choruses=st.integers(1, 3),
    count_in=st.integers(0, 2),
    ending=st.sampled_from([None, None, True, False]),
    staccato=st.sampled_from([Fraction(1), Fraction(1, 2)]),
    ring_over=st.booleans(),
)
def test_the_drill_agrees_with_the_model(
    drawn: tuple[Tune, RhythmPattern],
    *,
    choruses: int,
    count_in: int,
    ending: bool | None,
    staccato: Fraction,
    ring_over: bool,
) -> None:
    """Every onset, end, chord and mark is the model's."""
    tune, pattern = drawn
    score = make_drill(
        line_of(chart_of(tune)),
        pattern,
        choruses=choruses,
        count_in=count_in,
        ending=ending,
        staccato=staccato,
        ring_over=ring_over,
    )
    last = str(score.changes[-1].chord) if score.bars[-1].ending else None
    model = heard(
        tune,
        pattern,
        choruses=choruses,
        count_in=count_in,
        ending=last,
        staccato=staccato,
        ring_over=ring_over,
    )
    assert _played(score) == model
