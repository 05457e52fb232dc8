"""Recipes: stacks of degrees, and the gaps between them."""

import pytest

from gripwright import Degree, Recipe
from gripwright.errors import ConditionError


@pytest.mark.parametrize(
    ("degrees", "offsets"),
    [
        ((), ()),
        (("3",), (0,)),
        # Close, drop 2 and fourths on C: C E G B, C G B E, D G C F (computed by hand).
        (("1", "3", "5", "7"), (0, 4, 7, 11)),
        (("1", "5", "7", "3"), (0, 7, 11, 16)),
        (("9", "5", "1", "11"), (0, 5, 10, 15)),
        # The same tone again lies an octave higher.
        (("1", "1"), (0, 12)),
    ],
)
def test_each_tone_lies_at_the_next_place_above(
    degrees: tuple[str, ...], offsets: tuple[int, ...]
) -> None:
    """Offsets count from the lowest, and the pattern has a bit for each."""
    recipe = Recipe(degrees)
    assert recipe.offsets == offsets
    assert recipe.pattern == sum(2**offset for offset in offsets)


def test_gaps_stand_where_the_next_place_is_not_meant() -> None:
    """A double drop leaves more than an octave between two voices."""
    recipe = Recipe(("1", "3", "5"), gaps=(16, 3))
    assert recipe.offsets == (0, 16, 19)
    assert recipe.mask == 0b10010001
    assert recipe.degrees == (Degree("1"), Degree("3"), Degree("5"))


@pytest.mark.parametrize("gaps", [(4,), (4, 3, 5), (4, 4), (5, 2), (-8, 3), (0, 3), (4, -9)])
def test_gaps_that_lead_nowhere_are_refused(gaps: tuple[int, ...]) -> None:
    """Too few, too many, to another tone, or downwards."""
    with pytest.raises(ConditionError) as caught:
        Recipe(("1", "3", "5"), gaps=gaps)
    assert caught.value.name == "gaps"
    assert caught.value.value == gaps
    assert caught.value.expected == "semitones above 0 that lead to each next degree"


def test_an_unknown_way_to_voice_is_refused() -> None:
    """The error lists the ways there are."""
    with pytest.raises(ConditionError) as caught:
        Recipe(("1", "3", "5"), "sideways")  # type: ignore[arg-type]
    assert caught.value.name == "voices"
    assert caught.value.expected == "as_written or frame or tensions or scale"
