"""Shapes as pairs of rows of two halves: eight bytes a shape, columns gathered when asked for."""

from __future__ import annotations

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.halves import Half
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import Columns
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree

Rows = NDArray[np.int32]


@attrs.frozen(eq=False)
class Neck:
    """The two halves of an instrument's neck, held for a chord.

    Args:
        chord: The chord.
        instrument: The instrument.
        names: The degree that each pitch class above the root sounds, or None; 12 of them.
        left: Ways to hold the strings of the bass side.
        right: Ways to hold the strings of the treble side.
    """

    chord: Chord
    instrument: Instrument
    names: tuple[Degree | None, ...]
    left: Half
    right: Half


@attrs.frozen(eq=False)
class Pairs:
    """Shapes, each a row of the left half and a row of the right one.

    Args:
        neck: The halves.
        lefts: (rows,) int32, rows of the left half.
        rights: (rows,) int32, rows of the right half.
    """

    neck: Neck
    lefts: Rows
    rights: Rows

    def __len__(self) -> int:
        return len(self.lefts)

    def take(self, rows: NDArray[np.generic] | slice) -> Pairs:
        """Some of the rows, by index, mask or slice."""
        return Pairs(self.neck, self.lefts[rows], self.rights[rows])

    def columns(self) -> Columns:
        """Frets by string from the bass side: a list of (rows,) int8, muted -1."""
        left, right = self.neck.left.frets, self.neck.right.frets
        return [
            *(frets.take(self.lefts) for frets in left),
            *(frets.take(self.rights) for frets in right),
        ]

    def low(self) -> NDArray[np.int16]:
        """MIDI number of the lowest sounding pitch, (rows,)."""
        return np.minimum(
            self.neck.left.low.take(self.lefts), self.neck.right.low.take(self.rights)
        )

    def high(self) -> NDArray[np.int16]:
        """MIDI number of the highest sounding pitch, (rows,)."""
        return np.maximum(
            self.neck.left.high.take(self.lefts), self.neck.right.high.take(self.rights)
        )

    def mask(self) -> NDArray[np.int16]:
        """Sounding tones, (rows,): bit n for the pitch class n semitones above the root."""
        return self.neck.left.mask.take(self.lefts) | self.neck.right.mask.take(self.rights)

    def notes(self) -> NDArray[np.int8]:
        """Number of sounding strings, (rows,)."""
        return self.neck.left.notes.take(self.lefts) + self.neck.right.notes.take(self.rights)

    def places_mm(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Nearest and farthest fretted place along the neck in mm, (rows,) each.

        Infinite, and minus infinite, where no string is fretted.
        """
        left, right = self.neck.left, self.neck.right
        near = np.minimum(left.nearest.take(self.lefts), right.nearest.take(self.rights))
        far = np.maximum(left.farthest.take(self.lefts), right.farthest.take(self.rights))
        return near, far

    def reach_mm(self) -> NDArray[np.float64]:
        """Distance in mm from the nearest to the farthest fretted place, 0 where none, (rows,)."""
        near, far = self.places_mm()
        reach: NDArray[np.float64] = np.maximum(far - near, 0.0)
        return reach
