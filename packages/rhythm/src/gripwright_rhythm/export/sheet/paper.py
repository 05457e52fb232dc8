"""Paper: the sizes that sheets are printed on."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.named import Named

POINTS_PER_INCH: Final = 72.0
_MM_PER_INCH: Final = 25.4


@attrs.frozen
class Paper:
    """A size of paper, upright.

    Args:
        name: Its name.
        width: In points, 72 to the inch.
        height: In points.
        margin: What printers leave white on each side, and more, in points.
    """

    name: str
    width: float
    height: float
    margin: float = 28.0

    @property
    def right(self) -> float:
        """Where the margin on the right starts."""
        return self.width - self.margin

    @property
    def bottom(self) -> float:
        """Where the margin at the foot starts."""
        return self.height - self.margin

    @property
    def room(self) -> float:
        """The width between the margins."""
        return self.width - 2 * self.margin


_SIZES: Final = (
    # ISO 216; and US Letter, ANSI/ASME Y14.1 size A.
    Paper("a4", 210 / _MM_PER_INCH * POINTS_PER_INCH, 297 / _MM_PER_INCH * POINTS_PER_INCH),
    Paper("letter", 8.5 * POINTS_PER_INCH, 11 * POINTS_PER_INCH),
)

PAPERS: Final[Named[Paper]] = Named(
    {paper.name: paper for paper in _SIZES},
    kind="paper",
    hint=f"known are {', '.join(paper.name for paper in _SIZES)}",
)
"""Every size, by name."""
