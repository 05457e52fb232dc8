"""Joining two halves of a neck into whole shapes.

Rows of a half that join alike form classes. Which classes go together is settled once for each
pair of classes; only pairs of rows that pass are made.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.halves import Half, classes_of
from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.pairs import Neck, Pairs, Rows

_PAIRS_AT_ONCE: Final = 250_000
_CELLS_AT_ONCE: Final = 4_000_000


def joined(neck: Neck, hand: Hand, fits: NDArray[np.bool_]) -> Iterator[Pairs]:
    """Shapes within the reach whose tones fit.

    Args:
        neck: The two halves.
        hand: The hand.
        fits: Whether so many strings sounding such a mask may do, by (mask, strings).

    Yields:
        Pairs in order of the left and then the right, about 250,000 at once, so that memory
        stays bounded.
    """
    left_classes, right_classes = _Classes.of(neck.left), _Classes.of(neck.right)
    step = max(1, _CELLS_AT_ONCE // max(1, len(neck.right)))
    for start in range(0, len(neck.left), step):
        rows = np.arange(start, min(start + step, len(neck.left)))
        classes, of_row = np.unique(left_classes.of_row[rows], return_inverse=True)
        together = left_classes.take(classes).fit(right_classes, hand, fits)
        class_of_pair, partners = np.nonzero(together[:, right_classes.of_row])
        counts = np.bincount(class_of_pair, minlength=len(classes))
        begins = np.cumsum(counts) - counts
        for some in _portions(counts[of_row]):
            of = of_row[some]
            lefts, places = _expanded(rows[some], counts[of], begins[of])
            yield Pairs(neck, lefts, partners[places].astype(np.int32))


@attrs.frozen(eq=False)
class _Classes:
    """Rows of a half that join alike: the same places, tones and number of notes."""

    of_row: NDArray[np.intp]
    nearest: NDArray[np.float64]
    farthest: NDArray[np.float64]
    mask: NDArray[np.int16]
    notes: NDArray[np.int8]

    @classmethod
    def of(cls, half: Half) -> _Classes:
        first, of_row = classes_of(half)
        return cls(
            of_row, half.nearest[first], half.farthest[first], half.mask[first], half.notes[first]
        )

    def take(self, classes: NDArray[np.intp]) -> _Classes:
        return _Classes(
            self.of_row,
            self.nearest[classes],
            self.farthest[classes],
            self.mask[classes],
            self.notes[classes],
        )

    def fit(self, other: _Classes, hand: Hand, fits: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Whether a class of one half goes with a class of the other, by (class, class)."""
        reach = np.maximum.outer(self.farthest, other.farthest)
        reach -= np.minimum.outer(self.nearest, other.nearest)
        cells = np.bitwise_or.outer(self.mask, other.mask).astype(np.int32)
        cells *= fits.shape[1]
        cells += np.add.outer(self.notes, other.notes)
        together: NDArray[np.bool_] = fits.ravel()[cells]
        together &= reach <= hand.reach_mm + REACH_TOLERANCE_MM
        return together


def _portions(counts: NDArray[np.intp]) -> Iterator[slice]:
    """Slices of rows, each of about as many pairs as are made at once."""
    ends = np.cumsum(counts)
    start = 0
    while start < len(counts):
        done = ends[start - 1] if start else 0
        end = int(np.searchsorted(ends, done + _PAIRS_AT_ONCE, side="right"))
        end = max(end, start + 1)
        yield slice(start, end)
        start = end


def _expanded(
    rows: NDArray[np.intp], counts: NDArray[np.intp], begins: NDArray[np.intp]
) -> tuple[Rows, NDArray[np.intp]]:
    """Each row as often as it has partners, and where each of its partners stands."""
    ends = np.cumsum(counts)
    places = np.arange(int(ends[-1])) + np.repeat(begins - (ends - counts), counts)
    return np.repeat(rows, counts).astype(np.int32), places
