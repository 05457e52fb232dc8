"""The check of a store on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.checking import StoreCheckResult


def lines(result: StoreCheckResult, screen: Screen) -> Iterator[str]:
    """That it is sound, and how much was looked at.

    Args:
        result: The check.
        screen: Gives the width.
    """
    looked_at = " and ".join(f"{row.count} {row.what}" for row in result.rows())
    yield from wrapped(f"{result.path} is sound: {looked_at}", screen)
    if result.rebuilt is not None:
        yield f"Worked out anew: when {result.rebuilt} grips are due"
