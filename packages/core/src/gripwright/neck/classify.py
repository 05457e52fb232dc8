"""Which families a voicing belongs to, judged from what sounds.

The sounding tones are put in close order from the lowest, each at the next place above the one
before; the order in which the voices take them tells the family. A voicing may belong to
several families. The definitions are common practice.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.strategies.colours import FIFTHS, NINTHS, UPPER_TRIADS
from gripwright.neck.strategies.drops import ORDERS, VOICES
from gripwright.neck.strategies.selection import seventh, third
from gripwright.neck.tones import TONES_IN_MASK, mask_of
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

Flags = NDArray[np.bool_]

_ALL: Final = (1 << SEMITONES_IN_OCTAVE) - 1
_TRIAD_SHAPES: Final = ((0, 4, 7), (0, 3, 7), (0, 3, 6), (0, 4, 8))
_TRIAD_MASKS: Final = np.isin(
    np.arange(len(TONES_IN_MASK)),
    [
        sum(1 << (root + tone) % SEMITONES_IN_OCTAVE for tone in shape)
        for shape in _TRIAD_SHAPES
        for root in range(SEMITONES_IN_OCTAVE)
    ],
)
_FRAME_OF_DOMINANT: Final = mask_of(map(Degree, ("3", "b7")))
_THREE: Final = 3
_WHOLE_TONE: Final = 2
_PERFECT_FOURTH: Final = 5
_SILENT: Final = np.int16(10_000)


@attrs.frozen(eq=False)
class Stacks:
    """What sounds in each row, from the lowest pitch up.

    Args:
        tones: (voices, rows) int16, tones above the root, -1 where there is no such voice.
        gaps: (voices - 1, rows) int16, semitones from each voice to the next, 0 where none.
        mask: (rows,) int32, the sounding tones.
        notes: (rows,) int16, the number of sounding strings.
        third: Mask of the tone that is the chord's third or stands for it, 0 for none.
        seventh: Mask of the tone that is its seventh or sixth, 0 for none.
        size: Number of different tones of the chord, without a foreign bass.
        foreign: Whether a foreign bass sounds below, which is none of the voices here.
    """

    tones: NDArray[np.int16]
    gaps: NDArray[np.int16]
    mask: NDArray[np.int32]
    notes: NDArray[np.int16]
    third: int
    seventh: int
    size: int
    foreign: bool

    @classmethod
    def of(
        cls,
        sounding: Sequence[tuple[Flags, NDArray[np.int16]]],
        chord: Chord,
        *,
        foreign: bool = False,
    ) -> Stacks:
        """The stacks of some shapes.

        Args:
            sounding: For each string whether it sounds, and its MIDI number, (rows,) each.
            chord: The chord.
            foreign: Whether the lowest pitch is a bass that is no tone of the chord; the voices
                are then those above it.
        """
        pitches = np.stack([np.where(sounds, pitch, _SILENT) for sounds, pitch in sounding])
        if foreign:
            pitches[pitches == pitches.min(axis=0)] = _SILENT
        pitches.sort(axis=0)
        sounds = pitches < _SILENT
        above = (pitches - chord.root.pitch_class) % SEMITONES_IN_OCTAVE
        tones = np.where(sounds, above, np.int16(-1))
        mask = np.zeros(pitches.shape[1], np.int32)
        for tone in tones:
            mask |= _bit(tone)
        return cls(
            tones=tones,
            gaps=np.where(sounds[1:], pitches[1:] - pitches[:-1], np.int16(0)),
            mask=mask,
            notes=sounds.sum(axis=0, dtype=np.int16),
            third=_mask(third(chord)),
            seventh=_mask(seventh(chord)),
            size=int(TONES_IN_MASK[mask_of(chord.degrees)]),
            foreign=foreign,
        )

    def order(self, voices: int) -> NDArray[np.int16]:
        """For rows of so many voices, their places in close order above the lowest, as one number.

        The places are the digits of the number in base 8, the lowest voice first; -1 where a row
        has another number of voices or tones, or a voice lies beyond the next place.
        """
        codes = np.full(len(self.notes), -1, np.int16)
        if len(self.tones) < voices:
            return codes
        rows = np.flatnonzero((self.notes == voices) & (TONES_IN_MASK[self.mask] == voices))
        rows = rows[(self.gaps[: voices - 1, rows] < SEMITONES_IN_OCTAVE).all(axis=0)]
        tones, mask = self.tones[:, rows].astype(np.int32), self.mask[rows]
        low = tones[0]
        turned = ((mask >> low) | (mask << (SEMITONES_IN_OCTAVE - low))) & _ALL
        code = np.zeros(len(rows), np.int16)
        for voice in range(voices):
            above = (tones[voice] - low) % SEMITONES_IN_OCTAVE
            code = code * 8 + TONES_IN_MASK[turned & ((1 << above) - 1)]
        codes[rows] = code
        return codes

    def voice(self, number: int) -> NDArray[np.int32]:
        """Mask of the tone of one voice, counted from 0 at the lowest; 0 where there is none."""
        if number >= len(self.tones):
            return np.zeros(len(self.notes), np.int32)
        return _bit(self.tones[number])

    def above(self, number: int) -> NDArray[np.int32]:
        """Mask of the tones of every voice from one upwards."""
        mask = np.zeros(len(self.notes), np.int32)
        for tone in self.tones[number:]:
            mask |= _bit(tone)
        return mask


def _bit(tone: NDArray[np.int16]) -> NDArray[np.int32]:
    """The mask of a tone, 0 for -1."""
    return np.where(tone >= 0, 1 << np.maximum(tone, 0).astype(np.int32), 0)


def _mask(degree: Degree | None) -> int:
    return 0 if degree is None else mask_of([degree])


def _code(order: tuple[int, ...]) -> int:
    code = 0
    for place in order:
        code = code * 8 + place
    return code


def _drop(name: str, stacks: Stacks) -> Flags:
    rows: Flags = stacks.order(VOICES) == _code(ORDERS[name])
    return rows


def _close(stacks: Stacks) -> Flags:
    triads = (stacks.order(3) == _code((0, 1, 2))) & (stacks.size == _THREE)
    rows: Flags = triads | _drop("close", stacks)
    return rows


def _triads(stacks: Stacks) -> Flags:
    rows: Flags = (stacks.order(3) == _code((0, 1, 2))) & _TRIAD_MASKS[stacks.mask]
    return rows


def _spread(stacks: Stacks) -> Flags:
    rows: Flags = (stacks.order(3) == _code((0, 2, 1))) & _TRIAD_MASKS[stacks.mask]
    return rows


def _shell(stacks: Stacks) -> Flags:
    # Three different tones, so that there is a third and a seventh.
    frame = 1 | stacks.third | stacks.seventh
    rows: Flags = (stacks.order(3) >= 0) & (stacks.mask == frame) & (stacks.voice(0) == 1)
    return rows


def _guide_tones(stacks: Stacks) -> Flags:
    rows: Flags = (stacks.order(2) >= 0) & (stacks.mask == stacks.third | stacks.seventh)
    return rows


def _rootless(stacks: Stacks) -> Flags:
    guides = stacks.third | stacks.seventh
    rest = stacks.mask & ~guides
    fifths, ninths = mask_of(FIFTHS), mask_of(NINTHS)
    # Four different tones, a fifth and a ninth among them, so that the rest is third and seventh.
    stacked = _drop("close", stacks) | _drop("drop-2", stacks)
    rows: Flags = (
        (stacks.mask & guides == guides)
        & (stacks.voice(0) & guides != 0)
        & (TONES_IN_MASK[rest & fifths] == 1)
        & (TONES_IN_MASK[rest & ninths] == 1)
        & (rest & ~(fifths | ninths) == 0)
        & stacked
    )
    return rows


def _quartal(stacks: Stacks) -> Flags:
    fourth = (stacks.gaps == _PERFECT_FOURTH) | (stacks.gaps == _PERFECT_FOURTH + 1)
    rows: Flags = (stacks.notes >= _THREE) & (fourth | (stacks.tones[1:] < 0)).all(axis=0)
    return rows


def _cluster(stacks: Stacks) -> Flags:
    seconds = ((stacks.gaps > 0) & (stacks.gaps <= _WHOLE_TONE)).sum(axis=0)
    within = stacks.gaps.sum(axis=0) < SEMITONES_IN_OCTAVE
    rows: Flags = within & (2 * seconds >= stacks.notes - 1) & (stacks.notes >= _THREE)
    return rows


def _upper_structure(stacks: Stacks) -> Flags:
    frame = stacks.voice(0) | stacks.voice(1)
    upper = stacks.above(2)
    found = np.zeros(len(stacks.notes), bool)
    for triad in UPPER_TRIADS.values():
        tones = mask_of(triad)
        whole = (upper | _FRAME_OF_DOMINANT) & tones == tones
        found |= whole & (upper & ~tones == 0)
    rows: Flags = found & (frame == _FRAME_OF_DOMINANT)
    return rows


def _triad_over_bass(stacks: Stacks) -> Flags:
    first = 0 if stacks.foreign else 1
    upper = stacks.above(first)
    close = stacks.gaps[first:].sum(axis=0) <= SEMITONES_IN_OCTAVE
    apart = stacks.foreign | (upper & stacks.voice(0) == 0)
    rows: Flags = _TRIAD_MASKS[upper] & apart & close
    return rows


def _octave_doubled(stacks: Stacks) -> Flags:
    return TONES_IN_MASK[stacks.mask] < stacks.notes


FAMILIES: Final[dict[str, Callable[[Stacks], Flags]]] = {
    "close": _close,
    "drop-2": functools.partial(_drop, "drop-2"),
    "drop-3": functools.partial(_drop, "drop-3"),
    "drop-2-4": functools.partial(_drop, "drop-2-4"),
    "drop-2-3": functools.partial(_drop, "drop-2-3"),
    "double-drop": functools.partial(_drop, "double-drop"),
    "shell": _shell,
    "guide-tones": _guide_tones,
    "rootless": _rootless,
    "triads": _triads,
    "spread": _spread,
    "quartal": _quartal,
    "cluster": _cluster,
    "upper-structure": _upper_structure,
    "triad-over-bass": _triad_over_bass,
    "octave-doubled": _octave_doubled,
}
"""The families by name, each with the test of its rows."""


def families(sounding: Sequence[tuple[Flags, NDArray[np.int16]]], chord: Chord) -> dict[str, Flags]:
    """For each family the rows that belong to it.

    Above a foreign bass the voices are judged both with it and without it.

    Args:
        sounding: For each string whether it sounds, and its MIDI number, (rows,) each.
        chord: The chord.

    Returns:
        (rows,) boolean arrays by name of the family.

    Example:
        >>> chord = Chord.parse("Cmaj7")
        >>> sounding = [(np.array([True]), np.array([m], np.int16)) for m in (48, 55, 59, 64)]
        >>> [name for name, rows in families(sounding, chord).items() if rows[0]]
        ['drop-2', 'triad-over-bass']
    """
    stacks = Stacks.of(sounding, chord)
    found = {name: test(stacks) for name, test in FAMILIES.items()}
    if chord.foreign_bass:
        upper = Stacks.of(sounding, chord, foreign=True)
        found = {name: rows | FAMILIES[name](upper) for name, rows in found.items()}
    return found
