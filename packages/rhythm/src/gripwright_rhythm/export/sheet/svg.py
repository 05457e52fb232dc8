"""Pages as an SVG document: one page under the other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright import diagram
from gripwright_rhythm.export.sheet.face import BOLD, FAMILY, readable, text_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright_rhythm.export.sheet.page import Page

_FONTS: Final = f"'{FAMILY}', 'DejaVu Sans Condensed', 'DejaVu Sans', Verdana, sans-serif"
_BETWEEN: Final = 12.0


def pages_svg(pages: Sequence[Page]) -> bytes:
    """Write pages as SVG 1.1, in ASCII.

    Every text carries the width that it was laid out with, so that it keeps its place in whatever
    font it is shown.

    Args:
        pages: One page or more.
    """
    width = max(page.paper.width for page in pages)
    height = sum(page.paper.height for page in pages) + _BETWEEN * (len(pages) - 1)
    parts = []
    y = 0.0
    for page in pages:
        parts.append(_page(page, y))
        y += page.paper.height + _BETWEEN
    across, down = diagram.number(width), diagram.number(height)
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}pt" height="{down}pt"'
        f' viewBox="0 0 {across} {down}" role="group" font-family="{_FONTS}">\n'
        f"<title>{diagram.escaped(pages[0].title)}</title>\n{''.join(parts)}</svg>\n"
    )
    return text.encode("ascii")


def _page(page: Page, y: float) -> str:
    width, height = diagram.number(page.paper.width), diagram.number(page.paper.height)
    ground = f'<rect width="{width}" height="{height}" fill="{page.ground}"/>'
    marks = "".join(f"{_mark(mark)}\n" for mark in page.marks)
    return (
        f'<g transform="translate(0 {diagram.number(y)})" role="img">\n'
        f"<title>{diagram.escaped(page.title)}</title>\n"
        f"<desc>{diagram.escaped(readable(page.description))}</desc>\n{ground}\n{marks}</g>\n"
    )


def _mark(mark: diagram.Mark) -> str:
    return _words(mark) if isinstance(mark, diagram.Words) else mark.svg()


def _words(mark: diagram.Words) -> str:
    number = diagram.number
    text = readable(mark.text)
    outline = ""
    if mark.bold:
        outline = f' stroke="{mark.colour}" stroke-width="{mark.size * BOLD:.3f}"'
    return (
        f'<text x="{number(mark.x)}" y="{number(mark.y + diagram.HALF_HEIGHT * mark.size)}"'
        f' font-size="{number(mark.size)}" text-anchor="{mark.anchor}"'
        f' textLength="{number(max(0.01, text_width(text, mark.size)))}"'
        f' lengthAdjust="spacingAndGlyphs" fill="{mark.colour}"{outline}>'
        f"{diagram.escaped(text)}</text>"
    )
