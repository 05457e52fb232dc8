"""How much an exported or imported document holds, on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.copying import ExportResult


def lines(result: ExportResult, screen: Screen) -> Iterator[str]:
    """One line for each thing, then how to write it.

    Args:
        result: The document.
        screen: Gives the width.
    """
    for row in result.rows():
        yield f"{row.count:>7}  {row.what}"
    yield screen.faint("Write it: gripwright vocabulary export -o vocabulary.json")
