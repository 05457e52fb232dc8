"""The fretting hand: how many fingers, and how far they reach."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.errors import ConditionError

MOST_FINGERS: Final = 5
LONGEST_REACH_MM: Final = 1000.0
REACH_TOLERANCE_MM: Final = 1e-9


@attrs.frozen
class Hand:
    """A fretting hand.

    Args:
        fingers: Fingers that press, 1 to 5; 4 without the thumb.
        reach_mm: The largest distance along the neck between the lowest and the highest fretted
            string, 0 to 1000 mm. 70 is easy, 90 normal, 115 a stretch, 130 hard (our own
            classes, to be set for each hand).

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> Hand(reach_mm=100)
        Hand(fingers=4, reach_mm=100.0)
        >>> Hand().spread_mm  # doctest: +ELLIPSIS
        76.66...
    """

    fingers: int = attrs.field(default=4)
    reach_mm: float = attrs.field(default=115.0, converter=float)

    @fingers.validator
    def _check_fingers(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_FINGERS:
            raise ConditionError(name="fingers", value=value, expected=f"1 to {MOST_FINGERS}")

    @reach_mm.validator
    def _check_reach(self, _attribute: object, value: float) -> None:
        if not 0 <= value <= LONGEST_REACH_MM:
            raise ConditionError(
                name="reach_mm", value=value, expected=f"0 to {LONGEST_REACH_MM:g} mm"
            )

    @property
    def spread_mm(self) -> float:
        """The largest distance in mm between neighbouring presses when all fingers press.

        Two thirds of the reach.
        """
        return self.reach_mm * 2 / 3
