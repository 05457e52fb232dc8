"""What stands on the screen when a grip was added."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.entry_row import EntriesResult


def lines(result: EntriesResult, screen: Screen) -> Iterator[str]:
    """The grip, and what else it serves.

    Args:
        result: The entry.
        screen: Gives the width.
    """
    (entry,) = result.entries
    (row,) = result.rows()
    known = "" if result.told.get("new", True) else " (it was there already)"
    yield from wrapped(f"{row.symbol}: {row.words}{known}", screen)
    yield from box_lines([entry.voicing], [row.families], screen)
    yield ""
    yield f"Handle: {row.handle}"
    also = result.told.get("serves", ())
    if also:
        yield from wrapped(f"It serves as well: {', '.join(also)}", screen)
        first = f"gripwright vocabulary add {also[0]} {row.frets}"
        yield from (screen.faint(line) for line in wrapped(f"Keep it there too: {first}", screen))
