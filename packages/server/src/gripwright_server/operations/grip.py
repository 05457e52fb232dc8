"""Grips and notes as players write them, read with the place of every fault."""

import re
from typing import TYPE_CHECKING, Final

import gripwright
from gripwright.errors import NotationError

if TYPE_CHECKING:
    from gripwright import Instrument, Note, Pitch

_FRET: Final = re.compile(r"[xX]|[0-9]+")
_CLOSE_FRET: Final = re.compile(r"[xX0-9]")
_WORD: Final = re.compile(r"[^\s,]+")


def frets_of(text: str, instrument: "Instrument") -> tuple[int, ...]:
    """The frets of a shape on an instrument: muted -1, open 0, or a fret.

    Args:
        text: A shape such as ``"x-3-5-4-5-x"``, or ``"x35453"`` where no fret has two digits.
        instrument: The instrument, with its capo.

    Raises:
        NotationError: The text is no shape, has not one sign for each string, or names a fret
            that its string does not have.

    Example:
        >>> ukulele = gripwright.Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> frets_of("0003", ukulele)
        (0, 0, 0, 3)
    """
    frets = gripwright.Shape.parse(text).frets
    sign = _FRET if "-" in text else _CLOSE_FRET
    places = [match.start() for match in sign.finditer(text)]
    strings = len(instrument.strings)
    if len(frets) != strings:
        surplus = len(frets) > strings
        raise NotationError(
            what="shape",
            text=text,
            position=places[strings] if surplus else len(text),
            expected=f"x or a fret for each of {strings} strings, and here are {len(frets)}",
        )
    for string, (fret, place) in enumerate(zip(frets, places, strict=True)):
        lowest = instrument.lowest_press(string)
        if fret > 0 and not lowest <= fret <= instrument.frets:
            raise NotationError(
                what="shape",
                text=text,
                position=place,
                expected=f"x, 0 or a fret from {lowest} to {instrument.frets}",
            )
    return frets


def pitches_of(frets: tuple[int, ...], instrument: "Instrument") -> "tuple[Pitch, ...]":
    """The pitches of the sounding strings, in string order; their spelling means nothing.

    Example:
        >>> ukulele = gripwright.Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> " ".join(map(str, pitches_of((0, 0, 0, 3), ukulele)))
        'G4 C4 E4 C5'
    """
    return tuple(
        gripwright.Pitch.from_midi(instrument.sounding(string, fret))
        for string, fret in enumerate(frets)
        if fret >= 0
    )


def notes_of(text: str) -> "tuple[Note | Pitch, ...]":
    """Notes, or pitches where they have octaves, with spaces or commas between.

    Raises:
        NotationError: A word is neither, with its position in the whole text.

    Example:
        >>> " ".join(map(str, notes_of("E2 B♭, G")))
        'E2 Bb G'
    """
    words = list(_WORD.finditer(text))
    if not words:
        raise NotationError(
            what="notes", text=text, position=len(text), expected="notes such as C E G B"
        )
    return tuple(_note(text, word) for word in words)


def _note(text: str, word: re.Match[str]) -> "Note | Pitch":
    try:
        note, end = gripwright.Note.read(word[0], what="note")
        return note if end == len(word[0]) else gripwright.Pitch.parse(word[0])
    except NotationError as error:
        raise NotationError(
            what="notes",
            text=text,
            position=word.start() + error.position,
            expected=error.expected,
            nearest=_nearest(text),
        ) from None


def _nearest(text: str) -> str | None:
    """The same notes with capital letters, if that mends them."""
    near = _WORD.sub(lambda word: word[0][:1].upper() + word[0][1:], text)
    if near == text:
        return None
    try:
        notes_of(near)
    except NotationError:
        return None
    return near
