"""The table of names: each chord with what every note becomes in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.columns import column_lines

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.name import NameResult, NameRow

_HEADS = ("chord", "degrees", "notes", "left out")


def lines(result: NameResult, screen: Screen) -> Iterator[str]:
    """One line a name, then what the marks mean and how to see more.

    Args:
        result: The names.
        screen: Gives the width.
    """
    rows = list(result.rows())
    cells = zip(
        [row.symbol for row in rows],
        _in_columns([row.degrees for row in rows]),
        _in_columns([row.notes for row in rows]),
        map(_left_out, rows),
        strict=True,
    )
    yield from column_lines(_HEADS, list(cells), screen)
    yield ""
    if any(row.essential_left_out for row in rows):
        yield screen.faint("In brackets: essential to the chord")
    yield screen.faint(_foot(result))


def _in_columns(lists: Sequence[tuple[str, ...]]) -> list[str]:
    """Join each list so that its items stand under those of the others."""
    widths = [max(map(len, items)) for items in zip(*lists, strict=True)]
    return [
        " ".join(item.ljust(width) for item, width in zip(items, widths, strict=True))
        for items in lists
    ]


def _left_out(row: NameRow) -> str:
    return " ".join(
        f"({degree})" if degree in row.essential_left_out else degree for degree in row.left_out
    )


def _foot(result: NameResult) -> str:
    if result.returned == result.count:
        return "All are shown. For programs: --format json or ndjson"
    return f"The first {result.returned} of {result.count} are shown. More: --limit N or --all"
