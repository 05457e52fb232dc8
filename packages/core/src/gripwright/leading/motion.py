"""Voice motion: how far the voices of one voicing move to those of another.

Voices do not cross: sorted by pitch, each voice of the voicing that has fewer goes to one of the
other, in order, so that the semitones in all are fewest. Each voice that is left over enters or
leaves, at a price. For equal numbers of voices that is the cheapest of all matchings, crossing
ones included (Tymoczko, Science 313, 2006).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Pitches = NDArray[np.int16]
"""Sorted pitches, (rows, voices)."""


def voice_motion(one: Sequence[int], other: Sequence[int], *, stranger: int = 0) -> int:
    """The semitones that voices move, with a price for each that enters or leaves.

    Args:
        one: MIDI numbers of one voicing, in any order.
        other: MIDI numbers of the other.
        stranger: Price of a voice that enters or leaves, in semitones, 0 or more.

    Returns:
        Semitones, 0 or more.

    Example:
        >>> voice_motion((48, 52, 55, 59), (48, 53, 57, 60))
        4
        >>> voice_motion((48, 55, 64), (48, 55, 60, 64), stranger=3)
        3
    """
    low, high = sorted(one), sorted(other)
    matrix = motion_matrix(np.array([low], np.int16), np.array([high], np.int16), stranger=stranger)
    return int(matrix[0, 0])


def motion_matrix(ones: Pitches, others: Pitches, *, stranger: int = 0) -> NDArray[np.int32]:
    """The voice motion from each of some voicings to each of some others.

    Args:
        ones: (rows, voices) int16, sorted pitches of voicings of one number of voices.
        others: (other rows, other voices) int16, the same of another number.
        stranger: Price of a voice that enters or leaves, in semitones.

    Returns:
        (rows, other rows) int32, semitones.

    Example:
        >>> motion_matrix(np.array([[48, 52]], np.int16), np.array([[47, 53]], np.int16))
        array([[2]], dtype=int32)
    """
    spare = abs(ones.shape[1] - others.shape[1])
    motion: NDArray[np.int32] = matching(ones, others, stranger=0).astype(np.int32)
    return motion + np.int32(stranger * spare)


def matching(ones: Pitches, others: Pitches, *, stranger: int) -> NDArray[np.int16]:
    """The same in 16 bits, for a price of at most 100.

    Args:
        ones: (rows, voices) int16, as for `motion_matrix`.
        others: (other rows, other voices) int16.
        stranger: Price of a voice that enters or leaves, 0 to 100 semitones.

    Returns:
        (rows, other rows) int16, semitones.
    """
    if ones.shape[1] > others.shape[1]:
        turned: NDArray[np.int16] = matching(others, ones, stranger=stranger).T
        return turned
    fewer, more = ones.shape[1], others.shape[1]
    spare = more - fewer
    # best[skip]: the cheapest matching of the voices so far that has passed over so many.
    best = [np.zeros((len(ones), len(others)), np.int16) for _ in range(spare + 1)]
    for voice in range(fewer):
        for skipped in range(spare + 1):
            step = np.abs(np.subtract.outer(ones[:, voice], others[:, voice + skipped]))
            best[skipped] += step
            if skipped:
                np.minimum(best[skipped], best[skipped - 1], out=best[skipped])
    motion: NDArray[np.int16] = best[spare]
    motion += np.int16(stranger * spare)
    return motion
