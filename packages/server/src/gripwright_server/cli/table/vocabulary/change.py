"""What stands on the screen when a grip was changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.entry_row import EntriesResult


def lines(result: EntriesResult, screen: Screen) -> Iterator[str]:
    """What a player can change of the grip.

    Args:
        result: The entry.
        screen: Gives the width.
    """
    for row in result.rows():
        yield from wrapped(f"{row.handle}  {row.symbol} {row.frets}: {row.words}", screen)
        yield f"State: {row.state}"
        if row.due:
            yield f"Due: {row.due[:10]}"
        for head, text in (("Tags", ", ".join(row.tags)), ("Note", row.note), ("From", row.source)):
            if text:
                yield from wrapped(f"{head}: {text}", screen)
