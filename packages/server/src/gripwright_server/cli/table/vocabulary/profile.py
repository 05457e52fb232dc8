"""The player's profile on the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.begin import ProfileResult


def lines(result: ProfileResult, screen: Screen) -> Iterator[str]:
    """One line for each thing.

    Args:
        result: The profile.
        screen: Gives the width.
    """
    for row in result.rows():
        strings = " ".join(row.strings)
        yield from wrapped(f"Instrument: {row.instrument} ({strings}, {row.frets} frets)", screen)
        yield f"Fretting hand: {row.fingers} fingers, {row.reach_mm:g} mm of reach"
        yield f"Handed: {'left' if row.left_handed else 'right'}"
        yield f"Stroke: {row.stroke}"
        yield f"Band: {row.band or 'none'}"
        yield f"Ladder: rung {row.rung}, drill {row.part}, {row.tempo:g} beats a minute"
