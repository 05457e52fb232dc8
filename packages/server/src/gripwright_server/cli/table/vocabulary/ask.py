"""A question on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.reviewing import AskResult


def lines(result: AskResult, screen: Screen) -> Iterator[str]:
    """The question, and how to answer it.

    Args:
        result: The question.
        screen: Gives the width.
    """
    for row in result.rows():
        yield from (screen.strong(line) for line in wrapped(row.text, screen))
        yield screen.faint(f"Answer: gripwright vocabulary answer {row.handle} ANSWER")
        yield screen.faint(
            f"Say how it came: gripwright vocabulary review {row.handle} --grade ..."
        )
