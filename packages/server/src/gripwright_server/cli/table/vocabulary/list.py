"""The table of entries, by kind of chord."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Final

from gripwright.vocabulary import category_in_words
from gripwright_server.cli.table.columns import column_lines
from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.entry_row import EntriesResult, EntryRow

_HEADS: Final = ("handle", "grip", "shape", "due", "what it is")
_FOOT: Final = "See one: gripwright vocabulary show HANDLE. On paper: vocabulary book -o book.pdf"
_NEVER: Final = "new"


def lines(result: EntriesResult, screen: Screen) -> Iterator[str]:
    """One line an entry under its kind of chord, then how to see more.

    Args:
        result: The entries.
        screen: Gives the width.
    """
    rows = sorted(result.rows(), key=lambda row: row.category)
    cells = [_cells(row) for row in rows]
    made = column_lines(_HEADS, cells, screen)
    yield next(made)
    # A row may take several lines, so that each kind is laid out with the widths of all.
    for category, some in groupby(zip(rows, cells, strict=True), key=lambda pair: pair[0].category):
        kind = [pair[1] for pair in some]
        yield ""
        yield screen.strong(f"{_capital(category_in_words(category))} ({len(kind)})")
        yield from _under(kind, cells, screen)
    yield ""
    several = "" if result.count == 1 else "s"
    yield from (
        screen.faint(line) for line in wrapped(f"{result.count} grip{several}. {_FOOT}", screen)
    )


def _under(
    kind: list[tuple[str, ...]], every: list[tuple[str, ...]], screen: Screen
) -> Iterator[str]:
    """Rows with the widths that all rows have."""
    widths = [max(len(cells[place]) for cells in (*every, _HEADS)) for place in range(len(_HEADS))]
    padded = [(*map(str.ljust, cells[:-1], widths), cells[-1]) for cells in kind]
    _, *body = column_lines(_HEADS, padded, screen)
    yield from body


def _cells(row: EntryRow) -> tuple[str, ...]:
    what = row.words.partition(", ")[2]
    notes = [what, *(f"#{tag}" for tag in row.tags)]
    if row.state != "active":
        notes.append(f"({row.state})")
    due = row.due[:10] if row.due else _NEVER if row.state == "active" else "-"
    return (row.handle, row.symbol, row.frets, due, " ".join(notes))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
