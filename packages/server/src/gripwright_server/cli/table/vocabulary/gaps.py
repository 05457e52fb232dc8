"""The table of a vocabulary by kind of chord, and of its gaps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.vocabulary import category_in_words
from gripwright_server.cli.table.columns import column_lines
from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.gaps import GapsResult

_HEADS: Final = ("kind of chord", "grips", "on top", "strings")
_MOST: Final = 3


def lines(result: GapsResult, screen: Screen) -> Iterator[str]:
    """One line a kind of chord, then the gaps, the earliest to fill first.

    Args:
        result: Kinds and gaps.
        screen: Gives the width.
    """
    kinds = result.overview.categories
    if kinds:
        rows = [
            (
                category_in_words(kind.name),
                f"{kind.count:>5}",
                " ".join(str(top) for top, _ in kind.tops),
                ", ".join("-".join(map(str, strings)) for strings, _ in kind.string_sets[:_MOST]),
            )
            for kind in kinds
        ]
        yield from column_lines(_HEADS, rows, screen)
        yield ""
    if not result.count:
        yield "No gap is left."
        return
    yield screen.strong("What is missing, the earliest to fill first")
    for number, gap in enumerate(result.overview.gaps, 1):
        yield from wrapped(f"{number:>3}. {gap.sentence}", screen)
    yield ""
    yield screen.faint("The plan of the day fills one a day: gripwright vocabulary today")
