"""Joining two halves of a neck into whole shapes.

Rows of a half that join alike form classes. Which classes go together is settled once for each
pair of classes; only pairs of rows that pass are made.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

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
    left, right = neck.left, neck.right
    left_first, left_class = classes_of(left)
    right_first, right_class = classes_of(right)
    step = max(1, _CELLS_AT_ONCE // max(1, len(right), len(right_first)))
    for start in range(0, len(left), step):
        rows = np.arange(start, min(start + step, len(left)))
        classes, of_row = np.unique(left_class[rows], return_inverse=True)
        together = _classes_fit(left, left_first[classes], right, right_first, hand, fits)
        class_of_pair, partners = np.nonzero(together[:, right_class])
        partners = partners.astype(np.int32)
        counts = np.bincount(class_of_pair, minlength=len(classes))
        begins = np.cumsum(counts) - counts
        for some in _portions(counts[of_row]):
            of = of_row[some]
            yield Pairs(neck, *_expand(rows[some], counts[of], begins[of], partners))


def _classes_fit(
    left: Half,
    left_rows: NDArray[np.intp],
    right: Half,
    right_rows: NDArray[np.intp],
    hand: Hand,
    fits: NDArray[np.bool_],
) -> NDArray[np.bool_]:
    near = np.minimum.outer(left.nearest[left_rows], right.nearest[right_rows])
    far = np.maximum.outer(left.farthest[left_rows], right.farthest[right_rows])
    far -= near
    together = far <= hand.reach_mm + REACH_TOLERANCE_MM
    masks = np.bitwise_or.outer(left.mask[left_rows], right.mask[right_rows])
    notes = np.add.outer(left.notes[left_rows], right.notes[right_rows])
    cells = masks.astype(np.int32) * np.int32(fits.shape[1]) + notes
    together &= fits.ravel()[cells]
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


def _expand(
    rows: NDArray[np.intp],
    counts: NDArray[np.intp],
    begins: NDArray[np.intp],
    partners: Rows,
) -> tuple[Rows, Rows]:
    ends = np.cumsum(counts)
    total = int(ends[-1])
    lefts = np.repeat(rows.astype(np.int32), counts)
    places = np.arange(total) + np.repeat(begins - (ends - counts), counts)
    return lefts, partners[places]
