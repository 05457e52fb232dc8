"""Noise that is the same on every machine and with every release of NumPy."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

_BITS_KEPT: Final = 53
_BITS_DRAWN: Final = 64


def white_noise(seed: int, samples: int) -> NDArray[np.float64]:
    """Evenly spread random numbers.

    They are taken from the raw numbers of the generator, which NumPy promises to keep; it keeps
    no such promise for distributions made from them (NEP 19).

    Args:
        seed: The seed, 0 or more.
        samples: How many.

    Returns:
        Numbers from -1 to below 1, of shape ``(samples,)``.

    Example:
        >>> bool((white_noise(3, 5) == white_noise(3, 5)).all())
        True
    """
    raw = np.random.PCG64(seed).random_raw(samples)
    kept = (raw >> np.uint64(_BITS_DRAWN - _BITS_KEPT)).astype(np.float64)
    return kept * 2.0 ** (1 - _BITS_KEPT) - 1.0
