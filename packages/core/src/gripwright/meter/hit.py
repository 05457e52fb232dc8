"""Hits: attacks at exact places of a bar."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

from gripwright.errors import ConditionError

LONGEST: Final = 256
"""Quarters that an onset or a duration holds at most: the length of the longest bar."""

FINEST: Final = 100_000
"""The largest denominator of an onset or a duration in quarters."""


def exact(value: Fraction | int, longest: int = LONGEST) -> Fraction:
    """Take a number of quarters as an exact fraction.

    Args:
        value: Quarters, 0 to `longest`, in parts no finer than 1/100,000.
        longest: The most quarters that are taken.

    Raises:
        ConditionError: The number is out of range, or a float, which is exact only by accident.

    Example:
        >>> exact(3)
        Fraction(3, 1)
    """
    if isinstance(value, int | Fraction) and not isinstance(value, bool):
        parts = value.denominator
        # Whole numbers compare faster than fractions.
        if 0 <= value.numerator <= longest * parts and parts <= FINEST:
            return value if type(value) is Fraction else Fraction(value)
    raise ConditionError(
        name="quarters",
        value=value,
        expected=f"an integer or a Fraction, 0 to {longest:,} and no finer than 1/{FINEST:,}",
    )


def _exact_or_none(value: Fraction | int | None) -> Fraction | None:
    return None if value is None else exact(value)


@attrs.frozen
class Hit:
    """One attack in a bar.

    Args:
        onset: Quarters from the start of the bar, 0 to 256.
        duration: Quarters until it ends, above 0 and up to 256; None for a long one, which lasts
            until the next attack or change of chord, whichever is first.
        push: Whether it belongs to the next chord, which it anticipates.

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> Hit(Fraction(7, 2), push=True)
        Hit(onset=Fraction(7, 2), duration=None, push=True)
    """

    onset: Fraction = attrs.field(converter=exact)
    duration: Fraction | None = attrs.field(default=None, converter=_exact_or_none)
    push: bool = attrs.field(default=False)

    @duration.validator
    def _check_duration(self, _attribute: object, value: Fraction | None) -> None:
        if value == 0:
            raise ConditionError(name="duration", value=value, expected="above 0 quarters")
