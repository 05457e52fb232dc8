"""Note values: what one note can be written as, alone or in a tuplet."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

NAMES: Final = {
    Fraction(4): "long",
    Fraction(2): "breve",
    Fraction(1): "whole",
    Fraction(1, 2): "half",
    Fraction(1, 4): "quarter",
    Fraction(1, 8): "eighth",
    Fraction(1, 16): "16th",
    Fraction(1, 32): "32nd",
    Fraction(1, 64): "64th",
    Fraction(1, 128): "128th",
}
"""Note values in parts of a whole note (MusicXML 4.0, note-type-value; it goes on to 1024th)."""

SHORTEST: Final = min(NAMES)
_DOT: Final = Fraction(3, 2)
_DOTTED: Final = {value * _DOT: value for value in NAMES if value > SHORTEST}
_FLAGS: Final = {name: flags for flags, name in enumerate(list(NAMES.values())[4:])}


@attrs.frozen
class NoteValue:
    """How a note or a rest is written.

    Args:
        type: The value, such as ``"quarter"``.
        dots: How many dots follow it: none or one.
        actual: How many notes of a tuplet stand...
        normal: ...in the time of how many; both 1 outside tuplets.

    Example:
        >>> NoteValue("eighth", actual=3, normal=2).length
        Fraction(1, 12)
    """

    type: str
    dots: int = 0
    actual: int = 1
    normal: int = 1

    @property
    def length(self) -> Fraction:
        """What it lasts, in parts of a whole note."""
        plain = next(value for value, name in NAMES.items() if name == self.type)
        return plain * (_DOT if self.dots else 1) * Fraction(self.normal, self.actual)

    @property
    def flags(self) -> int:
        """Flags or beams of a note: 1 for an eighth; 0 from a quarter up."""
        return _FLAGS.get(self.type, 0)


def value_of(length: Fraction, *, dots: bool = True) -> NoteValue | None:
    """The value of a length, plain or with one dot; None where it takes several.

    Args:
        length: Parts of a whole note.
        dots: Whether it may have a dot.

    Example:
        >>> value_of(Fraction(3, 8)), value_of(Fraction(5, 8))
        (NoteValue(type='quarter', dots=1, actual=1, normal=1), None)
    """
    if length in NAMES:
        return NoteValue(NAMES[length])
    if dots and length in _DOTTED:
        return NoteValue(NAMES[_DOTTED[length]], dots=1)
    return None


def longest_within(length: Fraction) -> Fraction:
    """The longest plain value that fits in a length, in parts of a whole note; else the shortest.

    Example:
        >>> longest_within(Fraction(5, 8))
        Fraction(1, 2)
    """
    return next((value for value in NAMES if value <= length), SHORTEST)
