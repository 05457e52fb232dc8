"""Neck diagrams side by side, each over its degrees, its pitches and its families."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.neck.diagram import box, box_frets, box_width, under_strings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright import Voicing
    from gripwright_server.cli.screen import Screen

_MARGIN: Final = "   "
_MOST_SPACE: Final = 3
_MORE: Final = "…"


def box_lines(
    voicings: Sequence[Voicing], families: Sequence[tuple[str, ...]], screen: Screen
) -> Iterator[str]:
    """Draw diagrams in rows, with an empty line before each row.

    Args:
        voicings: Voicings on one instrument, one or more.
        families: The families of each, as far as their names have room.
        screen: Gives the width; as many diagrams stand side by side as fit.
    """
    instrument = voicings[0].instrument
    notes = [_notes(voicing) for voicing in voicings]
    # A cell begins with a margin, into which a long text of the one before may reach by one.
    longest = max(len(line) for under in notes for line in under)
    widest = max(longest, box_width(instrument))
    width = max(longest - 1, box_width(instrument) + 1)
    across = 1 + max(0, screen.width - widest) // width
    if across > 1:
        width = min(width + _MOST_SPACE, max(width, (screen.width - widest) // (across - 1)))
    room = min(width, widest) - len(_MARGIN)
    names = [fitting(one, room) for one in families]
    for start in range(0, len(voicings), across):
        yield ""
        group = slice(start, start + across)
        yield from _side_by_side(voicings[group], notes[group], names[group], width)


def fitting(names: tuple[str, ...], room: int) -> str:
    """The names that fit, and a sign where there are more.

    Args:
        names: Names, the most telling first.
        room: Characters at most; the first name is cut where it alone is longer.

    Example:
        >>> fitting(("drop-2", "triad-over-bass"), 16)
        'drop-2, …'
    """
    whole = ", ".join(names)
    for kept in range(len(names), 0, -1):
        text = whole if kept == len(names) else ", ".join((*names[:kept], _MORE))
        if len(text) <= room:
            return text
    return f"{whole[: room - 1].rstrip(' ,')}{_MORE}" if names else ""


def _notes(voicing: Voicing) -> tuple[str, str]:
    """The lines under a diagram: degrees and pitches."""
    return (
        under_strings(voicing, map(str, voicing.degrees)),
        under_strings(voicing, map(str, voicing.pitches)),
    )


def _side_by_side(
    voicings: Sequence[Voicing],
    notes: Sequence[tuple[str, str]],
    names: Sequence[str],
    width: int,
) -> Iterator[str]:
    """Draw diagrams of one height beside one another."""
    frets = max(map(box_frets, voicings))
    cells = [
        (f"{_MARGIN}{voicing.shape}", *box(voicing, frets=frets), *under)
        for voicing, under in zip(voicings, notes, strict=True)
    ]
    if any(names):
        cells = [(*cell, f"{_MARGIN}{name}") for cell, name in zip(cells, names, strict=True)]
    for parts in zip(*cells, strict=True):
        line = ""
        for place, part in enumerate(parts):
            line = line.ljust(place * width)
            line += part[len(line) - place * width :]
        yield line
