"""Where clicks fall: the count-in, every kind in every metre, odd bars, pickups, swing."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gripwright import Score
from tests.rhythm.drill.lines import drill

THREE = "| C | F | G |"


def _clicks(score: Score) -> list[Fraction]:
    return [click.onset for click in score.clicks if click.onset >= 0]


@pytest.mark.parametrize("click", ["all", "2 4", "1", "4", "2.5 4.5", "every-other", "2-on-2-off"])
def test_a_count_in_is_two_bars_of_all_beats_with_accents_on_one(click: str) -> None:
    """Even when clicks are 2 and 4 (trade: common practice)."""
    score = drill(THREE, "1", click)
    counted = [one for one in score.clicks if one.onset < 0]
    assert [one.onset for one in counted] == list(range(-8, 0))
    assert [one.onset for one in counted if one.accent] == [-8, -4]
    assert [one.beat for one in counted] == [1, 2, 3, 4] * 2
    assert [one.bar for one in counted] == [-1] * 4 + [0] * 4


@pytest.mark.parametrize(
    ("metre", "length", "pulse", "beats"),
    [
        *(("3/4", 3, 1, 3), ("5/4", 5, 1, 5), ("7/4", 7, 1, 7), ("2/2", 4, 2, 2)),
        *(("6/8", 3, Fraction(3, 2), 2), ("12/8", 6, Fraction(3, 2), 4)),
        *(("9/8", Fraction(9, 2), Fraction(3, 2), 3), ("7/8", Fraction(7, 2), Fraction(1, 2), 7)),
    ],
)
def test_all_beats_are_the_pulses_of_the_metre(
    metre: str, length: Fraction, pulse: Fraction, beats: int
) -> None:
    """In the count-in and in the form alike."""
    score = drill(f"metre: {metre}\n| C | F |", "1", count_in=1)
    assert [one.onset for one in score.clicks] == [
        bar * length + beat * pulse for bar in (-1, 0, 1) for beat in range(beats)
    ]
    assert [one.onset for one in score.clicks if one.accent] == [-length, 0, length]


@pytest.mark.parametrize(
    ("click", "onsets"),
    [
        ("all", [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]),
        ("2 4", [1, 3, 5, 7, 9, 11]),
        ("backbeat", [1, 3, 5, 7, 9, 11]),
        ("1", [0, 4, 8]),
        ("4", [3, 7, 11]),
        ("2.5 4.5", [1.5, 3.5, 5.5, 7.5, 9.5, 11.5]),
        ("every-other", [0, 8]),
        ("1-on-1-off", [0, 1, 2, 3, 8, 9, 10, 11]),
        ("2-on-2-off", [0, 1, 2, 3, 4, 5, 6, 7]),
        ("2-on-1-off", [0, 1, 2, 3, 4, 5, 6, 7]),
        ("after-count-in", []),
    ],
)
def test_each_click_of_common_practice(click: str, onsets: list[float]) -> None:
    """Three bars of 4/4."""
    assert _clicks(drill(THREE, "1", click)) == onsets


def test_off_is_off_and_has_no_count_in() -> None:
    """Nothing clicks, and no silent bars stand before the form."""
    score = drill(THREE, "1", "off")
    assert score.clicks == ()
    assert score.start == 0


@pytest.mark.parametrize(
    ("metre", "onsets"),
    [
        *(("3/4", [1, 4]), ("5/4", [1, 4, 6, 9]), ("3+2/4", [1, 4, 6, 9])),
        *(("2+3/4", [1, 3, 6, 8]), ("7/4", [1, 5, 8, 12]), ("3+4/4", [1, 4, 8, 11])),
    ],
)
def test_a_backbeat_is_the_second_beat_of_each_group(metre: str, onsets: list[int]) -> None:
    """Common practice: 2 of 3/4, 2 and 5 of 3+2, 2 and 6 of 4+3."""
    assert _clicks(drill(f"metre: {metre}\n| C | F |", "1", "backbeat")) == onsets


def test_two_and_three_of_three_four() -> None:
    """The other way to click a waltz."""
    assert _clicks(drill("metre: 3/4\n| C | F |", "1", "2 3")) == [1, 2, 4, 5]


def test_bars_are_counted_from_the_start_of_each_chorus() -> None:
    """Every other bar of three: 1 and 3, in each chorus."""
    assert _clicks(drill(THREE, "1", "every-other", choruses=2)) == [0, 8, 12, 20]
    assert _clicks(drill(THREE, "1'", "2-on-2-off", choruses=2)) == [*range(8), *range(12, 20)]


def test_an_odd_bar_has_the_clicks_that_it_has_beats_for() -> None:
    """A bar of 2/4 has a 2 and no 4."""
    chart = "| C | 2/4 F | G |"
    assert _clicks(drill(chart, "1", "2 4")) == [1, 3, 5, 7, 9]
    assert _clicks(drill(chart, "1", "4")) == [3, 9]
    assert _clicks(drill(chart, "1", "all")) == list(range(10))


@pytest.mark.parametrize("click", ["all", "1", "2 4", "after-count-in", "every-other"])
def test_the_beats_of_a_pickup_belong_to_the_count_in(click: str) -> None:
    """Two bars of all beats, the last of which the pickup is played on."""
    score = drill("pickup: 1\n| G7 | C | F |", "1", click)
    counted = [one for one in score.clicks if one.bar <= 0]
    assert [one.onset for one in counted] == list(range(-7, 1))
    assert [one.beat for one in counted] == [1, 2, 3, 4] * 2
    assert [one.onset for one in counted if one.accent] == [-7, -3]


def test_a_pickup_without_a_count_in_has_the_clicks_of_its_bar() -> None:
    """Beat 4 of 2 and 4, nothing of 1; so has one that a later chorus plays."""
    assert _clicks(drill("pickup: 1\n| G7 | C |", "1", "2 4", count_in=0)) == [0, 2, 4]
    assert _clicks(drill("pickup: 1\n| G7 | C |", "1", "1", count_in=0)) == [1]
    again = "pickup: 1\n| G7 | C | 3/4 F |"
    assert _clicks(drill(again, "1", "1", choruses=2)) == [0, 1, 5, 9, 13]


def test_a_pickup_between_beats_is_counted_up_to() -> None:
    """A beat and a half: the count-in stops half a beat before it."""
    score = drill("pickup: 3/2\n| G7 | C |", "1", count_in=1)
    assert [one.onset for one in score.clicks][:4] == [-2.5, -1.5, -0.5, 0.5]


def test_clicks_off_the_beat_swing_too() -> None:
    """The and of two sounds where the player's and of two does."""
    score = drill("| C |", "2.5", "2.5 4.5", swing=2)
    assert _clicks(score) == [Fraction(5, 3), Fraction(11, 3)]
    assert score.events[0].onset == Fraction(5, 3)
    assert [click.beat for click in score.clicks[-2:]] == [Fraction(5, 2), Fraction(9, 2)]
