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

from gripwright.neck.halves import Half
from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import MOST_STRINGS
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
    left_places, right_places = _Places.of(left), _Places.of(right)
    left_tones, right_tones = _ToneSets.of(left), _ToneSets.of(right)
    near_enough = left_places.fit(right_places, hand)
    sound = left_tones.fit(right_tones, fits)
    left_class, right_class = _joint(left_places, left_tones), _joint(right_places, right_tones)
    step = max(1, _CELLS_AT_ONCE // max(1, len(right)))
    for start in range(0, len(left), step):
        rows = np.arange(start, min(start + step, len(left)))
        classes, first, of_row = np.unique(
            left_class.of_row[rows], return_index=True, return_inverse=True
        )
        together = near_enough[left_places.of_row[rows[first]]][:, right_class.places]
        together &= sound[left_tones.of_row[rows[first]]][:, right_class.tones]
        whole = together.take(right_class.of_row, axis=1)
        counts = np.count_nonzero(whole, axis=1)
        begins = np.cumsum(counts) - counts
        # Faster than a search in two dimensions.
        firsts = np.arange(len(classes)) * len(right)
        partners = np.flatnonzero(whole) - np.repeat(firsts, counts)
        for some in _portions(counts[of_row]):
            of = of_row[some]
            lefts, places = _expanded(rows[some], counts[of], begins[of])
            yield Pairs(neck, lefts, partners.take(places).astype(np.int32))


@attrs.frozen(eq=False)
class _Places:
    """The different nearest and farthest places of a half, and which of them each row has."""

    of_row: NDArray[np.intp]
    nearest: NDArray[np.float64]
    farthest: NDArray[np.float64]

    @classmethod
    def of(cls, half: Half) -> _Places:
        """The places of a half."""
        ends = np.unique(np.concatenate([half.nearest, half.farthest]))
        key = np.searchsorted(ends, half.nearest) * len(ends)
        key += np.searchsorted(ends, half.farthest)
        _, first, of_row = np.unique(key, return_index=True, return_inverse=True)
        return cls(of_row, half.nearest[first], half.farthest[first])

    def fit(self, other: _Places, hand: Hand) -> NDArray[np.bool_]:
        """Whether the hand reaches both, by (places, other places)."""
        reach = np.maximum.outer(self.farthest, other.farthest)
        reach -= np.minimum.outer(self.nearest, other.nearest)
        fits: NDArray[np.bool_] = reach <= hand.reach_mm + REACH_TOLERANCE_MM
        return fits


@attrs.frozen(eq=False)
class _ToneSets:
    """The different sets of tones and numbers of notes of a half, and which each row has."""

    of_row: NDArray[np.intp]
    mask: NDArray[np.int16]
    notes: NDArray[np.int8]

    @classmethod
    def of(cls, half: Half) -> _ToneSets:
        """The sets of tones of a half."""
        key = half.mask.astype(np.int32) * (MOST_STRINGS + 1) + half.notes
        _, first, of_row = np.unique(key, return_index=True, return_inverse=True)
        return cls(of_row, half.mask[first], half.notes[first])

    def fit(self, other: _ToneSets, fits: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Whether both together may make a voicing, by (sets, other sets)."""
        notes = np.minimum(np.add.outer(self.notes, other.notes), MOST_STRINGS)
        together: NDArray[np.bool_] = fits[np.bitwise_or.outer(self.mask, other.mask), notes]
        return together


@attrs.frozen(eq=False)
class _Joint:
    """Rows that join alike: the same places and the same tones."""

    of_row: NDArray[np.intp]
    places: NDArray[np.intp]
    tones: NDArray[np.intp]


def _joint(places: _Places, tones: _ToneSets) -> _Joint:
    key = places.of_row * len(tones.mask) + tones.of_row
    _, first, of_row = np.unique(key, return_index=True, return_inverse=True)
    return _Joint(of_row, places.of_row[first], tones.of_row[first])


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
