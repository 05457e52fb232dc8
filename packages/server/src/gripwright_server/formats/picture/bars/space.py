"""The room of a bar: where its beats and its lanes stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import attrs

if TYPE_CHECKING:
    from fractions import Fraction


@attrs.frozen
class Space:
    """Where the contents of a bar have their room.

    Args:
        left: Where its first beat stands.
        right: Where its last ends.
        symbol_y: The middle of its chord symbols.
        gripped_y: The middle of what is gripped.
        rhythm_y: The middle of its rhythm.
    """

    left: float
    right: float
    symbol_y: float
    gripped_y: float
    rhythm_y: float

    def x(self, onset: Fraction, length: Fraction) -> float:
        """Where a place of the bar stands.

        Args:
            onset: Quarters from the start of the bar.
            length: Quarters in the bar.
        """
        return self.left + float(onset / length) * (self.right - self.left)
