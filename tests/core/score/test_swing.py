"""The warp of swing: pulses stay, halves are stretched, and it is undone exactly."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright.score.swing import swung, unswung

TIMES = st.fractions(-20, 20, max_denominator=48)
RATIOS = st.fractions(1, 4, max_denominator=12)
PULSES = st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2)])


@pytest.mark.parametrize(
    ("time", "ratio", "expected"),
    [
        # 2:1 is a triplet's quarter and eighth, 3:1 a dotted eighth and a sixteenth.
        *(("1/2", 2, "2/3"), ("1/2", 3, "3/4"), ("1/2", 1, "1/2"), ("5/2", 2, "8/3")),
        # Inside a half the stretch is even.
        *(("1/4", 2, "1/3"), ("3/4", 2, "5/6"), ("1/4", 3, "3/8"), ("3/4", 3, "7/8")),
        # Before the form as in it.
        *(("-1/2", 2, "-1/3"), ("-1", 2, "-1"), ("-3/4", 3, "-5/8")),
    ],
)
def test_a_time_moves_as_the_ratio_says(time: str, ratio: int, expected: str) -> None:
    """By arithmetic, in pulses of a quarter."""
    assert swung(Fraction(time), Fraction(ratio), Fraction(1)) == Fraction(expected)


@given(TIMES, RATIOS, PULSES)
def test_swing_is_undone_exactly(time: Fraction, ratio: Fraction, pulse: Fraction) -> None:
    """Both ways round."""
    assert unswung(swung(time, ratio, pulse), ratio, pulse) == time
    assert swung(unswung(time, ratio, pulse), ratio, pulse) == time


@given(st.integers(-20, 20), RATIOS, PULSES)
def test_pulses_stay_and_halves_have_the_ratio(
    number: int, ratio: Fraction, pulse: Fraction
) -> None:
    """The first half of each is so many times as long as the second."""
    here = pulse * number
    middle = swung(here + pulse / 2, ratio, pulse)
    assert swung(here, ratio, pulse) == here
    assert middle - here == ratio * (here + pulse - middle)


@given(TIMES, TIMES, RATIOS, PULSES)
def test_swing_keeps_the_order(
    one: Fraction, other: Fraction, ratio: Fraction, pulse: Fraction
) -> None:
    """What comes first sounds first, and no earlier than written."""
    assert (one < other) == (swung(one, ratio, pulse) < swung(other, ratio, pulse))
    assert swung(one, ratio, pulse) >= one


@given(TIMES, PULSES)
def test_one_to_one_is_straight(time: Fraction, pulse: Fraction) -> None:
    """Nothing moves."""
    assert swung(time, Fraction(1), pulse) == time == unswung(time, Fraction(1), pulse)
