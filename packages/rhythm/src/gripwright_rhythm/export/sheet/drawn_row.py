"""Rows as they are drawn: lines between bars, cards over time strips, words over bars."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.card import Grips, cards_of, drawn_card, least_width, places_of
from gripwright_rhythm.export.sheet.face import cut, fitted, text_width
from gripwright_rhythm.export.sheet.rows import APART, Row
from gripwright_rhythm.export.sheet.signs import symbol_of
from gripwright_rhythm.export.sheet.strip import (
    AXIS,
    STANDS_OUT,
    TAG_LEAST,
    TAG_SIZE,
    TAGS,
    Sounding,
    Strip,
    drawn_strip,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright import Voicing
    from gripwright_rhythm.export.sheet.colours import Colours
    from gripwright_rhythm.export.sheet.drawn_bar import DrawnBar, Piece
    from gripwright_rhythm.export.sheet.rows import Cell

SIDE: Final = 20.0
"""Room on the left of a row, for letters of sections and numbers of bars."""

_LABELS: Final = 9.0
_LABEL_SIZE: Final = 7.0
_GAP: Final = 5.5
_NUMBER: Final = 6.0
_LETTER: Final = 12.0
_LINE: Final = 0.8
_THICK: Final = 2.4
_BESIDE: Final = 3.0
_DOT: Final = 1.1
_REPEAT: Final = 8.0
_TIMES: Final = 10.0
_ASIDE: Final = 20.0
_ACCENT: Final = ">"
_PUSH: Final = "\u2192"
_TRACK: Final = 0.16
_LOWEST: Final = 10.5
_HIGHEST: Final = 21.0


@attrs.frozen
class Lanes:
    """What stands at which height in a row, from its upper edge.

    Args:
        cards: The upper edge of the cards.
        tags: Their lower edge.
        track: The upper edge of the bars of the strip.
        axis: Their lower edge.
        bottom: The lower edge of the strip.
    """

    cards: float
    tags: float
    track: float
    axis: float
    bottom: float

    @classmethod
    def of(cls, row: Row, height: float) -> Lanes:
        """The lanes of a row that is so high, the room under it counted."""
        bottom = height - _GAP
        axis = bottom - AXIS
        track = axis - min(_HIGHEST, max(_LOWEST, height * _TRACK))
        tags = track - STANDS_OUT - (TAGS if any(strip_of(cell.bar).tagged for cell in row) else 1)
        labels = _LABELS if any(cell.label for cell in row) else 1.0
        return cls(labels, tags, track, axis, bottom)


def strip_of(bar: DrawnBar) -> Strip:
    """The time strip of a bar."""
    soundings = tuple(
        Sounding(
            piece.start,
            piece.end,
            "approach" if piece.event.approach else "short" if piece.event.short else "long",
            piece.attacked,
            piece.released,
            _tag(piece),
        )
        for piece in bar.pieces
    )
    return Strip(bar.length, soundings, bar.ticks, bar.clicks)


def _tag(piece: Piece) -> str:
    event = piece.event
    if not piece.attacked:
        return ""
    push = f"{_PUSH}{symbol_of(event.chord)}" if event.push else ""
    return f"{_ACCENT if event.accent else ''}{push}"


def drawn_row(
    row: Row,
    x: float,
    y: float,
    *,
    height: float,
    scale: float,
    grips: Grips,
    colours: Colours,
) -> Iterator[diagram.Mark]:
    """Draw a row.

    Args:
        row: The row.
        x: Where its first bar starts; what stands beside it keeps within `SIDE` to the left.
        y: Its upper edge.
        height: Its height, the room under it counted.
        scale: Points to a quarter.
        grips: How grips are drawn.
        colours: The colours.
    """
    lanes = Lanes.of(row, height)
    yield from _side(row, x, y, lanes, colours)
    before: Cell | None = None
    drawn: Voicing | None = None
    tags: list[tuple[float, float, str]] = []
    left = x
    for cell in row:
        if cell.apart and before is not None:
            yield from _line(before, None, left, y, lanes=lanes, colours=colours)
            left += APART
            before = drawn = None
        right = left + float(cell.bar.length) * scale
        if cell.label:
            yield from _label(cell, left, right, y, colours)
        cards = cards_of(cell.bar)
        agains = []
        for card in cards:
            agains.append(card.voicing is not None and card.voicing == drawn)
            drawn = card.voicing or drawn
        widths = [
            least_width(card, again=again, grips=grips)
            for card, again in zip(cards, agains, strict=True)
        ]
        places = places_of(cards, widths, *_inside(cell, left, right), scale)
        for card, again, (start, width) in zip(cards, agains, places, strict=True):
            yield from drawn_card(
                card,
                start,
                y + lanes.cards + 1.0,
                width,
                lanes.tags - lanes.cards - 1.0,
                again=again,
                grips=grips,
                colours=colours,
            )
        strip = strip_of(cell.bar)
        track = lanes.axis - lanes.track
        yield from drawn_strip(
            strip, left, y + lanes.track, scale=scale, height=track, colours=colours
        )
        yield from _line(before, cell, left, y, lanes=lanes, colours=colours)
        tags += [
            (left + float(one.start) * scale, right, one.tag) for one in strip.soundings if one.tag
        ]
        before, left = cell, right
    yield from _line(before, None, left, y, lanes=lanes, colours=colours)
    yield from _tags(tags, x - SIDE / 2, y + lanes.track - STANDS_OUT - TAGS / 2, colours)


def _label(
    cell: Cell, left: float, right: float, y: float, colours: Colours
) -> Iterator[diagram.Mark]:
    room = right - left - 4
    size = fitted(cell.label, room, _LABEL_SIZE, 5.0, bold=True)
    text = cut(cell.label, room, size, bold=True)
    yield diagram.Words(left + 1, y + _LABELS / 2, text, size, colours.ink, "start", bold=True)


def _inside(cell: Cell, left: float, right: float) -> tuple[float, float]:
    """Where the cards of a bar have their room, clear of its lines."""
    start = left + (_REPEAT if cell.repeats else 0.0)
    if cell.times > 1:
        return start, right - _REPEAT - text_width(_times(cell), _TIMES, bold=True)
    return start, right - (_BESIDE if cell.double or cell.final else 0.0)


def _times(cell: Cell) -> str:
    return f"\u00d7{cell.times}"


def _tags(
    tags: list[tuple[float, float, str]], left: float, y: float, colours: Colours
) -> Iterator[diagram.Mark]:
    """What stands over the starts of chords: in their bars, as near as it can be read.

    What has no room between its neighbours, or is no longer near its chord, is left out.

    Args:
        tags: Where each chord starts, where its bar ends, and the text.
        left: Where they may start.
        y: Their middle.
        colours: The colours.
    """
    placed = []
    before = float("inf")
    for at, bar_end, text in reversed(tags):
        edge = min(before, bar_end - 1.5)
        wide = text_width(text, TAG_SIZE, bold=True)
        x = min(at, edge - wide)
        size = TAG_SIZE
        if x < at - _ASIDE:
            size = fitted(text, edge - at + _ASIDE, TAG_SIZE, TAG_LEAST, bold=True)
            x = edge - text_width(text, size, bold=True)
        if x < max(at - 2 * _ASIDE, left):
            continue
        placed.append(diagram.Words(x, y, text, size, colours.ink, "start", bold=True))
        before = x - 2.0
    yield from reversed(placed)


def _side(row: Row, x: float, y: float, lanes: Lanes, colours: Colours) -> Iterator[diagram.Mark]:
    """The letter of a section, and the number of the first bar."""
    counted = next((cell for cell in row if cell.counted), None)
    first = row[0] if counted is None else counted
    section = first.bar.section if first.place else None
    middle = x - SIDE / 2 - 2.0
    if section:
        room = SIDE - 7.0
        size = fitted(section, room, 10.0, 4.5, bold=True)
        text = cut(section, room, size, bold=True)
        width = max(_LETTER, text_width(text, size, bold=True) + 3.0)
        at = y + lanes.cards + _LETTER / 2 + 1.0
        yield diagram.Block(middle, at, width, _LETTER, colours.ground, colours.ink, 1.0)
        yield diagram.Words(middle, at, text, size, colours.ink, bold=True)
    if first.place:
        at = y + (lanes.track + lanes.axis) / 2
        yield diagram.Words(x - 4.0, at, str(first.place), _NUMBER, colours.faint, "end")


def _line(
    left: Cell | None, right: Cell | None, x: float, y: float, *, lanes: Lanes, colours: Colours
) -> Iterator[diagram.Mark]:
    """The line between two bars."""
    top, bottom = y + lanes.cards, y + lanes.axis
    closes = left is not None and left.times > 1
    final = left is not None and left.final
    opens = right is not None and right.repeats
    thick = closes or final or opens
    yield diagram.Line(x, top, x, bottom, _THICK if thick else _LINE, colours.ink)
    # Second lines and dots keep to the cards: in the strip they would look like chords.
    low = y + lanes.tags
    if closes or final or (left is not None and left.double):
        yield diagram.Line(x - _BESIDE, top, x - _BESIDE, low, _LINE, colours.ink)
    if opens:
        yield diagram.Line(x + _BESIDE, top, x + _BESIDE, low, _LINE, colours.ink)
    if left is not None and closes:
        at = x - _REPEAT
        size = _TIMES
        words = diagram.Words(at, y + lanes.cards + 6.0, _times(left), size, colours.ink, "end")
        yield attrs.evolve(words, bold=True)
    for side, wanted in ((-1, closes), (1, opens)):
        for part in (0.4, 0.6) if wanted else ():
            at = y + lanes.cards + part * (lanes.tags - lanes.cards)
            yield diagram.Disc(x + side * (_BESIDE + 3.2), at, _DOT, colours.ink, colours.ink, 0.0)
