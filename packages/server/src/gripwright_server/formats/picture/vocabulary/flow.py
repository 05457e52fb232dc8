"""Pieces of a document that flow from page to page."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.face import cut, fitted, readable, text_width
from gripwright_rhythm.export.sheet.page import Page

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gripwright_rhythm.export.sheet.colours import Colours
    from gripwright_rhythm.export.sheet.paper import Paper

FOOT: Final = 24.0
"""Height of what stands at the bottom of each page."""

_HEAD: Final = 24.0
_SIZE: Final = 7.0
_SIGN: Final = 4.2
_CAUTION: Final = "Warm up first, and stop at the first sign of pain."


@attrs.frozen
class Piece:
    """A part of a document that is not split.

    Args:
        picture: What is drawn; its left edge comes to stand at the margin.
        joined: Whether what follows starts on the same page.
        new_page: Whether it starts a page.
    """

    picture: diagram.Picture
    joined: bool = False
    new_page: bool = False


@attrs.frozen
class _Run:
    """Pieces that stand together."""

    pieces: tuple[Piece, ...]

    @property
    def height(self) -> float:
        return sum(piece.picture.height for piece in self.pieces)


def flowed(
    pieces: Iterable[Piece], *, title: str, description: str, paper: Paper, colours: Colours
) -> tuple[Page, ...]:
    """Pages that hold the pieces in their order.

    Args:
        pieces: The pieces, one or more, none of them higher than a page.
        title: What stands at the top of each page but the first, and in its bookmark.
        description: What the document shows, for those who cannot see it.
        paper: The paper.
        colours: The colours.
    """
    bottom = paper.bottom - FOOT
    sheets: list[list[diagram.Mark]] = [[]]
    y = paper.margin
    for run in _runs(pieces):
        full = y + run.height > bottom and bool(sheets[-1])
        if full or (run.pieces[0].new_page and sheets[-1]):
            sheets.append([])
            y = paper.margin + _HEAD
        for piece in run.pieces:
            sheets[-1] += piece.picture.moved(paper.margin, y).marks
            y += piece.picture.height
    pages = []
    for number, marks in enumerate(sheets, 1):
        count = f"page {number} of {len(sheets)}" if len(sheets) > 1 else ""
        head = list(_short_head(title, paper, colours)) if number > 1 else []
        foot = _foot(count, paper, colours)
        name = ", ".join(filter(None, (readable(title), count)))
        pages.append(Page(paper, colours.ground, (*head, *marks, *foot), name, description))
    return tuple(pages)


def _runs(pieces: Iterable[Piece]) -> Iterator[_Run]:
    """Pieces that are joined, together."""
    run: list[Piece] = []
    for piece in pieces:
        run.append(piece)
        if not piece.joined:
            yield _Run(tuple(run))
            run = []
    if run:
        yield _Run(tuple(run))


def beside(pictures: Sequence[diagram.Picture], step: float) -> diagram.Picture:
    """Pictures in a row, each so far from the one before.

    Args:
        pictures: The pictures, one or more.
        step: From the left edge of one to that of the next, in points.
    """
    marks = [
        mark for place, one in enumerate(pictures) for mark in one.moved(place * step, 0).marks
    ]
    height = max(one.height for one in pictures)
    return diagram.Picture(step * len(pictures), height, tuple(marks))


def _short_head(title: str, paper: Paper, colours: Colours) -> Iterator[diagram.Mark]:
    text = readable(title)
    size = fitted(text, paper.room, 11.0, 6.0, bold=True)
    shown = cut(text, paper.room, size, bold=True)
    y = paper.margin + 5
    yield diagram.Words(paper.margin, y, shown, size, colours.ink, "start", bold=True)
    yield diagram.Line(paper.margin, y + 9, paper.right, y + 9, 0.3, colours.guide)


def _foot(count: str, paper: Paper, colours: Colours) -> Iterator[diagram.Mark]:
    """What the signs mean, a word of caution, and the number of the page."""
    theme = colours.theme
    y = paper.bottom - 7
    yield diagram.Line(paper.margin, y - 10, paper.right, y - 10, 0.5, colours.ink)
    x = paper.margin + _SIGN
    ring = diagram.Paint(fill=theme.page, edge=theme.ink, text=theme.ink)
    for paint, square, words in (
        (theme.root, True, "root"),
        (theme.tone, False, "other tone"),
        (ring, False, "open string"),
    ):
        mark = diagram.tone_mark(0, 0, 8.0, paint, square=square)
        yield mark.scaled(_SIGN / 8.0).moved(x, y)
        yield diagram.Words(x + 8, y, words, _SIZE, colours.ink, "start")
        x += 20 + text_width(words, _SIZE)
    for mark in diagram.cross(0, 0, theme):
        yield mark.scaled(0.6).moved(x, y)
    yield diagram.Words(x + 7, y, "muted", _SIZE, colours.ink, "start")
    yield diagram.Words(
        paper.margin + paper.room / 2 + 40, y, _CAUTION, _SIZE, colours.faint, "middle"
    )
    yield diagram.Words(paper.right, y, count, _SIZE, colours.faint, "end")
