"""The table of spelled chords: each degree over its note."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.columns import aligned

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.spell import SpelledChord, SpellResult


def lines(result: SpellResult, screen: Screen) -> Iterator[str]:
    """Lines for every chord: symbol with its notes and degrees, then what must and may sound."""
    rows = list(result.rows())
    margin = max(len(row.symbol) for row in rows) + 2
    for place, row in enumerate(rows):
        if place:
            yield ""
        yield from _chord(row, margin, screen)


def _chord(row: SpelledChord, margin: int, screen: Screen) -> Iterator[str]:
    degrees, notes = aligned(row.degrees, row.notes)
    bass = f"  over {row.bass}" if row.bass else ""
    yield f"{screen.strong(row.symbol.ljust(margin))}{notes}{bass}"
    yield " " * margin + degrees
    essential = ", ".join(" or ".join(group) for group in row.essential)
    yield " " * margin + f"must sound: {essential or 'any'}"
    if row.tensions:
        yield " " * margin + f"can be added: {' '.join(row.tensions)}"
