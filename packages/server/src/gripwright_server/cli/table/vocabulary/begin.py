"""What stands on the screen when a vocabulary has begun."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.steps import wrapped
from gripwright_server.cli.table.vocabulary.list import lines as listed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.entry_row import EntriesResult

_NEXT: Final = (
    "Say which of these you know already: gripwright vocabulary change HANDLE --known",
    "Then see what today brings: gripwright vocabulary today --minutes 20",
)


def lines(result: EntriesResult, screen: Screen) -> Iterator[str]:
    """The grips of the starter set, and what to do next.

    Args:
        result: The entries that are new.
        screen: Gives the width.
    """
    yield from wrapped(f"The vocabulary is kept in {result.told['store']}", screen)
    yield ""
    if result.count:
        yield from listed(result, screen)
    else:
        yield "No grip is new. Add one: gripwright vocabulary add SYMBOL FRETS"
    yield ""
    for sentence in _NEXT:
        yield from (screen.faint(line) for line in wrapped(sentence, screen))
