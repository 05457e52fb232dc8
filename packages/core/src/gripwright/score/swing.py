"""Swing: a warp of time inside each pulse, which keeps pulses in place."""

from __future__ import annotations

import functools
from fractions import Fraction
from typing import Final

_KEPT: Final = 4096
"""Results kept of each warp: a drill asks for the same few over and over."""


@functools.lru_cache(maxsize=_KEPT)
def swung(time: Fraction, ratio: Fraction, pulse: Fraction) -> Fraction:
    """Move a time as swing does.

    The first half of each pulse becomes `ratio` times as long as the second, and what lies in a
    half is stretched with it.

    Args:
        time: Quarters from a pulse.
        ratio: How long the first half is beside the second: 1 is straight, 2 a triplet.
        pulse: Quarters in a pulse.

    Example:
        >>> swung(Fraction(1, 2), Fraction(2), Fraction(1))
        Fraction(2, 3)
    """
    beats, inside = divmod(time / pulse, 1)
    turn = ratio / (ratio + 1)
    half = inside * 2
    moved = half * turn if half <= 1 else turn + (half - 1) * (1 - turn)
    return (beats + moved) * pulse


@functools.lru_cache(maxsize=_KEPT)
def unswung(time: Fraction, ratio: Fraction, pulse: Fraction) -> Fraction:
    """Move a time back to where it is written: `swung` undone.

    Args:
        time: Quarters from a pulse.
        ratio: How long the first half is beside the second.
        pulse: Quarters in a pulse.

    Example:
        >>> unswung(Fraction(5, 3), Fraction(2), Fraction(1))
        Fraction(3, 2)
    """
    beats, inside = divmod(time / pulse, 1)
    turn = ratio / (ratio + 1)
    moved = inside / (2 * turn) if inside <= turn else (1 + (inside - turn) / (1 - turn)) / 2
    return (beats + moved) * pulse
