"""The ladder on paper: its rungs as strips of time, or the drills of one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_rhythm.export.sheet.ladder_sheet import ladder_pages, rung_pages
from gripwright_rhythm.export.sheet.pdf import pages_pdf
from gripwright_rhythm.export.sheet.svg import pages_svg

if TYPE_CHECKING:
    from gripwright_rhythm.export.sheet.page import Page
    from gripwright_server.operations.ladder import LadderRequest, LadderResult


def picture(request: LadderRequest, result: LadderResult) -> str:
    """The pages as SVG, one under the other.

    Args:
        request: Says how they look, and which rung.
        result: The rungs.
    """
    return pages_svg(_pages(request, result)).decode("ascii")


def document(request: LadderRequest, result: LadderResult) -> bytes:
    """The pages as PDF.

    Args:
        request: Says how they look, and which rung.
        result: The rungs.
    """
    return pages_pdf(_pages(request, result))


def _pages(request: LadderRequest, result: LadderResult) -> tuple[Page, ...]:
    if request.rung is None:
        return ladder_pages(result.meter, paper=request.paper, theme=request.theme)
    ((rung, parts),) = result.rungs
    return rung_pages(rung, parts, result.meter, paper=request.paper, theme=request.theme)
