"""Mixing: tones added up, a block of time after the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright_rhythm.export.wav.sounding import Sounding
from gripwright_rhythm.export.wav.tone_store import ToneStore

DAMPING_S: Final = 0.008
"""How long a tone takes to fall silent once it is damped, in seconds."""

_BLOCK: Final = 2**16


def damping(sample_rate: int) -> NDArray[np.float32]:
    """How a tone falls silent from its end on: half a cosine, which leaves no click of its own.

    Args:
        sample_rate: Samples a second.

    Returns:
        Factors from 1 to 0, of shape ``(round(0.008 * sample_rate),)``.

    Example:
        >>> [round(float(factor), 2) for factor in damping(500)]
        [1.0, 0.75, 0.25, 0.0]
    """
    steps = np.linspace(0.0, np.pi, round(DAMPING_S * sample_rate))
    return ((1.0 + np.cos(steps)) / 2.0).astype(np.float32)


def mixed(
    sounding: Sequence[Sounding], samples: int, store: ToneStore, damp: NDArray[np.float32]
) -> Iterator[NDArray[np.float32]]:
    """Everything that sounds, in blocks: memory does not grow with the length.

    Args:
        sounding: What sounds, by onset.
        samples: How many samples in all.
        store: Where tones come from.
        damp: How a tone falls silent after its end.

    Yields:
        Blocks of samples, one after the other without a gap.
    """
    waiting = iter(sounding)
    following = next(waiting, None)
    active: list[Sounding] = []
    for start in range(0, samples, _BLOCK):
        block = np.zeros(min(_BLOCK, samples - start), np.float32)
        stop = start + len(block)
        while following is not None and following.onset < stop:
            active.append(following)
            following = next(waiting, None)
        for one in active:
            _add(block, start, one, store[one.tone], damp)
        active = [one for one in active if one.end + len(damp) > stop]
        yield block


def _add(
    block: NDArray[np.float32],
    start: int,
    one: Sounding,
    tone: NDArray[np.float32],
    damp: NDArray[np.float32],
) -> None:
    stop = start + len(block)
    gain = np.float32(one.gain)
    # While it is held, then while it is damped; a tone that has died away is shorter than both.
    first, last = max(start, one.onset), min(stop, one.end, one.onset + len(tone))
    if first < last:
        block[first - start : last - start] += tone[first - one.onset : last - one.onset] * gain
    first, last = max(start, one.end), min(stop, one.end + len(damp), one.onset + len(tone))
    if first < last:
        faded = tone[first - one.onset : last - one.onset] * damp[first - one.end : last - one.end]
        block[first - start : last - start] += faded * gain
