"""Plain columns of text, aligned, the last one wrapped to the screen."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright_server.cli.screen import Screen

_GAP: Final = "  "
_LEAST_LAST: Final = 12


def column_lines(
    heads: Sequence[str], rows: Sequence[Sequence[str]], screen: Screen
) -> Iterator[str]:
    """Align cells under their heads; the last column takes what is left and wraps.

    Args:
        heads: Heads of the columns, two or more.
        rows: Cells, as many as heads in each row.
        screen: Gives the width.
    """
    widths = [
        max([len(head), *(len(row[place]) for row in rows)]) for place, head in enumerate(heads)
    ][:-1]
    used = sum(widths) + len(_GAP) * len(widths)
    last = max(screen.width - used, _LEAST_LAST)
    yield screen.strong(_line(widths, heads[:-1], heads[-1]))
    for row in rows:
        first, *others = textwrap.wrap(row[-1], last) or [""]
        yield _line(widths, row[:-1], first)
        for other in others:
            yield " " * used + other


def aligned(*lines: tuple[str, ...]) -> tuple[str, ...]:
    """Join the cells of each line so that they stand under one another.

    Example:
        >>> aligned(("1", "b3"), ("Bb", "Db"))
        ('1   b3', 'Bb  Db')
    """
    widths = [max(map(len, cells)) for cells in zip(*lines, strict=True)]
    return tuple(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in lines
    )


def _line(widths: Sequence[int], cells: Sequence[str], last: str) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return _GAP.join((*padded, last))
