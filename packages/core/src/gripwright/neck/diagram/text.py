"""Neck diagrams in text, as players draw them.

The strings stand upright, the bass side on the left; above them an ``x`` marks a muted string and
an ``o`` an open one; each line below is a fret, with a dot where a finger presses. A double line
is the nut (or the capo); where the box starts higher up, its first fret is numbered on the left.
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from gripwright.neck.diagram.window import window_of
from gripwright.neck.instrument import Instrument
from gripwright.neck.voicing import Voicing

DOT: Final = "●"
STRING: Final = "│"
NUT: Final = "═"
FRET: Final = "─"

_MARGIN: Final = 3
_STRING_WIDTH: Final = 3


def box(voicing: Voicing, *, frets: int | None = None) -> tuple[str, ...]:
    """Draw a voicing in a box: marks, nut or first fret, and a line for each fret.

    The box starts at the nut where the highest fretted note lies within its frets, else at the
    lowest fretted note. A string that starts up the neck is drawn from there.

    Args:
        voicing: The voicing.
        frets: Frets to draw, so that several boxes have one height; what `box_frets` says where
            it is None or less than that.

    Returns:
        ``2 + frets`` lines, each `box_width` wide.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar, strings=(5, 4, 3, 2))
        >>> grip = next(one for one in table if one.shape == "x-3-5-4-5-x")
        >>> for line in box(grip):
        ...     print(line.rstrip())
           x              x
           ────────────────
         3 │  ●  │  │  │  │
           │  │  │  ●  │  │
           │  │  ●  │  ●  │
           │  │  │  │  │  │
    """
    window = window_of(voicing, frets)
    lines = [_marks(voicing), _edge(voicing.instrument, window.first)]
    for fret in window.frets:
        number = str(fret) if fret == window.first > 1 else ""
        lines.append(_fret_line(voicing, fret, number))
    return tuple(lines)


def box_width(instrument: Instrument) -> int:
    """The width of a box in characters: three for the fret number and three a string.

    Args:
        instrument: The instrument whose strings are drawn.

    Example:
        >>> from gripwright import Instrument
        >>> box_width(Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0))
        13
    """
    return _MARGIN + _STRING_WIDTH * len(instrument.strings) - (_STRING_WIDTH - 1)


def under_strings(voicing: Voicing, texts: Iterable[str]) -> str:
    """Write a text under each sounding string of a box.

    A text too wide for its place pushes the next ones to the right, a space apart.

    Args:
        voicing: The voicing.
        texts: One text for each sounding string, from the bass side.

    Returns:
        One line, without spaces at its end.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
        >>> table = find_voicings(Chord.parse("C"), ukulele)
        >>> grip = next(one for one in table if one.shape == "0-0-0-3")
        >>> under_strings(grip, grip.degrees)
        '   5  1  3  1'
    """
    sounding = [string for string, fret in enumerate(voicing.frets) if fret >= 0]
    line = ""
    for string, text in zip(sounding, texts, strict=True):
        line = f"{line} ".ljust(_column(string)) + str(text)
    return line


def _column(string: int) -> int:
    return _MARGIN + _STRING_WIDTH * string


def _marks(voicing: Voicing) -> str:
    marks = {-1: "x", 0: "o"}
    return " " * _MARGIN + "  ".join(marks.get(fret, " ") for fret in voicing.frets)


def _edge(instrument: Instrument, first: int) -> str:
    """The line above the first fret, over the strings that reach it."""
    present = [i for i, string in enumerate(instrument.strings) if string.first_fret < first]
    sign = NUT if first == 1 else FRET
    line = [" "] * box_width(instrument)
    for string in present:
        span = _STRING_WIDTH if string + 1 in present else 1
        line[_column(string) : _column(string) + span] = [sign] * span
    return "".join(line)


def _fret_line(voicing: Voicing, fret: int, number: str) -> str:
    signs = [
        DOT if pressed == fret else STRING if string.first_fret < fret else " "
        for pressed, string in zip(voicing.frets, voicing.instrument.strings, strict=True)
    ]
    return f"{number:>{_MARGIN - 1}} " + "  ".join(signs)
