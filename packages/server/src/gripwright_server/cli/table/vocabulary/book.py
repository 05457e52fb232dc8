"""The book of grips on the screen: diagrams by kind of chord."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.vocabulary import category_in_words
from gripwright_server.cli.table.boxes import box_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.book import BookResult


def lines(result: BookResult, screen: Screen) -> Iterator[str]:
    """A chapter for each kind of chord.

    Args:
        result: The book.
        screen: Gives the width.
    """
    for place, chapter in enumerate(result.chapters):
        if place:
            yield ""
        words = category_in_words(chapter.category)
        yield screen.strong(f"{words[:1].upper()}{words[1:]} ({len(chapter.entries)})")
        grips = [entry.voicing for entry in chapter.entries]
        yield from box_lines(grips, [(str(grip.chord),) for grip in grips], screen)
    yield ""
    yield screen.faint("On paper: gripwright vocabulary book -o book.pdf")
