"""Rhythm families: written out and made, and what they refuse."""

from collections.abc import Iterator

import attrs
import pytest

from gripwright import ConditionError, Meter, RhythmPattern
from gripwright.meter import ANY_METER, MadeFamily, RhythmFamily, WrittenFamily

FIVE = Meter(5, 4)


def pattern(text: str, meter: Meter, name: str = "one") -> RhythmPattern:
    """A pattern by the name of one."""
    return RhythmPattern.parse(text, meter, name=name)


def made(meter: Meter, seed: int) -> Iterator[RhythmPattern]:
    """One chord, on the beat that the seed says."""
    yield pattern(f"{seed % meter.pulses + 1}", meter)


def test_both_kinds_are_families() -> None:
    """They have the form of the protocol."""
    assert isinstance(WrittenFamily("own", "Ours.", [pattern("1", FIVE)]), RhythmFamily)
    assert isinstance(MadeFamily("own", "Ours.", ANY_METER, made), RhythmFamily)


def test_written_patterns_by_metre() -> None:
    """A metre gets its own patterns in order; groups count where both have them."""
    first, other = pattern("1 4", Meter(5, 4, (3, 2))), pattern("1 3", Meter(5, 4, (2, 3)), "two")
    plain, four = pattern("1", FIVE, "three"), pattern("1", Meter())
    family = WrittenFamily("own", "Ours.", [first, other, plain, four])
    assert family.patterns(FIVE) == (first, other, plain)
    assert family.patterns(Meter(5, 4, (3, 2)), seed=7) == (first, plain)
    assert family.patterns(Meter()) == (four,)
    assert [str(meter) for meter in family.meters] == ["3+2/4", "2+3/4", "5/4", "4/4"]


def test_made_patterns() -> None:
    """The rule gets the metre and the seed; equal ones give equal patterns."""
    family = MadeFamily("own", "Ours.", ANY_METER, made)
    assert family.patterns(FIVE, seed=3) == family.patterns(FIVE, seed=3) == (pattern("4", FIVE),)
    assert family.patterns(FIVE) == (pattern("1", FIVE),)


@pytest.mark.parametrize(
    ("family", "expected"),
    [
        (WrittenFamily("own", "Ours.", [pattern("1", Meter(3, 4))]), "3/4"),
        (MadeFamily("own", "Ours.", (Meter(3, 4), Meter(6, 8)), made), "3/4, 6/8"),
    ],
)
def test_unknown_metres_are_refused_by_name(family: RhythmFamily, expected: str) -> None:
    """The error names the family, the metre, and the metres that it knows."""
    with pytest.raises(ConditionError) as caught:
        family.patterns(FIVE, seed=0)
    error = caught.value
    assert error.name == "metre of rhythm family 'own'"
    assert (error.value, error.expected) == ("5/4", expected)


def test_names_differ_within_a_metre() -> None:
    """Two patterns of one name are refused where one metre would get both."""
    grouped = pattern("1", Meter(5, 4, (3, 2)))
    with pytest.raises(ConditionError, match="one pattern of that name in 5/4"):
        WrittenFamily("own", "Ours.", [grouped, pattern("2", FIVE)])
    other_groups = attrs.evolve(grouped, meter=Meter(5, 4, (2, 3)))
    assert WrittenFamily("own", "Ours.", [grouped, other_groups, pattern("1", Meter())])


def test_a_family_has_patterns() -> None:
    """None at all is refused."""
    with pytest.raises(ConditionError, match="one pattern or more"):
        WrittenFamily("own", "Ours.", [])
