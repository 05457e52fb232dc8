"""Notebooks: tables of voicings as pictures in a page of HTML."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice
from typing import Final

from gripwright.neck.diagram.picture import escaped
from gripwright.neck.diagram.svg import neck_svg
from gripwright.neck.voicing import Voicing

SHOWN: Final = 20
"""Voicings that a notebook shows of a table."""

_HEADINGS: Final = ("", "diagram", "frets", "degrees", "pitches", "reach")
_WIDTH: Final = 120.0


def table_html(voicings: Iterable[Voicing], count: int) -> str:
    """The first voicings as a table with a diagram in each row, as HTML (WHATWG).

    Args:
        voicings: The voicings, in their order; the first 20 are shown.
        count: How many there are.

    Returns:
        A table in ASCII, every text escaped.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
        >>> table = find_voicings(Chord.parse("C6"), ukulele)
        >>> table_html(table, len(table)).count("<svg")
        20
    """
    shown = list(islice(voicings, SHOWN))
    head = "".join(f'<th scope="col">{heading}</th>' for heading in _HEADINGS)
    rows = "".join(_row(place, voicing) for place, voicing in enumerate(shown, 1))
    caption = _caption(shown, count)
    return (
        f"<table><caption>{escaped(caption)}</caption>\n"
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody></table>\n"
    )


def _caption(shown: Sequence[Voicing], count: int) -> str:
    if not shown:
        return "no voicings"
    noun = "voicing" if count == 1 else "voicings"
    first = f"; the first {len(shown)}" if len(shown) < count else ""
    return f"{count:,} {noun} of {shown[0].chord} on {shown[0].instrument.name}{first}"


def _row(place: int, voicing: Voicing) -> str:
    cells = (
        voicing.shape,
        " ".join(voicing.degrees),
        " ".join(map(str, voicing.pitches)),
        f"{voicing.reach_mm:.1f} mm",
    )
    text = "".join(f"<td>{escaped(cell)}</td>" for cell in cells)
    picture = neck_svg(voicing, title="", width=_WIDTH)
    return f"<tr><td>{place}</td><td>{picture}</td>{text}</tr>\n"
