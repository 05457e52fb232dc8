"""Metres: lengths, beats, and what is no metre."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ConditionError, NotationError
from gripwright.meter import Meter
from gripwright.meter.meter import UNITS


# Pulses of compound and simple metres: common practice.
@pytest.mark.parametrize(
    ("text", "length", "pulse", "pulses"),
    [
        ("4/4", 4, 1, 4),
        ("3/4", 3, 1, 3),
        ("5/4", 5, 1, 5),
        ("6/4", 6, 1, 6),
        ("2/2", 4, 2, 2),
        ("3/8", Fraction(3, 2), Fraction(1, 2), 3),
        ("6/8", 3, Fraction(3, 2), 2),
        ("12/8", 6, Fraction(3, 2), 4),
        ("9/16", Fraction(9, 4), Fraction(3, 4), 3),
        ("7/8", Fraction(7, 2), Fraction(1, 2), 7),
        ("2+2+2/8", 3, Fraction(1, 2), 6),
    ],
)
def test_length_and_pulse(
    text: str, length: Fraction | int, pulse: Fraction | int, pulses: int
) -> None:
    """A compound metre has a dotted pulse; every other the unit that it counts."""
    meter = Meter.parse(text)
    assert (meter.length, meter.pulse, meter.pulses) == (length, pulse, pulses)
    assert str(meter) == text


def test_groups_are_kept() -> None:
    """A metre written as a sum says how it is grouped, and is not the plain one."""
    assert Meter.parse("3+2/4").groups == (3, 2)
    assert Meter.parse("3+2/4") != Meter.parse("5/4")
    assert Meter.parse("3+2/4").length == Meter.parse("5/4").length


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("", 0),
        ("4", 1),
        ("4/", 2),
        ("4/3", 2),
        ("0/4", 0),
        ("65/4", 0),
        ("60+60/4", 0),
        ("4/4x", 3),
        ("a/4", 0),
    ],
)
def test_no_metre(text: str, position: int) -> None:
    """The error says where and what could have stood there."""
    with pytest.raises(NotationError) as caught:
        Meter.parse(text)
    assert caught.value.position == position
    assert caught.value.expected


@pytest.mark.parametrize(
    ("count", "unit", "groups", "name"),
    [
        (0, 4, (), "count"),
        (65, 4, (), "count"),
        (True, 4, (), "count"),
        (4, 3, (), "unit"),
        (4, True, (), "unit"),
        (5, 4, (3, 3), "groups"),
        (5, 4, (5,), "groups"),
        (5, 4, (6, -1), "groups"),
    ],
)
def test_values_out_of_range(count: int, unit: int, groups: tuple[int, ...], name: str) -> None:
    """A metre refuses what it cannot be, by the name of the field."""
    with pytest.raises(ConditionError) as caught:
        Meter(count, unit, groups)
    assert caught.value.name == name


@given(st.integers(1, 64), st.sampled_from(UNITS))
def test_a_metre_reads_back(count: int, unit: int) -> None:
    """What is written is read as the same metre."""
    meter = Meter(count, unit)
    assert Meter.parse(str(meter)) == meter
    assert meter.pulse * meter.pulses == meter.length


@given(st.integers(1, 64), st.sampled_from(UNITS), st.fractions(0, 100, max_denominator=64))
def test_beats_and_onsets_undo_each_other(count: int, unit: int, onset: Fraction) -> None:
    """The beat at a place is at that place."""
    meter = Meter(count, unit)
    assert meter.onset_of(meter.beat_of(onset)) == onset
    assert meter.beat_of(Fraction(0)) == 1
