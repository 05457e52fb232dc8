"""The table of instruments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.columns import column_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.instruments import InstrumentsResult

_HEADS = ("id", "open strings", "frets", "mm", "name")


def lines(result: InstrumentsResult, screen: Screen) -> Iterator[str]:
    """One line an instrument: id, open strings as strung, frets, scale length in mm, name."""
    rows = [
        (row.id, " ".join(row.strings), f"{row.frets:>5}", f"{row.scale_mm:g}", row.name)
        for row in result.rows()
    ]
    yield from column_lines(_HEADS, rows, screen)
