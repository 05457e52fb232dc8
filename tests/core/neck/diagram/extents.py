"""How much of the plane each mark of a picture takes up."""

from itertools import combinations

import attrs

from gripwright.neck.diagram import HALF_HEIGHT, Block, Disc, Line, Mark, Picture, Words
from gripwright.neck.diagram.picture import width_in_ems


@attrs.frozen
class Extent:
    """The edges of what a mark paints."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> tuple[float, float]:
        """The place in its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def holds(self, other: "Extent", slack: float = 1e-6) -> bool:
        """Tell whether another lies in it."""
        return (
            self.left - slack <= other.left
            and other.right <= self.right + slack
            and self.top - slack <= other.top
            and other.bottom <= self.bottom + slack
        )

    def meets(self, other: "Extent", slack: float = 1e-6) -> bool:
        """Tell whether two share more than an edge."""
        return (
            self.left + slack < other.right
            and other.left + slack < self.right
            and self.top + slack < other.bottom
            and other.top + slack < self.bottom
        )


def extent(mark: Mark) -> Extent:
    """The edges of a mark; of a text, those of its capitals, by their usual widths."""
    if isinstance(mark, Line):
        half = mark.width / 2
        (left, right), (top, bottom) = sorted((mark.x1, mark.x2)), sorted((mark.y1, mark.y2))
        return Extent(left - half, top - half, right + half, bottom + half)
    if isinstance(mark, Disc):
        across = down = mark.radius + mark.edge_width / 2
        return Extent(mark.x - across, mark.y - down, mark.x + across, mark.y + down)
    if isinstance(mark, Block):
        across, down = (side / 2 + mark.edge_width / 2 for side in (mark.width, mark.height))
        return Extent(mark.x - across, mark.y - down, mark.x + across, mark.y + down)
    width, half = width_in_ems(mark.text) * mark.size, HALF_HEIGHT * mark.size
    left = mark.x - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
    return Extent(left, mark.y - half, left + width, mark.y + half)


def plane(picture: Picture) -> Extent:
    """The edges of a picture."""
    return Extent(0.0, 0.0, picture.width, picture.height)


def words(picture: Picture) -> list[Words]:
    """The texts of a picture that say something."""
    return [mark for mark in picture.marks if isinstance(mark, Words) and mark.text]


def tones(picture: Picture) -> list[Disc | Block]:
    """Dots, rings and squares; keys and bars are no squares."""
    return [
        mark
        for mark in picture.marks
        if isinstance(mark, Disc) or (isinstance(mark, Block) and mark.width == mark.height)
    ]


def crosses(picture: Picture) -> list[Line]:
    """The strokes that lean: those of the signs of muted strings."""
    return [
        mark
        for mark in picture.marks
        if isinstance(mark, Line) and mark.x1 != mark.x2 and mark.y1 != mark.y2
    ]


def meetings(marks: list[Disc | Block] | list[Words]) -> list[tuple[Mark, Mark]]:
    """The pairs of marks that lie over one another."""
    return [
        (one, other) for one, other in combinations(marks, 2) if extent(one).meets(extent(other))
    ]
