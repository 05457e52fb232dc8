"""Numbers in the text of a chart: beats, places of a bar, passes."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from gripwright.meter import Meter

NUMBER: Final = r"[0-9]{1,9}(?:\.[0-9]{1,6}|/[1-9][0-9]{0,8})?"
"""A number of beats, or a place of a bar: ``3``, ``2.5`` or ``7/3``."""

_NUMBER: Final = re.compile(NUMBER)
_DECIMALS: Final = {1: 0, 2: 1, 4: 2, 8: 3}


def read_number(text: str) -> Fraction | None:
    """Read a number of beats; None where the text is none.

    Example:
        >>> read_number("2.5"), read_number("7/3"), read_number("two")
        (Fraction(5, 2), Fraction(7, 3), None)
    """
    return Fraction(text) if _NUMBER.fullmatch(text) else None


def number_text(number: Fraction) -> str:
    """Write a number of beats: with a point where that takes three places at most.

    Example:
        >>> number_text(Fraction(5, 2)), number_text(Fraction(7, 3)), number_text(Fraction(4))
        ('2.5', '7/3', '4')
    """
    decimals = _DECIMALS.get(number.denominator)
    return str(number) if decimals is None else f"{float(number):.{decimals}f}"


def short_duration(onset: Fraction, next_onset: Fraction | None, meter: Meter) -> Fraction:
    """Quarters that a short hit lasts: until the next pulse or attack, whichever is first.

    Args:
        onset: Its place, in quarters from the start of a full bar.
        next_onset: The place of the next hit of the bar, if any.
        meter: The metre of the bar.

    Example:
        >>> short_duration(Fraction(3, 2), None, Meter(4, 4))
        Fraction(1, 2)
    """
    pulse = meter.pulse * (onset // meter.pulse + 1)
    return (pulse if next_onset is None else min(pulse, next_onset)) - onset


def read_passes(text: str) -> tuple[int, ...] | None:
    """Read the passes of an ending, ``1,3-5``; None where they do not rise or start at 0.

    Example:
        >>> read_passes("1-3,5"), read_passes("2,1")
        ((1, 2, 3, 5), None)
    """
    passes: list[int] = []
    for part in text.split(","):
        first, *last = map(int, part.split("-"))
        passes += range(first, (last[-1] if last else first) + 1)
    rising = all(one < two for one, two in zip([0, *passes], passes, strict=False))
    return tuple(passes) if passes and rising else None
