"""The steps of a line in columns: each grip with what the step to it costs."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.cost_row import CostRow

_GAP: Final = "  "
_TOTAL: Final = "cost"
_ALWAYS: Final = frozenset({"voices", "hand", "grip"})
_LEAST_WIDTH: Final = 20

FOOT: Final = "Costs are half steps of voice motion; --weigh-motion and its like weigh them"
"""What stands below the table."""


class Step(Protocol):
    """A row with a grip and its cost."""

    @property
    def shape(self) -> str:
        """The shape as players write it."""

    @property
    def pitches(self) -> tuple[str, ...]:
        """Pitches of the sounding strings."""

    @property
    def top(self) -> str:
        """The top note."""

    @property
    def cost(self) -> CostRow:
        """What the step costs, part by part."""


def step_lines(
    rows: Sequence[Step], before: Mapping[str, Sequence[str]], used: str, screen: Screen
) -> Iterator[str]:
    """A line a step: what stands before the grip, the grip, its top note and the cost.

    Args:
        rows: The steps, one or more.
        before: Columns before the grip, by their heads.
        used: The head of the surcharges, which are left out where none is paid.
        screen: Gives the width; where there is no room for all, the pitches stand below the grip,
            and where that does not help the parts of the cost are left out.
    """
    columns = [_column(head, cells) for head, cells in before.items()]
    shapes = _column("grip", [row.shape for row in rows])
    pitches = _column("pitches", [" ".join(row.pitches) for row in rows])
    tops = _column("top", [row.top for row in rows])
    parts = _parts([row.cost for row in rows], used)
    beside = _joined([*columns, shapes, pitches, tops, parts])
    if _fits(beside, screen):
        yield screen.strong(beside[0])
        yield from beside[1:]
        return
    below = _joined([*columns, shapes, tops, parts])
    if not _fits(below, screen):
        below = _joined([*columns, shapes, tops, [line[: len(_TOTAL) + 2] for line in parts]])
    yield screen.strong(below[0])
    margin = " " * sum(len(column[0]) + len(_GAP) for column in columns[:1])
    for line, row in zip(below[1:], rows, strict=True):
        yield line
        yield screen.faint(f"{margin}{' '.join(row.pitches)}")


def sum_lines(top_line: Sequence[str], cost: CostRow, used: str, screen: Screen) -> Iterator[str]:
    """The top line as notes to sing, and the cost of the whole with its parts.

    Args:
        top_line: The top notes.
        cost: The cost of all steps.
        used: The word for surcharges.
        screen: Gives the width.
    """
    heads = _heads([cost], used)
    parts = ", ".join(f"{head} {_number(value)}" for head, (value,) in heads.items())
    yield from wrapped(f"To sing: {' '.join(top_line)}", screen)
    yield from wrapped(f"Cost: {_number(cost['total'])} ({parts})", screen)


def wrapped(text: str, screen: Screen) -> list[str]:
    """A sentence wrapped to the screen."""
    return textwrap.wrap(text, max(screen.width, _LEAST_WIDTH), subsequent_indent="  ")


def _heads(costs: Sequence[CostRow], used: str) -> dict[str, list[float]]:
    """The parts of costs under their heads."""
    heads = {
        "voices": [cost["motion"] for cost in costs],
        "hand": [cost["travel"] for cost in costs],
        "top": [cost["top"] for cost in costs],
        "grip": [cost["ease"] for cost in costs],
        used: [cost["surcharge"] for cost in costs],
    }
    # A top line that is free, and grips that pay nothing for being used, need no column.
    return {head: parts for head, parts in heads.items() if head in _ALWAYS or any(parts)}


def _parts(costs: Sequence[CostRow], used: str) -> list[str]:
    total = [_number(cost["total"]) for cost in costs]
    width = max(len(_TOTAL) + 2, *map(len, total))
    columns = [[text.rjust(width) for text in (_TOTAL, *total)]]
    for head, values in _heads(costs, used).items():
        cells = [head, *map(_number, values)]
        columns.append([text.rjust(max(map(len, cells))) for text in cells])
    return [" ".join(cells) for cells in zip(*columns, strict=True)]


def _column(head: str, cells: Sequence[str]) -> list[str]:
    width = max(len(head), *map(len, cells))
    return [text.ljust(width) for text in (head, *cells)]


def _joined(columns: Sequence[Sequence[str]]) -> list[str]:
    return [_GAP.join(cells) for cells in zip(*columns, strict=True)]


def _fits(lines: Sequence[str], screen: Screen) -> bool:
    return max(map(len, lines)) <= screen.width


def _number(cost: float) -> str:
    return f"{cost:z.1f}"
