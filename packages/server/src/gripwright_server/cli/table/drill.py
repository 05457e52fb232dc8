"""The table of a drill: what it is, its tablature in time, and what the player should know."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_rhythm.export.tablature import NARROWEST, WIDEST, TextExporter

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.drill import DrillResult


def lines(result: DrillResult, screen: Screen) -> Iterator[str]:
    """The tablature of every score.

    Args:
        result: The drill.
        screen: Gives the width, as far as a tablature can follow it.
    """
    width = max(NARROWEST, min(screen.width, WIDEST))
    for place, score in enumerate(result.scores):
        if place:
            yield ""
        yield from TextExporter(width=width).export(score).decode().splitlines()
