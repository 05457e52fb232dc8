"""What stands on the screen when a grip was removed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.entry_row import EntriesResult


def lines(result: EntriesResult, screen: Screen) -> Iterator[str]:
    """What was removed.

    Args:
        result: The entry that was.
        screen: Gives the width.
    """
    for row in result.rows():
        yield from wrapped(f"Removed: {row.symbol} {row.frets}, {row.words}", screen)
