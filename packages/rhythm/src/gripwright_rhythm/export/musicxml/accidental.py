"""Accidentals: which noteheads need one in their bar."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from gripwright import Pitch
from gripwright.tune.key import Key
from gripwright_rhythm.export.musicxml.track import Head

_SHARPS: Final = "FCGDAEB"
_NAMES: Final = {
    -3: "triple-flat",
    -2: "flat-flat",
    -1: "flat",
    0: "natural",
    1: "sharp",
    2: "double-sharp",
    3: "triple-sharp",
}


class Accidentals:
    """The accidentals of one staff in one bar: they hold in their octave until its end.

    Args:
        key: The key signature, or None.

    Example:
        >>> from gripwright import Pitch
        >>> from gripwright.tune.key import Key
        >>> bar = Accidentals(Key.parse("F"))
        >>> [bar.of((Head(Pitch.parse(name)),), starts=True)[0] for name in ("Bb3", "B3", "B3")]
        [None, 'natural', None]
    """

    def __init__(self, key: Key | None) -> None:
        fifths = 0 if key is None else key.fifths
        self._signature = {
            letter: 1 if place < fifths else -1 if place >= len(_SHARPS) + fifths else 0
            for place, letter in enumerate(_SHARPS)
        }
        self._heard: dict[tuple[str, int], int] = {}

    def of(self, heads: Sequence[Head], *, starts: bool) -> tuple[str | None, ...]:
        """The accidental of each notehead; None where it needs none.

        Args:
            heads: The noteheads.
            starts: Whether they sound anew; those tied to notes before need none.
        """
        return tuple(
            None if head.pitch is None or not starts else self._one(head.pitch) for head in heads
        )

    def _one(self, pitch: Pitch) -> str | None:
        letter, alteration = pitch.note.letter, pitch.note.alteration
        place = letter, pitch.octave
        if self._heard.get(place, self._signature[letter]) == alteration:
            return None
        self._heard[place] = alteration
        return _NAMES.get(alteration)
