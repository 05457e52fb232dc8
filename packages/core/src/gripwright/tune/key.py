"""Keys: a tonic, major or minor."""

from __future__ import annotations

import re
from typing import Final

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.theory.note import Note

MOST_FIFTHS: Final = 7
"""Flats or sharps that a key signature holds at most."""

_ORDER_OF_FIFTHS: Final = "FCGDAEB"
_MINOR: Final = re.compile(r"\s*(m|min|minor|-)\s*")
_MAJOR: Final = re.compile(r"\s*(|maj|major)\s*")


@attrs.frozen
class Key:
    """A major or minor key with at most seven flats or sharps.

    Args:
        tonic: The tonic.
        minor: Whether it is a minor key.

    Raises:
        ConditionError: The signature would need more than seven flats or sharps.

    Example:
        >>> Key.parse("Bb minor")
        Key(tonic=Note(letter='B', alteration=-1), minor=True)
        >>> str(Key.parse("Bb minor")), Key.parse("Bbm").fifths
        ('Bbm', -5)
    """

    tonic: Note = attrs.field()
    minor: bool = attrs.field(default=False)

    def __attrs_post_init__(self) -> None:
        if abs(self.fifths) > MOST_FIFTHS:
            raise ConditionError(
                name="key",
                value=str(self),
                expected=f"a key of at most {MOST_FIFTHS} flats or sharps",
            )

    @classmethod
    def parse(cls, text: str) -> Key:
        """Read a key: ``"Bb"``, ``"F#m"``, ``"c minor"`` is refused, ``"C minor"`` read.

        Raises:
            NotationError: The text is no key, or one of more than seven flats or sharps.

        Example:
            >>> str(Key.parse("Ab major"))
            'Ab'
        """
        note, end = Note.read(text, what="key", whole=cls.parse)
        minor = _MINOR.fullmatch(text, end) is not None
        if not minor and _MAJOR.fullmatch(text, end) is None:
            raise NotationError(
                what="key", text=text, position=end, expected="'m', 'minor', 'major' or the end"
            )
        try:
            return cls(note, minor)
        except ConditionError as error:
            raise NotationError(
                what="key", text=text, position=0, expected=error.expected
            ) from None

    def __str__(self) -> str:
        return f"{self.tonic}{'m' if self.minor else ''}"

    @property
    def fifths(self) -> int:
        """Sharps of the signature, or flats where negative.

        Example:
            >>> Key.parse("A").fifths, Key.parse("Cm").fifths
            (3, -3)
        """
        letter = _ORDER_OF_FIFTHS.index(self.tonic.letter) - 1
        return letter + 7 * self.tonic.alteration - 3 * self.minor
