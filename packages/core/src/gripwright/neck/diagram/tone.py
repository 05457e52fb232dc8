"""Tones: the mark of a sounding tone and of a muted string, told apart by their shape."""

from __future__ import annotations

from collections.abc import Iterator

from gripwright.neck.diagram.palette import Paint, Theme
from gripwright.neck.diagram.picture import Block, Disc, Line, Mark


def tone_mark(x: float, y: float, radius: float, paint: Paint, *, square: bool) -> Mark:
    """A dot: a circle, or a square for the root.

    Args:
        x: Its middle.
        y: Its middle.
        radius: Radius of the circle; the square is about as large.
        paint: Its colours.
        square: Whether it is a square.

    Example:
        >>> from gripwright.neck.diagram.palette import THEMES
        >>> type(tone_mark(10, 5, 6, THEMES["light"].root, square=True)).__name__
        'Block'
    """
    if square:
        side = 2 * radius - 1.2
        return Block(x, y, side, side, paint.fill, paint.edge, 1.6, corner=1.0)
    return Disc(x, y, radius - 0.5, paint.fill, paint.edge)


def cross(x: float, y: float, theme: Theme) -> Iterator[Mark]:
    """The sign of a muted string.

    Args:
        x: Its middle.
        y: Its middle.
        theme: The colours.

    Example:
        >>> from gripwright.neck.diagram.palette import THEMES
        >>> len(list(cross(10, 5, THEMES["light"])))
        2
    """
    for tilt in (4.0, -4.0):
        yield Line(x - 4, y - tilt, x + 4, y + tilt, 1.6, theme.ink)
