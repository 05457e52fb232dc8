"""Pages as a PDF document, by reportlab, with the typeface embedded."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from gripwright import diagram
from gripwright_rhythm.export.sheet.face import BOLD, FONT_NAME, font, readable, text_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright_rhythm.export.sheet.page import Page

_FILL_AND_STROKE: Final = 2
_ROUND: Final = 1
_SHARES: Final[dict[diagram.Anchor, float]] = {"start": 0.0, "middle": 0.5, "end": 1.0}


def pages_pdf(pages: Sequence[Page]) -> bytes:
    """Write pages as PDF 1.4; equal pages give equal bytes.

    Each page has its title among the bookmarks.

    Args:
        pages: One page or more.
    """
    # Late on purpose: plugins are loaded without what their formats need.
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    font()
    buffer = BytesIO()
    first = pages[0].paper
    canvas = Canvas(
        buffer, pagesize=(first.width, first.height), invariant=1, initialFontName=FONT_NAME
    )
    canvas.setTitle(pages[0].title)
    canvas.setAuthor("")
    canvas.setCreator("Gripwright")
    for number, page in enumerate(pages):
        canvas.setPageSize((page.paper.width, page.paper.height))
        canvas.bookmarkPage(str(number))
        canvas.addOutlineEntry(page.title, str(number))
        _page(canvas, page)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _page(canvas: Any, page: Page) -> None:  # noqa: ANN401 - reportlab ships no types
    height = page.paper.height
    canvas.setLineCap(_ROUND)
    if page.ground != "#FFFFFF":
        canvas.setFillColor(page.ground)
        canvas.rect(0, 0, page.paper.width, height, stroke=0, fill=1)
    for mark in page.marks:
        if isinstance(mark, diagram.Words):
            _words(canvas, mark, height)
        elif isinstance(mark, diagram.Line):
            canvas.setStrokeColor(mark.colour)
            canvas.setLineWidth(mark.width)
            canvas.line(mark.x1, height - mark.y1, mark.x2, height - mark.y2)
        else:
            canvas.setFillColor(mark.fill)
            canvas.setStrokeColor(mark.edge)
            canvas.setLineWidth(mark.edge_width)
            # A width of 0 is the thinnest line that a printer can draw, not none.
            edged = int(mark.edge_width > 0)
            if isinstance(mark, diagram.Disc):
                canvas.circle(mark.x, height - mark.y, mark.radius, stroke=edged, fill=1)
            else:
                _block(canvas, mark, height, edged)


def _block(canvas: Any, mark: diagram.Block, height: float, edged: int) -> None:  # noqa: ANN401
    left, bottom = mark.x - mark.width / 2, height - mark.y - mark.height / 2
    size = (mark.width, mark.height)
    if mark.corner:
        canvas.roundRect(left, bottom, *size, mark.corner, stroke=edged, fill=1)
    else:
        canvas.rect(left, bottom, *size, stroke=edged, fill=1)


def _words(canvas: Any, mark: diagram.Words, height: float) -> None:  # noqa: ANN401
    text = readable(mark.text)
    x = mark.x - _SHARES[mark.anchor] * text_width(text, mark.size)
    y = height - mark.y - diagram.HALF_HEIGHT * mark.size
    canvas.saveState()
    canvas.setFillColor(mark.colour)
    words = canvas.beginText(x, y)
    words.setFont(FONT_NAME, mark.size)
    if mark.bold:
        canvas.setStrokeColor(mark.colour)
        canvas.setLineWidth(mark.size * BOLD)
        words.setTextRenderMode(_FILL_AND_STROKE)
    words.textOut(text)
    canvas.drawText(words)
    canvas.restoreState()
