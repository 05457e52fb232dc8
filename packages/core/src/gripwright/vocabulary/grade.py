"""Grades: how well a grip came, in a player's words."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.errors import UnknownNameError
from gripwright.named import Named


@attrs.frozen
class Grade:
    """How well a grip came when it was asked for.

    Args:
        name: The word by which it is given.
        words: The same as a player says it.
        place: 1 for the worst to 4 for the best.

    Example:
        >>> GRADES["in-time"].place
        3
    """

    name: str
    words: str
    place: int


GRADES: Final[Named[Grade]] = Named(
    {
        grade.name: grade
        for grade in (
            Grade("looked", "had to look", 1),
            Grade("slowly", "found it slowly", 2),
            Grade("in-time", "in time", 3),
            Grade("any-key", "in time in any key", 4),
        )
    },
    kind="grade",
)
"""Every grade by name, the worst first."""

KNOWN_ALREADY: Final = GRADES["any-key"]
"""The grade of a grip that a player knows before it is entered."""


def grade_of(text: str) -> Grade:
    """A grade by its name or by its words.

    Args:
        text: Such as ``"in-time"`` or ``"had to look"``; case is ignored.

    Raises:
        UnknownNameError: Neither a name nor words of a grade.

    Example:
        >>> grade_of("Found it slowly").name
        'slowly'
    """
    asked = " ".join(text.lower().split())
    found = next((grade for grade in GRADES.values() if asked in {grade.name, grade.words}), None)
    if found is None:
        raise UnknownNameError(kind="grade", name=text, nearest=tuple(GRADES))
    return found
