"""Swing ratios: by number, by text and by curve, against the published points."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ConditionError, UnknownNameError
from gripwright.meter import Meter
from gripwright_rhythm.swing import CURVES, swing_ratio

TEMPOS = st.fractions(10, 400, max_denominator=4)


@pytest.mark.parametrize(
    ("tempo", "ratio"),
    [
        # Music Perception 19(3), 2002, and TMH-QPSR 4/1997: drummers fall roughly linearly from
        # about 3.5:1 near 120 beats a minute to even; 2:1 at one tempo alone, by the derived
        # curve at 200; below 120 unmeasured.
        *((120, Fraction(7, 2)), (200, Fraction(2)), (300, Fraction(1))),
        *((100, Fraction(7, 2)), (60, Fraction(7, 2)), (400, Fraction(1)), (150, Fraction(3))),
    ],
)
def test_drummers_by_tempo(tempo: int, ratio: Fraction) -> None:
    """R = 600/bpm - 1, from 1 to 3.5."""
    assert swing_ratio("drummers", Fraction(tempo), Meter()) == ratio


@given(TEMPOS)
def test_the_short_note_of_the_drummers_is_about_a_tenth_of_a_second(tempo: Fraction) -> None:
    """Where the curve falls, the short one lasts 100 ms at any tempo (Music Perception, 2002)."""
    ratio = swing_ratio("drummers", tempo, Meter())
    if 1 < ratio < Fraction(7, 2):
        assert 60 / tempo / (ratio + 1) == Fraction(1, 10)


@given(TEMPOS)
def test_comping_is_the_same_at_most_two(tempo: Fraction) -> None:
    """Our proposal, of no published source."""
    drummers = swing_ratio("drummers", tempo, Meter())
    assert swing_ratio("comping", tempo, Meter()) == min(drummers, 2)


@given(TEMPOS, TEMPOS)
def test_no_curve_rises_with_the_tempo(one: Fraction, other: Fraction) -> None:
    """The faster, the more even."""
    for name in CURVES:
        slow, fast = (swing_ratio(name, tempo, Meter()) for tempo in sorted((one, other)))
        assert 1 <= fast <= slow <= 4


@pytest.mark.parametrize(
    ("swing", "ratio"),
    [
        *((1, 1), (2, 2), (4, 4), (Fraction(3, 2), Fraction(3, 2)), ("1", 1), ("2:1", 2)),
        *(("3/2", Fraction(3, 2)), ("1.5", Fraction(3, 2)), ("3/2:1", Fraction(3, 2))),
    ],
)
def test_a_ratio_is_taken_as_it_is(swing: Fraction | int | str, ratio: Fraction) -> None:
    """As a number or as a text, at any tempo."""
    for tempo in (40, 300):
        assert swing_ratio(swing, Fraction(tempo), Meter()) == ratio


@pytest.mark.parametrize(
    "swing", [0, Fraction(1, 2), Fraction(401, 100), 5, -2, "0", "5:1", "1/2", Fraction(2000, 1001)]
)
def test_a_ratio_out_of_range_is_refused(swing: Fraction | int | str) -> None:
    """From even to four to one."""
    with pytest.raises(ConditionError, match="from 1 to 4"):
        swing_ratio(swing, Fraction(100), Meter())


@pytest.mark.parametrize("swing", [float("nan"), float("inf"), None, [2]])
def test_what_is_no_number_is_refused_like_one_out_of_range(swing: object) -> None:
    """And not by whatever Python makes of it."""
    with pytest.raises(ConditionError, match="swing"):
        swing_ratio(swing, Fraction(100), Meter())  # type: ignore[arg-type]


@pytest.mark.parametrize("swing", ["", "drumers", "swing", "2:2", "1/0", "two"])
def test_an_unknown_name_is_refused_with_the_known_ones(swing: str) -> None:
    """And the nearest of them."""
    with pytest.raises(UnknownNameError, match="drummers, comping") as caught:
        swing_ratio(swing, Fraction(100), Meter())
    assert ("drummers" in caught.value.nearest) == (swing == "drumers")


@pytest.mark.parametrize("metre", ["6/8", "9/8", "12/8"])
def test_a_beat_of_three_parts_does_not_swing(metre: str) -> None:
    """It is even, or refused; a curve that is even at the tempo is even."""
    meter = Meter.parse(metre)
    assert swing_ratio(1, Fraction(100), meter) == 1
    assert swing_ratio("drummers", Fraction(300), meter) == 1
    for swing in (2, "comping"):
        with pytest.raises(ConditionError, match=f"1 in {metre}"):
            swing_ratio(swing, Fraction(100), meter)


@pytest.mark.parametrize("metre", ["3/4", "4/4", "5/4", "2/2", "7/8"])
def test_every_other_metre_swings(metre: str) -> None:
    """Inside its own beat."""
    assert swing_ratio(2, Fraction(100), Meter.parse(metre)) == 2


def test_every_curve_says_what_it_is() -> None:
    """With its source, or that it is a proposal."""
    assert set(CURVES) == {"drummers", "comping"}
    assert all(curve.name == name for name, curve in CURVES.items())
    assert "Music Perception 19(3), 2002" in CURVES["drummers"].summary
    assert "our proposal" in CURVES["comping"].summary
