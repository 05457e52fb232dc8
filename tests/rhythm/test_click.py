"""Clicks: their texts, their beats in every metre, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ConditionError, NotationError
from gripwright.meter import Meter
from gripwright_rhythm.click import Click

TEXTS = (
    *("all", "off", "after-count-in", "every-other", "backbeat", "1", "4", "2 4", "2 3"),
    *("2.5 4.5", "1.25", "4/3 7/3", "2-on-2-off", "4-on-4-off", "64-on-1-off"),
)


@pytest.mark.parametrize("text", TEXTS)
def test_a_click_prints_back_to_its_text(text: str) -> None:
    """And reads back equal from it."""
    click = Click.parse(text)
    assert str(click) == text
    assert Click.parse(str(click)) == click


@given(st.sets(st.fractions(1, 20, max_denominator=4), min_size=1, max_size=6))
def test_beats_print_back_whatever_they_are(beats: set[Fraction]) -> None:
    """With a point where it is short, else as a fraction."""
    click = Click("beats", tuple(sorted(beats)))
    assert Click.parse(str(click)) == click


@pytest.mark.parametrize(
    ("text", "position"),
    [
        *(("", 0), ("   ", 3), ("some", 0), ("ALL", 0), ("all ", 0), ("2 x", 2), ("2 0.5", 2)),
        *(("0", 0), ("4 2", 2), ("2 2", 2), ("2 4/2", 2), ("1/0", 0), ("-1", 0), ("2,4", 0)),
        *(("2-on", 0), ("0-on-2-off", 0), ("65-on-1-off", 0), ("2-on-0-off", 0), ("1.2345", 0)),
        ("٢ ٤", 0),
    ],
)
def test_another_text_is_refused_at_its_place(text: str, position: int) -> None:
    """The error says where, and what a click is."""
    with pytest.raises(NotationError) as caught:
        Click.parse(text)
    assert (caught.value.what, caught.value.text) == ("click", text)
    assert caught.value.position == position
    assert caught.value.expected


@pytest.mark.parametrize(
    ("metre", "beats"),
    [
        # Common practice: 2 and 4; in a waltz 2; the second beat of each group of 5 and 7.
        *(("4/4", [2, 4]), ("3/4", [2]), ("5/4", [2, 5]), ("7/4", [2, 6])),
        *(("3+2/4", [2, 5]), ("2+3/4", [2, 4]), ("4+3/4", [2, 6]), ("3+4/4", [2, 5])),
        ("2+2+3/8", [2, 4, 6]),
    ],
)
def test_the_backbeat_of_a_metre(metre: str, beats: list[int]) -> None:
    """By its written groups, else by the usual ones."""
    assert list(Click.parse("backbeat").beats_in(Meter.parse(metre), 0)) == beats


@pytest.mark.parametrize("metre", ["6/8", "12/8", "2/4", "2/2", "6/4", "7/8", "1/4", "1+3/4"])
def test_other_metres_refuse_a_backbeat_by_name(metre: str) -> None:
    """As no practice says where it would be."""
    with pytest.raises(ConditionError, match="'backbeat'") as caught:
        Click.parse("backbeat").beats_in(Meter.parse(metre), 0)
    assert f"another click in {metre}:" in str(caught.value)


@pytest.mark.parametrize("metre", ["4/4", "3/4", "5/4", "7/4", "6/8", "12/8", "2/2", "7/8"])
def test_the_other_kinds_are_for_every_metre(metre: str) -> None:
    """All its beats, its first one, or none."""
    meter = Meter.parse(metre)
    every = list(range(1, meter.pulses + 1))
    for bar in range(5):
        assert list(Click.parse("all").beats_in(meter, bar)) == every
        assert list(Click.parse("1").beats_in(meter, bar)) == [1]
        assert list(Click.parse("every-other").beats_in(meter, bar)) == ([] if bar % 2 else [1])
        assert list(Click.parse("2-on-1-off").beats_in(meter, bar)) == (
            every if bar % 3 < 2 else []
        )
        assert Click.parse("off").beats_in(meter, bar) == ()
        assert Click.parse("after-count-in").beats_in(meter, bar) == ()


@pytest.mark.parametrize(
    ("metre", "text"),
    [("3/4", "2 4"), ("4/4", "5"), ("6/8", "3"), ("2/2", "2 4"), ("3/4", "4.5")],
)
def test_beats_that_the_metre_lacks_are_refused(metre: str, text: str) -> None:
    """By the metre's name, with the beats that it has."""
    with pytest.raises(ConditionError, match=f"beats of {metre}, from 1 to below"):
        Click.parse(text).beats_in(Meter.parse(metre), 0)


def test_the_last_half_beat_of_a_metre_is_in_it() -> None:
    """4.5 of 4/4, 2.5 of 6/8."""
    assert Click.parse("4.5").beats_in(Meter(4, 4), 0) == (Fraction(9, 2),)
    assert Click.parse("2.5").beats_in(Meter(6, 8), 0) == (Fraction(5, 2),)


@pytest.mark.parametrize(
    "fields",
    [
        {"kind": "loud"},
        {"kind": "beats"},
        {"kind": "beats", "beats": (Fraction(2), Fraction(1))},
        {"kind": "beats", "beats": (Fraction(2), Fraction(2))},
        {"kind": "beats", "beats": (Fraction(1, 2),)},
        {"kind": "all", "beats": (Fraction(2),)},
        {"kind": "on-off"},
        {"kind": "on-off", "on": 2},
        {"kind": "on-off", "on": 65, "off": 1},
        {"kind": "on-off", "on": True, "off": True},
        {"kind": "all", "on": 2},
    ],
)
def test_what_does_not_go_together_is_refused(fields: dict[str, object]) -> None:
    """As values, too."""
    with pytest.raises(ConditionError):
        Click(**fields)  # type: ignore[arg-type]


def test_only_off_has_no_count_in() -> None:
    """Silence after the count-in needs one."""
    assert [text for text in TEXTS if not Click.parse(text).counts_in] == ["off"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        *(("all", "on all beats"), ("off", "none"), ("1", "on 1"), ("2 4", "on 2 and 4")),
        *(("1 2 4", "on 1, 2 and 4"), ("backbeat", "on the backbeat")),
        ("2.5 4.5", "on 2.5 and 4.5"),
        ("every-other", "on 1 of every other bar"),
        ("1-on-1-off", "on all beats for 1 bar, then silent for 1"),
        ("after-count-in", "silent after the count-in"),
    ],
)
def test_a_click_says_itself_in_words(text: str, words: str) -> None:
    """For the head of a sheet."""
    assert Click.parse(text).words() == words
