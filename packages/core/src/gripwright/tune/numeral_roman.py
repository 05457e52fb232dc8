"""Roman numerals for degrees."""

from __future__ import annotations

from typing import Final

from gripwright.theory.degree import Degree

ROMANS: Final = ("I", "II", "III", "IV", "V", "VI", "VII")
"""The numerals of the seven degrees, in order."""


def roman_of(degree: Degree, *, minor: bool) -> str:
    """The numeral of a degree from 1 to 7, in small letters for minor.

    Example:
        >>> roman_of(Degree("b3"), minor=False), roman_of(Degree("2"), minor=True)
        ('bIII', 'ii')
    """
    roman = ROMANS[degree.number - 1]
    sign = {-1: "b", 0: "", 1: "#"}[degree.alteration]
    return sign + (roman.lower() if minor else roman)
