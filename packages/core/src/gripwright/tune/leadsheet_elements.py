"""Reading the text of elements: numbers, words and signs, none of which may be trusted."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final
from xml.etree.ElementTree import Element

_NUMBER: Final = re.compile(r"[+-]?[0-9]{1,9}(\.[0-9]{0,6}0*)?")
_SEVERAL: Final = re.compile(r"[0-9]{1,2}")


def text_of(parent: Element, path: str) -> str:
    """The text of the first element at a path, without spaces around it; empty where none is."""
    return (parent.findtext(path) or "").strip()


def number_of(text: str | None) -> Fraction | None:
    """An exact number of at most nine digits and six decimals, or None.

    Example:
        >>> number_of("-1.5"), number_of("1e9"), number_of(None)
        (Fraction(-3, 2), None, None)
    """
    stripped = (text or "").strip()
    return Fraction(stripped) if _NUMBER.fullmatch(stripped) else None


def whole_of(text: str | None) -> int | None:
    """A whole number, or None where the text is no number; parts of a semitone are rounded."""
    number = number_of(text)
    return None if number is None else round(number)


def passes_of(text: str) -> tuple[int, ...]:
    """The passes of an ending.

    Example:
        >>> passes_of("1, 2"), passes_of("1.-3."), passes_of("last")
        ((1, 2), (1, 2, 3), ())
    """
    found = [int(match) for match in _SEVERAL.findall(text)]
    span = re.fullmatch(r"\s*([0-9]{1,2})\.?\s*[-–]\s*([0-9]{1,2})\.?\s*", text)  # noqa: RUF001 - files carry both dashes
    if span:
        found = list(range(int(span[1]), int(span[2]) + 1))
    return tuple(sorted({number for number in found if number > 0}))
