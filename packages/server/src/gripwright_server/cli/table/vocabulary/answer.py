"""What an answer is worth, on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.reviewing import AnswerResult


def lines(result: AnswerResult, screen: Screen) -> Iterator[str]:
    """The question, the verdict, and the grip.

    Args:
        result: The answer.
        screen: Gives the width.
    """
    yield from wrapped(result.prompt.text, screen)
    yield from (screen.strong(line) for line in wrapped(result.verdict.sentence, screen))
    yield from box_lines([result.prompt.grip], [()], screen)
