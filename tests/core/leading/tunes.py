"""Chords, instruments and candidates that the tests of lines share."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import attrs

from gripwright import Chord, Instrument, InstrumentString, Pitch, VoicingTable, find_voicings
from gripwright.neck.ranking import teaching
from tests.core.neck.reference import instrument

if TYPE_CHECKING:
    from collections.abc import Iterable

GUITAR = instrument("guitar")
UKULELE = instrument("ukulele")

FANNED = Instrument(
    id="fanned",
    name="Guitar whose frets fan out",
    strings=tuple(
        InstrumentString(Pitch.parse(text), scale_mm=scale)
        for text, scale in zip(
            ("E2", "A2", "D3", "G3", "B3", "E4"), (686, 678, 670, 663, 655, 648), strict=True
        )
    ),
    frets=20,
    align_fret=7,
)


@attrs.frozen
class Sung:
    """A note of a melody."""

    pitch: Pitch
    onset: Fraction
    length: Fraction


def sung(text: str, onset: int, length: int) -> Sung:
    """Return a note from its name and whole quarters."""
    return Sung(Pitch.parse(text), Fraction(onset), Fraction(length))


def chords(text: str) -> list[Chord]:
    """Return chords from symbols between spaces."""
    return [Chord.parse(symbol) for symbol in text.split()]


def tables(
    symbols: Iterable[Chord], own: Instrument, candidates: int, **conditions: Any
) -> list[VoicingTable]:
    """Return the candidates of each chord: the first of the teaching order."""
    return [
        find_voicings(chord, own, **conditions).order_by(teaching)[:candidates] for chord in symbols
    ]
