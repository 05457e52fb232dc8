"""The table of plugins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.columns import column_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.plugins import PluginRow, PluginsResult

_HEADS = ("name", "from", "status", "gives")


def lines(result: PluginsResult, screen: Screen) -> Iterator[str]:
    """One line a plugin; what is wrong with those set aside is said where they are loaded."""
    rows = [(row.name, _source(row), row.status, _gifts(row)) for row in result.rows()]
    yield from column_lines(_HEADS, rows, screen)


def _source(row: PluginRow) -> str:
    return " ".join(part for part in (row.distribution, row.version) if part)


def _gifts(row: PluginRow) -> str:
    counts = {
        "instrument": len(row.instruments),
        "strategy": len(row.strategies),
        "rhythm family": len(row.rhythm_families),
        "exporter": len(row.exporters),
    }
    return ", ".join(_counted(count, noun) for noun, count in counts.items() if count)


def _counted(count: int, noun: str) -> str:
    if count == 1:
        return f"1 {noun}"
    plural = f"{noun[:-1]}ies" if noun.endswith("y") else f"{noun}s"
    return f"{count} {plural}"
