"""The text of rhythm patterns: what its words mean, and where they cannot be read."""

from fractions import Fraction

import pytest
from hypothesis import example, given

from gripwright import Attack, Meter, NotationError, RhythmPattern
from gripwright.laws.drawing import patterns
from gripwright.meter.pattern_text import LONGEST_TEXT, number_text, read_attacks, write_attacks

HALF = Fraction(1, 2)


@pytest.mark.parametrize(
    ("text", "attack"),
    [
        ("1", Attack(0)),
        ("2.5", Attack(Fraction(3, 2))),
        ("5/2", Attack(Fraction(3, 2))),
        ("4.99999", Attack(Fraction(399_999, 100_000))),
        ("3'", Attack(2, "short")),
        ("3:1.5", Attack(2, Fraction(3, 2))),
        ("3:1/3", Attack(2, Fraction(1, 3))),
        ("4.5>", Attack(Fraction(7, 2), push=True)),
        ("2!", Attack(1, accent=True)),
        ("2~", Attack(1, ring_over=True)),
        ("2^", Attack(1, stroke="up")),
        ("2v", Attack(1, stroke="down")),
        ("2p", Attack(1, stroke="pluck")),
        ("4(double-above)", Attack(3, approach="double-above")),
        ("4'(tritone)", Attack(3, "short", approach="tritone")),
        ("4.5:0.5>!~^", Attack(Fraction(7, 2), HALF, True, None, True, True, "up")),  # noqa: FBT003
        ("4.5^~!>:0.5", Attack(Fraction(7, 2), HALF, True, None, True, True, "up")),  # noqa: FBT003
    ],
)
def test_words(text: str, attack: Attack) -> None:
    """A word is a beat and its marks, in any order."""
    assert read_attacks(text, Meter()) == ((attack,), 1)


def test_beats_and_lengths_are_those_of_the_metre() -> None:
    """In six eighths a beat is a dotted quarter, and so is a length of 1."""
    ((one, other), bars) = read_attacks("2:1/3 8/3'", Meter(6, 8))
    assert bars == 1
    assert (one.onset, one.length) == (Fraction(3, 2), HALF)
    assert other.onset == Fraction(5, 2)


def test_bars_count_beats_anew() -> None:
    """A bar line starts a new bar; a bar may be silent, at either end too."""
    attacks, bars = read_attacks("| 1 | | 3.5 |", Meter(3, 4))
    assert bars == 5
    assert [attack.onset for attack in attacks] == [3, Fraction(23, 2)]
    assert write_attacks(attacks, Meter(3, 4), bars) == "| 1 |  | 3.5 |"


@pytest.mark.parametrize(
    ("text", "position", "expected"),
    [
        ("", 0, "a beat such as"),
        ("  ", 2, "a beat such as"),
        ("|", 1, "a beat such as"),
        ("x", 0, "a beat such as"),
        ("1 two", 2, "a beat such as"),
        ("1 | -2", 4, "a beat such as"),
        ("0", 0, "from 1 to below 5"),
        ("0.5", 0, "from 1 to below 5"),
        ("5", 0, "from 1 to below 5"),
        ("1 | 2 | 5", 8, "from 1 to below 5"),
        ("1/0", 1, "a mark"),
        ("1.", 1, "a mark"),
        ("1,2", 1, "a mark"),
        ("2.123456", 7, "a mark"),
        ("1:", 2, "a number of beats"),
        ("1:x", 2, "a number of beats"),
        ("1:0", 2, "more than 0 beats"),
        ("1:300", 2, "more than 0 beats"),
        ("1 2 1", 4, "each place once"),
        ("1 | 2.5 5/2'", 8, "each place once"),
        ("1''", 2, "length said once"),
        ("1':2", 3, "length said once"),
        ("1>>", 2, "push said once"),
        ("1^v", 2, "stroke said once"),
        ("1(above)(below)", 14, "approach said once"),
        ("1(", 2, "one of above"),
        ("1(above", 2, "one of above"),
        ("1(up)", 2, "one of above"),
        ("1 4(above)>", 2, "none beside a push"),
        ("200001/100001", 0, "no finer than"),
        ("²", 0, "a beat such as"),
        ("٣", 0, "a beat such as"),
    ],
)
def test_no_pattern(text: str, position: int, expected: str) -> None:
    """The error says where, and what could have stood there."""
    with pytest.raises(NotationError) as caught:
        read_attacks(text, Meter())
    assert caught.value.what == "rhythm pattern"
    assert caught.value.position == position
    assert expected in caught.value.expected


def test_beats_of_other_metres() -> None:
    """The last place of a bar is that of its own metre."""
    with pytest.raises(NotationError, match="from 1 to below 3"):
        read_attacks("3", Meter(6, 8))
    with pytest.raises(NotationError, match="from 1 to below 4"):
        read_attacks("4", Meter(3, 4))


def test_texts_too_long() -> None:
    """A text has a longest length and a most bars; both are taken, and no more."""
    assert read_attacks("1" + " " * (LONGEST_TEXT - 1), Meter())
    with pytest.raises(NotationError) as caught:
        read_attacks("1" + " " * LONGEST_TEXT, Meter())
    assert caught.value.position == LONGEST_TEXT
    assert read_attacks("1|" * 63, Meter())[1] == 64
    with pytest.raises(NotationError) as caught:
        read_attacks("1|" * 64, Meter())
    assert (caught.value.position, caught.value.expected) == (127, "at most 64 bars")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(3), "3"),
        (Fraction(5, 2), "2.5"),
        (Fraction(1, 8), "0.125"),
        (Fraction(1, 16), "1/16"),
        (Fraction(7, 3), "7/3"),
    ],
)
def test_numbers(value: Fraction, text: str) -> None:
    """A number has a point where three places hold it."""
    assert number_text(value) == text


@given(patterns())
@example(RhythmPattern("fine", Meter(64, 1), [Attack(255 + Fraction(1, 99_999))]))
@example(RhythmPattern("fine", Meter(12, 8), [Attack(Fraction(1, 99_999), Fraction(1, 99_998))]))
@example(RhythmPattern("late", Meter(64, 1), [Attack(64 * 256 - 1)], bars=64))
def test_text_reads_back_equal(pattern: RhythmPattern) -> None:
    """What is written reads back as the same attacks in the same bars."""
    assert read_attacks(str(pattern), pattern.meter) == (pattern.attacks, pattern.bars)
