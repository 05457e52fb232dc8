"""Sets of metres: what belongs to them and what they list."""

import pytest

from gripwright.meter import ANY_METER, USUAL_METERS, Meter, MeterSet


@pytest.mark.parametrize(
    ("one", "other", "matching"),
    [
        ("4/4", "4/4", True),
        ("5/4", "3+2/4", True),
        ("3+2/4", "3+2/4", True),
        ("3+2/4", "2+3/4", False),
        ("4/4", "2/2", False),
        ("3/4", "6/8", False),
        # Groups make the eighth the beat: a rhythm in dotted beats is another thing.
        ("6/8", "3+3/8", False),
    ],
)
def test_metres_that_match(one: str, other: str, matching: bool) -> None:  # noqa: FBT001
    """A rhythm goes from one metre to another where bars and beats are the same."""
    assert Meter.parse(one).matches(Meter.parse(other)) is matching
    assert Meter.parse(other).matches(Meter.parse(one)) is matching


def test_any_metre() -> None:
    """Every metre belongs to it, and the usual ones are listed."""
    assert tuple(ANY_METER) == USUAL_METERS
    assert len(ANY_METER) == len(set(USUAL_METERS)) == 9
    assert Meter(63, 32) in ANY_METER
    text: object = "4/4"
    assert text not in ANY_METER
    assert str(ANY_METER) == "any metre"


def test_metres_by_a_rule() -> None:
    """The usual metres that fit the rule are listed; others that fit belong to it too."""
    threes = MeterSet.where("any metre of 3 beats", lambda meter: meter.pulses == 3)
    assert [str(meter) for meter in threes] == ["3/4", "9/8"]
    assert Meter(3, 2) in threes
    assert Meter(4, 4) not in threes


def test_certain_metres() -> None:
    """Each is listed once; one without groups belongs to them where one with groups does."""
    five = MeterSet.of([Meter(5, 4, (3, 2)), Meter(5, 4, (2, 3)), Meter(5, 4, (3, 2))])
    assert str(five) == "3+2/4, 2+3/4"
    assert len(five) == 2
    assert Meter(5, 4) in five
    assert Meter(5, 4, (4, 1)) not in five
    assert Meter(5, 8) not in five
