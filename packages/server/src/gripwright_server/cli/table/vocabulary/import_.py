"""What an import brought, on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.copying import ImportResult


def lines(result: ImportResult, screen: Screen) -> Iterator[str]:
    """One line for each thing.

    Args:
        result: What is new.
        screen: Gives the width.
    """
    yield screen.strong("New")
    for row in result.rows():
        yield f"{row.count:>7}  {row.what}"
