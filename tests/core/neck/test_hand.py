"""Hands: fingers and reach."""

import attrs
import pytest

from gripwright import Hand
from gripwright.errors import ConditionError


def test_an_ordinary_hand_has_four_fingers_and_115_mm() -> None:
    """The defaults of the design; the thumb stays behind the neck."""
    assert (Hand().fingers, Hand().reach_mm) == (4, 115.0)


def test_a_hand_is_a_value() -> None:
    """Equal parts make equal hands, which can be hashed and not changed."""
    assert Hand(fingers=3, reach_mm=100.0) == Hand(3, 100.0)
    assert hash(Hand(3, 100.0)) == hash(Hand(3, 100.0))
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        Hand().fingers = 5  # type: ignore[misc]


@pytest.mark.parametrize("fingers", [0, -1, 6])
def test_a_hand_has_one_to_five_fingers(fingers: int) -> None:
    """Any other number is refused by name."""
    with pytest.raises(ConditionError) as caught:
        Hand(fingers=fingers)
    assert caught.value.name == "fingers"
    assert caught.value.value == fingers
    assert "1 to 5" in caught.value.expected


@pytest.mark.parametrize("reach_mm", [-1.0, float("nan"), float("inf"), 10_000.0])
def test_a_reach_is_a_length(reach_mm: float) -> None:
    """A reach that no hand has is refused by name, with the range and its unit."""
    with pytest.raises(ConditionError) as caught:
        Hand(reach_mm=reach_mm)
    assert caught.value.name == "reach_mm"
    assert "mm" in caught.value.expected
