"""Bar lines: plain, double, final, and those of repeats with their dots."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.neck.diagram.picture import Disc, Line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.neck.diagram.palette import Theme
    from gripwright.neck.diagram.picture import Mark
    from gripwright_server.formats.picture.bars.rows import PlacedBar

_THIN: Final = 1.2
_THICK: Final = 4.0
_APART: Final = 5.5
_DOTS_APART: Final = 11.5
_DOT: Final = 2.0
_DOTS_AT: Final = (0.36, 0.64)


def bar_line(
    left: PlacedBar | None,
    right: PlacedBar | None,
    x: float,
    *,
    top: float,
    bottom: float,
    theme: Theme,
) -> Iterator[Mark]:
    """The line between two bars of a row, or at its start or end.

    Args:
        left: The bar before it, or None at the start of a row.
        right: The bar after it, or None at the end of a row.
        x: Where it stands.
        top: Its upper end.
        bottom: Its lower end.
        theme: The colours.
    """
    repeats = left is not None and left.written.bar.repeat_end is not None
    starts = right is not None and right.written.bar.repeat_start
    final = left is not None and left.ends_chart
    if repeats or starts or final:
        yield Line(x, top, x, bottom, _THICK, theme.ink)
    else:
        yield Line(x, top, x, bottom, _THIN, theme.ink)
    if repeats or final or (left is not None and _is_double(left)):
        yield Line(x - _APART, top, x - _APART, bottom, _THIN, theme.ink)
    if repeats:
        yield from _dots(x - _DOTS_APART, top, bottom, theme)
    if starts:
        yield Line(x + _APART, top, x + _APART, bottom, _THIN, theme.ink)
        yield from _dots(x + _DOTS_APART, top, bottom, theme)


def _is_double(bar: PlacedBar) -> bool:
    """Whether a double line ends the bar: after a section, and where the order of bars changes."""
    return bar.ends_section or bar.written.bar.fine or bar.written.bar.jump is not None


def _dots(x: float, top: float, bottom: float, theme: Theme) -> Iterator[Mark]:
    for part in _DOTS_AT:
        yield Disc(x, top + part * (bottom - top), _DOT, theme.ink, theme.ink)
