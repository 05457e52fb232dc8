"""Hits: exact places, and what is refused."""

from fractions import Fraction
from typing import Any, cast

import pytest

from gripwright import ConditionError
from gripwright.meter import Hit
from gripwright.meter.hit import FINEST, LONGEST


def test_whole_numbers_become_fractions() -> None:
    """Onset and duration are exact, however they are given."""
    hit = Hit(2, 1)
    assert isinstance(hit.onset, Fraction)
    assert isinstance(hit.duration, Fraction)
    assert hit == Hit(Fraction(2), Fraction(1))


@pytest.mark.parametrize(
    "onset", [-1, LONGEST + 1, Fraction(1, FINEST + 1), 0.5, True, "1", float("nan")]
)
def test_onsets_out_of_range(onset: object) -> None:
    """Floats are refused: they are exact by accident only."""
    with pytest.raises(ConditionError, match="quarters cannot be"):
        Hit(cast("Any", onset))


@pytest.mark.parametrize("duration", [0, -1, 0.25])
def test_durations_out_of_range(duration: object) -> None:
    """A hit lasts."""
    with pytest.raises(ConditionError):
        Hit(0, cast("Any", duration))


def test_the_largest_and_finest_are_taken() -> None:
    """The bounds belong to the range."""
    assert Hit(LONGEST, Fraction(1, FINEST)).onset == LONGEST
