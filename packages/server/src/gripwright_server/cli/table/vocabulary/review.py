"""What stands on the screen when a review is written down."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.reviewing import ReviewResult


def lines(result: ReviewResult, screen: Screen) -> Iterator[str]:
    """How it came, and when it comes again.

    Args:
        result: The review.
        screen: Gives the width.
    """
    for row in result.rows():
        known = "" if row.new else " (this review was there already)"
        grip = row.entry.partition(":")[2]
        yield from wrapped(f"{row.handle}  {grip}: {row.words}{known}", screen)
        yield f"Next time: {row.due[:10]}"
