"""Shapes: what each string does, as players write it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

import attrs

from gripwright.errors import ConditionError, NotationError

MUTED: Final = -1
_PART: Final = re.compile(r"[xX]|[0-9]{1,2}")
_CLOSE: Final = re.compile(r"[xX0-9]*")
_EXPECTED: Final = "x or a fret"


def _whole_numbers(frets: Iterable[int]) -> tuple[int, ...]:
    return tuple(int(fret) for fret in frets)


@attrs.frozen
class Shape:
    """For each string, from the bass side: muted (-1), open (0) or a fret.

    Args:
        frets: One number a string.

    Raises:
        ConditionError: No strings, or a number below -1.

    Example:
        >>> Shape.parse("x-3-5-4-5-x").frets
        (-1, 3, 5, 4, 5, -1)
        >>> str(Shape.parse("x35453"))
        'x-3-5-4-5-3'
    """

    frets: tuple[int, ...] = attrs.field(converter=_whole_numbers)

    @frets.validator
    def _check_frets(self, _attribute: object, value: tuple[int, ...]) -> None:
        if not value or min(value) < MUTED:
            raise ConditionError(
                name="frets", value=value, expected="-1 (muted), 0 (open) or a fret a string"
            )

    @classmethod
    def parse(cls, text: str) -> Shape:
        """Read a shape such as ``"x-3-5-4-5-x"``, or ``"x35453"`` where no fret has two digits.

        Raises:
            NotationError: The text is no shape.

        Example:
            >>> Shape.parse("8-x-8-9-10-x").frets
            (8, -1, 8, 9, 10, -1)
        """
        if text and "-" not in text:
            end = _CLOSE.match(text).end()  # type: ignore[union-attr]
            if end < len(text):
                raise NotationError(what="shape", text=text, position=end, expected=_EXPECTED)
            return cls(tuple(map(_fret, text)))
        frets = []
        place = 0
        while True:
            match = _PART.match(text, place)
            if match is None:
                raise NotationError(what="shape", text=text, position=place, expected=_EXPECTED)
            frets.append(_fret(match[0]))
            place = match.end()
            if place == len(text):
                return cls(tuple(frets))
            if text[place] != "-":
                raise NotationError(
                    what="shape", text=text, position=place, expected="a hyphen or the end"
                )
            place += 1

    def __str__(self) -> str:
        return "-".join("x" if fret < 0 else str(fret) for fret in self.frets)


def _fret(text: str) -> int:
    return MUTED if text in {"x", "X"} else int(text)
