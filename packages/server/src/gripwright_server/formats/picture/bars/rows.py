"""Rows: which bars of a chart stand beside one another.

A section starts a row of its own. An ending that has no room beside the one before it stands below
the first, and a pickup stands before the bars of the first row (common practice).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, TypeAlias

import attrs

from gripwright.meter import Meter
from gripwright.tune.bar import Slot
from gripwright.tune.written import WrittenBar

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

_LEAST_PICKUP: Final = 0.45


@attrs.frozen
class Bracket:
    """The part of the bracket of an ending that stands over one bar.

    Args:
        text: The passes, where the ending starts, such as ``"1, 3."``; else empty.
        ends: Whether the bracket is closed after the bar.
        bars: How many bars the whole bracket spans.
    """

    text: str
    ends: bool
    bars: int


@attrs.frozen
class PlacedBar:
    """A bar at its place in a row.

    Args:
        written: The bar in its context.
        gripped: Its chords behind a capo, or None without one.
        column: Where it starts, in widths of a usual bar from the left.
        width: How wide it is, a usual bar being 1.
        bracket: What of an ending stands over it, or None.
        meter: The metre, where it is not that of the bar before; else None.
        ends_section: Whether it is the last of its section.
        ends_chart: Whether it is the last of all.

    Example:
        >>> from gripwright import Chart
        >>> (row,) = rows_of(Chart.parse("| C | F |").written, None, 4)
        >>> [(bar.column, bar.width, bar.ends_chart) for bar in row]
        [(0, 1, False), (1, 1, True)]
    """

    written: WrittenBar[Any]
    gripped: tuple[Slot[Any], ...] | None
    column: float
    width: float
    bracket: Bracket | None
    meter: Meter | None
    ends_section: bool
    ends_chart: bool


Row: TypeAlias = tuple[PlacedBar, ...]
"""Bars beside one another."""


def rows_of(
    written: Sequence[WrittenBar[Any]], gripped: Sequence[WrittenBar[Any]] | None, across: int
) -> Iterator[Row]:
    """Place the bars of a chart.

    Args:
        written: The bars.
        gripped: The same bars behind a capo, or None without one.
        across: Bars of a row, 1 or more.

    Example:
        >>> from gripwright import Chart
        >>> chart = Chart.parse("[A] |: C | F | G |1. C :|2. F | [B] | G | C |")
        >>> [[bar.column for bar in row] for row in rows_of(chart.written, None, 4)]
        [[0, 1, 2, 3], [3], [0, 1]]
    """
    brackets = _brackets(written)
    row: list[PlacedBar] = []
    column = first_ending = 0
    for place, bar in enumerate(written):
        if bar.opens or column >= across:
            yield from _fitted(row, across)
            row, column = [], 0
        if bar.bar.endings:
            bars = brackets[place].bars
            follows = not bar.opens and place - 1 in brackets
            if not follows:
                first_ending = column
            elif column == 0 or column + bars > across:
                yield from _fitted(row, across)
                row, column = [], first_ending if first_ending + bars <= across else 0
        following = written[place + 1] if place + 1 < len(written) else None
        # A pickup takes no column: what follows it is the first bar.
        is_pickup = bool(bar.lead_in)
        row.append(
            PlacedBar(
                written=bar,
                gripped=None if gripped is None else gripped[place].slots,
                column=column,
                width=max(_LEAST_PICKUP, float(bar.length / bar.meter.length)) if is_pickup else 1,
                bracket=brackets.get(place),
                meter=bar.meter if not place or bar.meter != written[place - 1].meter else None,
                ends_section=following is None or following.opens,
                ends_chart=following is None,
            )
        )
        column += not is_pickup
    yield from _fitted(row, across)


def _fitted(row: Sequence[PlacedBar], across: int) -> Iterator[Row]:
    """The row, if it holds any bar; with a pickup its bars are so much narrower."""
    if not row:
        return
    if not row[0].written.lead_in:
        yield tuple(row)
        return
    pickup = row[0].width
    scale = across / (across + pickup)
    yield tuple(
        attrs.evolve(
            bar,
            column=(bar.column + (pickup if place else 0)) * scale,
            width=bar.width * scale,
        )
        for place, bar in enumerate(row)
    )


def _brackets(written: Sequence[WrittenBar[Any]]) -> Mapping[int, Bracket]:
    """What of an ending stands over each bar.

    An ending reaches to its repeat sign. The last has none: its bracket is as long as that of the
    ending before, and left open.
    """
    brackets: dict[int, Bracket] = {}
    usual = 1
    for start, opening in enumerate(written):
        if not opening.bar.endings:
            continue
        end = start
        while written[end].bar.repeat_end is None and _goes_on(written, end + 1):
            end += 1
        closed = written[end].bar.repeat_end is not None
        if closed:
            usual = end - start + 1
        end = min(end, start + usual - 1)
        text = f"{', '.join(map(str, opening.bar.endings))}."
        for place in range(start, end + 1):
            brackets[place] = Bracket(
                text if place == start else "", closed and place == end, end - start + 1
            )
    return brackets


def _goes_on(written: Sequence[WrittenBar[Any]], place: int) -> bool:
    """Whether an ending that has come so far goes on in that bar."""
    if place == len(written):
        return False
    bar = written[place]
    return not (bar.opens or bar.bar.endings or bar.bar.repeat_start)
