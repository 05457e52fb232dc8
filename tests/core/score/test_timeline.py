"""Timelines against the plain search among fractions."""

from __future__ import annotations

from bisect import bisect_right
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gripwright.score.timeline import Timeline

TIMES = st.fractions(-20, 20, max_denominator=60)


@given(st.sets(TIMES, min_size=1), TIMES)
def test_a_time_is_found_as_among_fractions(onsets: set[Fraction], time: Fraction) -> None:
    """Exactly, on onsets and between them; before the first it is the first."""
    known = sorted(onsets)
    for asked in (time, known[0], known[-1]):
        assert Timeline(known).index_at(asked) == max(bisect_right(known, asked) - 1, 0)
