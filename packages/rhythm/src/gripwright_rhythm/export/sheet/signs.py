"""Musical signs: accidentals as they are printed, in place of the letters of machine text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from gripwright import Chord
    from gripwright.tune.key import Key

NO_CHORD: Final = "N.C."

_SIGNS: Final = {
    "b": "\u266d",
    "#": "\u266f",
    "bb": "\U0001d12b",
    "##": "\U0001d12a",
    "bbb": "\u266d\U0001d12b",
    "###": "\u266f\U0001d12a",
}
# After a letter at the start or after a slash; or before the number of a degree.
_ACCIDENTAL: Final = re.compile(r"(?:(?<=^[A-G])|(?<=/[A-G]))(b+|#+)|(b+|#+)(?=[0-9])")


def typeset(text: str) -> str:
    r"""A chord symbol, note or degree with printed accidentals.

    Example:
        >>> typeset("Bbm7b5/Fb").encode("unicode_escape").decode()
        'B\\u266dm7\\u266d5/F\\u266d'
        >>> typeset("Cadd9")
        'Cadd9'
    """
    return _ACCIDENTAL.sub(lambda found: _SIGNS.get(found[0], found[0]), text)


def symbol_of(chord: Chord | None) -> str:
    """What is printed for a chord, or for none."""
    return NO_CHORD if chord is None else typeset(chord.symbol)


def key_words(key: Key) -> str:
    """A key in words, such as "B flat minor" with its sign."""
    return f"{typeset(str(key.tonic))} {'minor' if key.minor else 'major'}"
