"""What stands in a bar: its metre, chords, the sign for the same again, and its rhythm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.neck.diagram.picture import Disc, Line, Words, size_within, width_in_ems
from gripwright_server.formats.picture.bars.rhythm import beats, drawn_rhythm, has_rhythm, slash
from gripwright_server.formats.picture.bars.spacing import placed_symbols, symbol_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.meter import Meter
    from gripwright.neck.diagram.palette import Theme
    from gripwright.neck.diagram.picture import Mark
    from gripwright_server.formats.picture.bars.rows import PlacedBar
    from gripwright_server.formats.picture.bars.space import Space

_GRIPPED: Final = 15.0
_METER: Final = 17.0
_PAD: Final = 10.0
_REPEAT_PAD: Final = 19.0
_BETWEEN: Final = 7.0
_HELD_PAD: Final = 7.0


def inset(bar: PlacedBar, left: float, right: float) -> tuple[float, float]:
    """Where the beats of a bar start and end, clear of its lines and its metre.

    Args:
        bar: The bar.
        left: The line before it.
        right: The line after it.
    """
    signs = bar.written.bar
    start = left + (_REPEAT_PAD if signs.repeat_start else _PAD)
    if bar.meter is not None:
        start += _meter_width(bar.meter) + _BETWEEN
    return start, right - (_REPEAT_PAD - _BETWEEN if signs.repeat_end is not None else 0.0)


def smallest_symbol(bar: PlacedBar, width: float) -> float:
    """The size at which the chords of a bar keep clear of one another.

    Args:
        bar: The bar.
        width: Its width, from line to line.

    Example:
        >>> from gripwright import Chart
        >>> from gripwright_server.formats.picture.bars.rows import rows_of
        >>> (row,) = rows_of(Chart.parse("| Dm7 G7 | Cmaj7 |").written, None, 4)
        >>> smallest_symbol(row[0], 160.0) > smallest_symbol(row[0], 60.0)
        True
    """
    return placed_symbols(bar.written, *inset(bar, 0.0, width))[0]


def contents(bar: PlacedBar, space: Space, theme: Theme) -> Iterator[Mark]:
    """All that stands between the lines of a bar.

    Args:
        bar: The bar.
        space: Its room.
        theme: The colours.
    """
    written = bar.written
    if bar.meter is not None:
        yield from _meter(bar.meter, space, theme)
    if written.bar.same:
        yield from _same_again((space.left + space.right - _PAD) / 2, space.symbol_y, theme)
        return
    if not written.bar.slots and written.bar.hits is None:
        # The chord before goes on: a slash a beat.
        for beat in beats(written):
            yield from slash(space.x(beat, written.length) + 4, space.symbol_y, 7.0, theme.faint)
    yield from _chords(bar, space, theme)
    if has_rhythm(written):
        yield from drawn_rhythm(written, space, theme)


def _chords(bar: PlacedBar, space: Space, theme: Theme) -> Iterator[Mark]:
    """The chords, and below each what is gripped for it."""
    slots = bar.written.bar.slots
    size, places = placed_symbols(bar.written, space.left, space.right)
    for slot, x in zip(slots, places, strict=True):
        text = symbol_text(slot)
        if slot.held:
            yield from _lozenge(x, space.symbol_y, width_in_ems(text) * size, size, theme)
        yield Words(x, space.symbol_y, text, size, theme.ink, "start", bold=True)
    if bar.gripped is None:
        return
    ends = [*places, space.right][1:]
    for slot, x, end in zip(bar.gripped, places, ends, strict=True):
        if slot.symbol is not None:
            text = symbol_text(slot)
            small = size_within(text, end - x - _BETWEEN, _GRIPPED)
            yield Words(x, space.gripped_y, text, small, theme.ink, "start")


def _lozenge(x: float, y: float, width: float, size: float, theme: Theme) -> Iterator[Mark]:
    """The outline of a held chord."""
    half = size * 0.62
    points = (
        *((x - _HELD_PAD, y), (x - 2, y - half), (x + width + 2, y - half)),
        *((x + width + _HELD_PAD, y), (x + width + 2, y + half), (x - 2, y + half)),
    )
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        yield Line(x1, y1, x2, y2, 1.2, theme.ink)


def _meter_texts(meter: Meter) -> tuple[str, str]:
    count, _, unit = str(meter).partition("/")
    return count, unit


def _meter_width(meter: Meter) -> float:
    return _METER * max(map(width_in_ems, _meter_texts(meter)))


def _meter(meter: Meter, space: Space, theme: Theme) -> Iterator[Mark]:
    """The count over the unit, before the first beat."""
    x = space.left - _BETWEEN - _meter_width(meter) / 2
    for text, side in zip(_meter_texts(meter), (-1, 1), strict=True):
        yield Words(x, space.symbol_y + side * _METER * 0.47, text, _METER, theme.ink, bold=True)


def _same_again(x: float, y: float, theme: Theme) -> Iterator[Mark]:
    """A slash between two dots: the bar before once more."""
    yield Line(x - 8, y + 9, x + 8, y - 9, 3.0, theme.ink)
    yield Disc(x - 8, y - 5, 2.2, theme.ink, theme.ink)
    yield Disc(x + 8, y + 5, 2.2, theme.ink, theme.ink)
