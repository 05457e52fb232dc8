"""Timelines: which of several stretches of time, one after the other, a time lies in."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from fractions import Fraction
from math import lcm


class Timeline:
    """The onsets of stretches, in order.

    They are kept as whole numbers on one grid: comparing fractions takes many times as long.

    Args:
        onsets: Where each starts, one or more of them.

    Example:
        >>> Timeline([Fraction(0), Fraction(7, 2)]).index_at(Fraction(10, 3))
        0
    """

    def __init__(self, onsets: Iterable[Fraction]) -> None:
        known = tuple(onsets)
        self._parts = lcm(*(onset.denominator for onset in known))
        self._places = tuple(
            onset.numerator * (self._parts // onset.denominator) for onset in known
        )

    def index_at(self, time: Fraction) -> int:
        """The index of the stretch that a time lies in; 0 also before the first.

        Args:
            time: The time.
        """
        # An onset is whole on the grid, so that it lies at or before a time if it does so before
        # the time's own floor.
        place = time.numerator * self._parts // time.denominator
        return max(bisect_right(self._places, place) - 1, 0)
