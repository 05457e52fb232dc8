"""Halves of a neck: every way to hold some neighbouring strings, as columns."""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import RowBoundError
from gripwright.neck.conditions import Conditions
from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.shape import MUTED
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

NARROWER: Final = "narrow it by strategy, string set, fret limits or number of notes"
"""What to do about too many voicings."""

_BLOCK: Final = 65_536

NO_PITCH_LOW: Final = np.int16(1000)
NO_PITCH_HIGH: Final = np.int16(-1000)


@attrs.frozen(eq=False)
class Half:
    """Every way to hold a run of neighbouring strings within the reach, in order of frets.

    Args:
        frets: (strings, rows) int8, muted -1.
        nearest: (rows,) float64, the nearest fretted place in mm, infinite where none is.
        farthest: (rows,) float64, the farthest, minus infinite where none is.
        mask: (rows,) int16, the sounding tones.
        notes: (rows,) int8, the number of sounding strings.
        low: (rows,) int16, the lowest MIDI number, 1000 where nothing sounds.
        high: (rows,) int16, the highest MIDI number, -1000 where nothing sounds.
    """

    frets: NDArray[np.int8]
    nearest: NDArray[np.float64]
    farthest: NDArray[np.float64]
    mask: NDArray[np.int16]
    notes: NDArray[np.int8]
    low: NDArray[np.int16]
    high: NDArray[np.int16]

    @classmethod
    def joining(cls, parts: list[Half]) -> Half:
        """One half of consecutive parts."""
        columns = zip(*(attrs.astuple(part) for part in parts), strict=True)
        return cls(*(np.concatenate(column, axis=-1) for column in columns))

    def block(self, start: int, stop: int) -> Half:
        """The rows of a range."""
        return Half(*(column[..., start:stop] for column in attrs.astuple(self)))

    def __len__(self) -> int:
        return len(self.notes)


def string_options(
    instrument: Instrument, string: int, root: int, admitted: int, conditions: Conditions
) -> list[int]:
    """What a string may do: muted, open, or frets that sound an admitted tone.

    Args:
        instrument: The instrument.
        string: Index of the string, 0 on the bass side.
        root: Pitch class of the root.
        admitted: Mask of admitted tones above the root.
        conditions: Fret limits, open strings, and the strings that must sound.
    """
    number = len(instrument.strings) - string
    if conditions.strings is not None and number not in conditions.strings:
        return [MUTED]
    lowest, highest = instrument.lowest_press(string), instrument.frets
    if conditions.lowest_fret is not None:
        lowest = max(lowest, conditions.lowest_fret)
    if conditions.highest_fret is not None:
        highest = min(highest, conditions.highest_fret)
    frets = [*([] if conditions.no_open else [0]), *range(lowest, highest + 1)]
    sounding = [
        fret
        for fret in frets
        if admitted >> (instrument.sounding(string, fret) - root) % SEMITONES_IN_OCTAVE & 1
    ]
    return sounding if conditions.strings is not None else [MUTED, *sounding]


@attrs.frozen(eq=False)
class Enumeration:
    """What every way to hold some strings is enumerated from.

    Args:
        instrument: The instrument.
        options: What each string may do, from `string_options`.
        root: Pitch class of the root.
        hand: The hand.
        most_notes: Sounding strings at most.
        row_bound: Rows of a half above which the enumeration refuses.
    """

    instrument: Instrument
    options: tuple[list[int], ...]
    root: int
    hand: Hand
    most_notes: int
    row_bound: int

    def half(self, strings: range) -> Half:
        """Every way to hold neighbouring strings within the reach.

        Args:
            strings: Indices of the strings, from the bass side.

        Raises:
            RowBoundError: There are more ways than the bound.
        """
        held = Half(
            np.zeros((0, 1), np.int8),
            np.array([np.inf]),
            np.array([-np.inf]),
            np.zeros(1, np.int16),
            np.zeros(1, np.int8),
            np.array([NO_PITCH_LOW]),
            np.array([NO_PITCH_HIGH]),
        )
        for string in strings:
            held = self._longer(held, string)
        return held

    def _longer(self, held: Half, string: int) -> Half:
        """The ways with one string more, block by block: what explodes is refused while small."""
        longer: list[Half] = []
        count = 0
        for start in range(0, max(len(held), 1), _BLOCK):
            longer.append(self._with_string(held.block(start, start + _BLOCK), string))
            count += len(longer[-1])
            if count > self.row_bound:
                raise RowBoundError(bound=self.row_bound, hint=NARROWER)
        return longer[0] if len(longer) == 1 else Half.joining(longer)

    def _with_string(self, held: Half, string: int) -> Half:
        options = self.options[string]
        fretted = [fret > 0 for fret in options]
        places = [self.instrument.place_mm(string, fret) for fret in options]
        pitches = [self.instrument.sounding(string, fret) for fret in options]
        bits = [1 << (pitch - self.root) % SEMITONES_IN_OCTAVE for pitch in pitches]
        sounds = np.array([fret >= 0 for fret in options])
        near = np.where(fretted, places, np.inf)
        far = np.where(fretted, places, -np.inf)
        mask = np.where(sounds, bits, 0).astype(np.int16)
        low = np.where(sounds, pitches, NO_PITCH_LOW).astype(np.int16)
        high = np.where(sounds, pitches, NO_PITCH_HIGH).astype(np.int16)
        nearest = np.minimum.outer(held.nearest, near)
        farthest = np.maximum.outer(held.farthest, far)
        notes = np.add.outer(held.notes, sounds.astype(np.int8))
        row, option = np.nonzero(
            (farthest - nearest <= self.hand.reach_mm + REACH_TOLERANCE_MM)
            & (notes <= self.most_notes)
        )
        return Half(
            np.concatenate([held.frets[:, row], np.array(options, np.int8)[None, option]]),
            nearest[row, option],
            farthest[row, option],
            held.mask[row] | mask[option],
            notes[row, option],
            np.minimum(held.low[row], low[option]),
            np.maximum(held.high[row], high[option]),
        )
