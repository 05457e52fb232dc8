"""Rhythm patterns: cells, lengths, choruses, and what is refused."""

from fractions import Fraction
from typing import Any

import attrs
import pytest

from gripwright import Attack, ConditionError, Meter, NotationError, RhythmPattern

HALF = Fraction(1, 2)


def cells_of(pattern: RhythmPattern) -> list[tuple[Fraction, Fraction, bool]]:
    """Onset, length and whether it sounds, of each cell."""
    return [(cell.onset, cell.length, cell.attack is not None) for cell in pattern.cells]


@pytest.mark.parametrize(
    ("text", "meter", "cells"),
    [
        ("1", "4/4", [(0, 4, True)]),
        ("1'", "4/4", [(0, 1, True), (1, 3, False)]),
        ("1.5'", "4/4", [(0, HALF, False), (HALF, HALF, True), (1, 3, False)]),
        ("1:0.5", "4/4", [(0, HALF, True), (HALF, 3 + HALF, False)]),
        # A long one goes on over the end of the pattern, to its own next attack.
        ("3", "4/4", [(0, 2, True), (2, 2, True)]),
        ("2:3", "3/4", [(0, 1, True), (1, 2, True)]),
        # A short one ends on the next attack, should that come before the pulse.
        ("1' 1.5", "2/4", [(0, HALF, True), (HALF, 1 + HALF, True)]),
        # The pulse of six eighths is the dotted quarter.
        ("1'", "6/8", [(0, 1 + HALF, True), (1 + HALF, 1 + HALF, False)]),
        ("4/3'", "6/8", [(0, HALF, False), (HALF, 1, True), (1 + HALF, 1 + HALF, False)]),
        # Pulses are counted in each bar.
        ("| 3'", "3/4", [(0, 5, False), (5, 1, True)]),
        # An exact length that rings over still leaves the next attack its own cell.
        ("1:3~ 2", "4/4", [(0, 1, True), (1, 3, True)]),
    ],
)
def test_cells(text: str, meter: str, cells: list[tuple[Fraction, Fraction, bool]]) -> None:
    """Cells follow one another, sounding or silent (common practice of long and short)."""
    assert cells_of(RhythmPattern.parse(text, Meter.parse(meter))) == cells


def test_a_silent_pattern_is_one_silent_cell() -> None:
    """A pattern without attacks fills its bars too."""
    (cell,) = RhythmPattern("silent", Meter(), [], bars=2).cells
    assert (cell.onset, cell.length) == (Fraction(0), Fraction(8))
    assert cell.attack is None


def test_attacks_stand_in_order() -> None:
    """However they are given, attacks are sorted by place."""
    assert str(RhythmPattern("own", Meter(), [Attack(3), Attack(0, "short")])) == "1' 4"


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"name": "Own"}, "name"),
        ({"name": ""}, "name"),
        ({"name": "4-to-the-bar"}, "name"),
        ({"name": "naïve"}, "name"),
        ({"bars": 0}, "bars"),
        ({"bars": 65}, "bars"),
        ({"bars": True}, "bars"),
        ({"dynamic": 0}, "dynamic"),
        ({"dynamic": 128}, "dynamic"),
        ({"attacks": [Attack(4)]}, "onset in pattern 'own'"),
        ({"bass": [Attack(4)]}, "onset in pattern 'own'"),
        ({"attacks": [Attack(1), Attack(1, "short")]}, "onset in pattern 'own'"),
        ({"attacks": [Attack(0, 2), Attack(1)]}, "length in pattern 'own'"),
        ({"attacks": [Attack(1), Attack(3, 3)]}, "length in pattern 'own'"),
        ({"attacks": [Attack(1, Fraction(401, 100))]}, "length in pattern 'own'"),
        ({"later": [RhythmPattern.parse("1", Meter(3, 4))]}, "later"),
        ({"later": [RhythmPattern("a", Meter(), [], later=[RhythmPattern.parse("1")])]}, "later"),
    ],
)
def test_patterns_that_do_not_stand(settings: dict[str, Any], name: str) -> None:
    """The error names what is wrong, and in which pattern."""
    with pytest.raises(ConditionError) as caught:
        RhythmPattern(**{"name": "own", "meter": Meter(), "attacks": [], **settings})
    assert caught.value.name == name


def test_lengths_up_to_the_next_attack_are_taken() -> None:
    """An exact length may end on the next attack, over the end of the pattern too, or ring over."""
    assert RhythmPattern("own", Meter(), [Attack(0, 1), Attack(1, 3)])
    assert RhythmPattern("own", Meter(), [Attack(1, 4)])
    assert RhythmPattern("own", Meter(), [Attack(0, 3, ring_over=True), Attack(1)])


def test_parsing_takes_all_settings() -> None:
    """A bass of one bar is the same in every bar."""
    pattern = RhythmPattern.parse(
        "1 | 2", Meter(3, 4), name="own", summary="Ours.", dynamic=99, bass="1 3"
    )
    assert (pattern.name, pattern.summary, pattern.dynamic, pattern.bars) == ("own", "Ours.", 99, 2)
    assert [attack.onset for attack in pattern.bass] == [0, 2, 3, 5]
    whole = RhythmPattern.parse("1 | 2", Meter(3, 4), bass="1 | 2")
    assert [attack.onset for attack in whole.bass] == [0, 4]


def test_a_bass_of_other_bars_is_refused() -> None:
    """Two bars of bass do not go with three bars of chords."""
    with pytest.raises(ConditionError, match="one bar, or 3 bars"):
        RhythmPattern.parse("1 | 2 | 3", bass="1 | 2")
    with pytest.raises(NotationError):
        RhythmPattern.parse("1", bass="5")


def test_choruses() -> None:
    """Each later chorus has its own pattern, the last of them to the end."""
    second, third = RhythmPattern.parse("1 3", name="b"), RhythmPattern.parse("1 2 3", name="c")
    first = attrs.evolve(RhythmPattern.parse("1", name="a"), later=[second, third])
    assert [first.in_chorus(number).name for number in (0, 1, 2, 3, 4, 99)] == list("aabccc")
    assert third.in_chorus(5) is third


def test_lengths_of_all_attacks_and_all_choruses() -> None:
    """A pattern with one length throughout has it in its later choruses too."""
    growing = attrs.evolve(RhythmPattern.parse("1"), later=[RhythmPattern.parse("1' 3:0.5")])
    short = growing.with_length("short")
    assert (str(short), str(short.later[0])) == ("1'", "1' 3'")
    assert str(growing.with_length(HALF).later[0]) == "1:0.5 3:0.5"
    with pytest.raises(ConditionError):
        growing.with_length(3)
    with pytest.raises(ConditionError):
        growing.with_length(0)


def test_later_choruses_come_round_at_their_own_ends() -> None:
    """A displaced pattern of one bar may have a later one of two bars, displaced by as much."""
    growing = attrs.evolve(RhythmPattern.parse("1 4"), later=[RhythmPattern.parse("1 4 | 2 4")])
    moved = growing.displaced(1)
    assert (str(moved), str(moved.later[0])) == ("1 2", "1 2 | 1 3")


def test_displacing_leaves_the_bass() -> None:
    """The pattern moves against its bass."""
    moved = RhythmPattern.parse("1", bass="1").displaced(2)
    assert (str(moved), moved.bass) == ("3", (Attack(0),))


def test_patterns_one_after_the_other() -> None:
    """Bars, bass and later choruses follow one another, chorus by chorus."""
    first = attrs.evolve(RhythmPattern.parse("1", bass="1"), later=[RhythmPattern.parse("1 3")])
    other = RhythmPattern.parse("2 | 3", name="other", bass="3")
    whole = first.then(other, other)
    assert (str(whole), whole.name, whole.bars) == ("1 | 2 | 3 | 2 | 3", "own", 5)
    assert [attack.onset for attack in whole.bass] == [0, 6, 10, 14, 18]
    assert [str(later) for later in whole.later] == ["1 3 | 2 | 3 | 2 | 3"]
    assert first.then() == first


def test_patterns_that_cannot_follow() -> None:
    """One of another metre is refused, and more bars than a pattern holds."""
    with pytest.raises(ConditionError, match="a pattern in 4/4"):
        RhythmPattern.parse("1").then(RhythmPattern.parse("1", Meter(3, 4), name="waltz"))
    many = RhythmPattern("many", Meter(), [], bars=40)
    with pytest.raises(ConditionError, match="1 to 64 bars"):
        many.then(many)
