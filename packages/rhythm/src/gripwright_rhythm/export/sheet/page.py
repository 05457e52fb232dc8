"""Pages: what is drawn on one sheet of paper, before any format."""

from __future__ import annotations

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.paper import Paper


@attrs.frozen
class Page:
    """Marks on paper, whose corner at the top left is (0, 0), in points.

    Args:
        paper: The paper.
        ground: Its colour, as ``#RRGGBB``.
        marks: What is drawn, later marks over earlier ones.
        title: What it is, in a few words.
        description: What it shows, for those who cannot see it.
    """

    paper: Paper
    ground: str
    marks: tuple[diagram.Mark, ...]
    title: str
    description: str = ""
