"""A grip in a cell: its symbol, its shape, its neck, and words below."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.face import cut, fitted, lines_of, readable, text_width
from gripwright_rhythm.export.sheet.signs import symbol_of, typeset

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright import Voicing

_SYMBOL: Final = 11.0
_SHAPE: Final = 6.8
_WORDS: Final = 6.4
_LINE: Final = 7.8
_APART: Final = 5.0
_BELOW: Final = 8.0
_WIDE: Final = 95.0
_UNLABELLED: Final = 0.4


@attrs.frozen(kw_only=True)
class CellStyle:
    """How cells are drawn.

    Args:
        width: Width of a cell in points.
        scale: Points to a unit of a neck diagram.
        colours: The colours.
        label: What the dots carry.
        left_handed: Whether necks stand in a mirror.
        lines: Lines of words under a neck.
    """

    width: float
    scale: float
    colours: Colours
    label: str = "degree"
    left_handed: bool = False
    lines: int = 2


def grip_cell(
    voicing: Voicing,
    words: Sequence[str],
    style: CellStyle,
    *,
    frets: int | None = None,
    above: str = "",
) -> diagram.Picture:
    """Draw a grip.

    Args:
        voicing: The grip.
        words: What stands under the neck, a line each.
        style: How it is drawn.
        frets: Frets to show at least, so that the cells of a row have one height.
        above: What stands over it, small.
    """
    colours, room = style.colours, style.width - _APART
    marks: list[diagram.Mark] = []
    y = 0.0
    if above:
        size = fitted(readable(above), room, _SHAPE, 4.5)
        text = cut(readable(above), room, size)
        marks.append(diagram.Words(0, _SHAPE / 2, text, size, colours.faint, "start"))
        y += _SHAPE + 2.5
    symbol = symbol_of(voicing.chord)
    large = min(1.0, style.width / 70.0)
    size = fitted(symbol, room, _SYMBOL * large, 5.0, bold=True)
    shown = cut(symbol, room, size, bold=True)
    y += size / 2
    marks.append(diagram.Words(0, y, shown, size, colours.ink, "start", bold=True))
    left = text_width(shown, size, bold=True) + 5
    shape, y = voicing.shape, y + size / 2
    # Narrow cells have the shape below, all of a row alike.
    if style.width > _WIDE and left + text_width(shape, _SHAPE) <= room:
        marks.append(diagram.Words(left, y - size / 2 + 1, shape, _SHAPE, colours.faint, "start"))
    else:
        fit = fitted(shape, room, _SHAPE, 4.0)
        y += _SHAPE
        marks.append(
            diagram.Words(
                0, y - _SHAPE / 2 + 1.5, cut(shape, room, fit), fit, colours.faint, "start"
            )
        )
    neck = neck_of(voicing, style, frets)
    if neck.width > style.width - 1.0:
        # Necks of many strings are smaller, so that none reaches into the next cell.
        smaller = style.scale * (style.width - 1.0) / neck.width
        neck = neck_of(voicing, attrs.evolve(style, scale=smaller), frets)
    neck = neck.moved(0, y + 3.0)
    marks += neck.marks
    y = neck.height + 2.0
    for line in words[: style.lines]:
        text = readable(line)
        fit = fitted(text, room, _WORDS, 5.0)
        y += _LINE
        marks.append(
            diagram.Words(0, y - _LINE / 2, cut(text, room, fit), fit, colours.ink, "start")
        )
    y += _LINE * max(0, style.lines - len(words))
    return diagram.Picture(style.width, y + _BELOW, tuple(marks))


def neck_of(voicing: Voicing, style: CellStyle, frets: int | None = None) -> diagram.Picture:
    """The neck of a grip, at the size of the style.

    Args:
        voicing: The grip.
        style: How it is drawn.
        frets: Frets to show at least.
    """
    label = "none" if style.scale < _UNLABELLED else style.label
    look = diagram.Look(
        label=label, left_handed=style.left_handed, theme=style.colours.theme, compact=True
    )
    neck = diagram.neck_picture(voicing, look, title="", frets=frets)
    marks = tuple(
        attrs.evolve(mark, text=typeset(mark.text)) if isinstance(mark, diagram.Words) else mark
        for mark in neck.marks
    )
    return attrs.evolve(neck, marks=marks).scaled(style.scale)


def neck_width(voicing: Voicing, style: CellStyle) -> float:
    """How wide the neck of a grip is, in points."""
    return neck_of(voicing, style).width


def wrapped_words(text: str, width: float) -> list[str]:
    """Words under a neck, broken into lines that fit a cell.

    Args:
        text: The words.
        width: Width of the cell in points.
    """
    return lines_of(readable(text), width - _APART, _WORDS)
