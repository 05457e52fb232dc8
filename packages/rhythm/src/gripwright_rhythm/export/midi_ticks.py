"""Ticks: the grid on which a MIDI file counts time."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

TICKS_PER_QUARTER: Final = 960
"""Ticks in a quarter: halves down to the 64th part and thirds and fifths of those are exact."""


@attrs.frozen
class TickGrid:
    """Turns exact quarters into ticks from the start of a score, each rounded once.

    A time between two ticks goes to the nearer one, halfway to the later one. Ticks are counted
    from the start of the score and never from one another, so that no error adds up.

    Args:
        start: Where the score starts, in quarters from the start of the form.

    Example:
        >>> grid = TickGrid(Fraction(-4))
        >>> grid.tick(Fraction(0)), grid.tick(Fraction(2, 3)), grid.tick(Fraction(1, 7))
        (3840, 4480, 3977)
    """

    start: Fraction

    def tick(self, time: Fraction) -> int:
        """The tick nearest to a time.

        Args:
            time: Quarters from the start of the form.
        """
        # Whole numbers alone: fractions would reduce each step, and this runs for every event.
        over, under = time.numerator, time.denominator
        first, part = self.start.numerator, self.start.denominator
        whole = under * part
        return (2 * TICKS_PER_QUARTER * (over * part - first * under) + whole) // (2 * whole)
