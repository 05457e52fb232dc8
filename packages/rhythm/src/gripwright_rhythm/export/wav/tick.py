"""Clicks: a small block that is struck, higher for the accent."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright_rhythm.export.wav.partials import Partials

TICK_S: Final = 0.06
"""How long a click lasts, in seconds."""

_MODES: Final = np.array([1.0, 1.47, 2.31])
_PARTS: Final = np.array([1.0, 0.5, 0.35])
_DECAYS: Final = np.array([130.0, 190.0, 320.0])

_PLAIN_HZ, _ACCENT_HZ = 1900.0, 2850.0
_PLAIN_LEVEL, _ACCENT_LEVEL = 0.27, 0.34


def tick(sample_rate: int, *, accent: bool) -> NDArray[np.float32]:
    """A click.

    Its lowest mode lies above the strong partials of a guitar, where a chord hides it least, and
    it is over before the next thing that is played on its heels.

    Args:
        sample_rate: Samples a second.
        accent: Whether it marks the first beat of a bar: a fifth higher, and louder.

    Returns:
        Samples of shape ``(round(0.06 * sample_rate),)``; the first is 0.

    Example:
        >>> len(tick(44_100, accent=True))
        2646
    """
    hz, level = (_ACCENT_HZ, _ACCENT_LEVEL) if accent else (_PLAIN_HZ, _PLAIN_LEVEL)
    partials = Partials(hz * _MODES, _DECAYS, level * _PARTS)
    return partials.sounded(round(TICK_S * sample_rate), sample_rate).astype(np.float32)
