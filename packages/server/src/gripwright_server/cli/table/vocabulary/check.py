"""The check of a store on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.checking import StoreCheckResult


def lines(result: StoreCheckResult, screen: Screen) -> Iterator[str]:
    """Whether it is sound, and what is wrong.

    Args:
        result: The check.
        screen: Gives the width.
    """
    if result.failed:
        yield screen.strong(f"{result.path} is not sound")
        for row in result.rows():
            yield from wrapped(f"- {row.sentence}", screen)
        yield screen.faint(
            "When grips are due can be mended: gripwright vocabulary check --rebuild"
        )
        return
    looked_at = " and ".join(f"{count} {what}" for what, count in result.counts.items())
    yield from wrapped(f"{result.path} is sound: {looked_at}", screen)
    if result.rebuilt is not None:
        yield f"Worked out anew: when {result.rebuilt} grips are due"
