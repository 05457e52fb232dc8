"""The table of strategies: what each does, or how each stacks a chord."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.columns import aligned, column_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.strategies import StrategiesResult, StrategyRow

_HEADS: Final = ("name", "what it does")
_CHORD_HEADS: Final = ("name", "voices", "tones, the lowest first")
_VOICES: Final = {"as_written": "as written"}
_MOST: Final = 8
_FOOT: Final = (
    "A stack voices the chord as written; its frame of root, third and seventh; the chord with"
    " tensions; or its scale. +4: four more, all of them with --format json"
)


def lines(result: StrategiesResult, screen: Screen) -> Iterator[str]:
    """One line a strategy with its summary, or with the first of its stacks of the chord.

    Args:
        result: The strategies.
        screen: Gives the width.
    """
    rows = list(result.rows())
    if result.chord is None:
        yield from column_lines(_HEADS, [(row.name, row.summary) for row in rows], screen)
        yield ""
        yield screen.faint("The stacks of one chord: --chord SYMBOL")
        return
    chord = result.chord
    notes, degrees = aligned(tuple(map(str, chord.notes)), tuple(map(str, chord.degrees)))
    yield f"{screen.strong(chord.symbol)}  {notes}"
    yield " " * (len(chord.symbol) + 2) + degrees
    yield ""
    yield from column_lines(_CHORD_HEADS, [_stacked(row) for row in rows], screen)
    yield ""
    for line in textwrap.wrap(_FOOT, screen.width):
        yield screen.faint(line)


def _stacked(row: StrategyRow) -> tuple[str, str, str]:
    """A strategy with what its recipes voice and the first of them."""
    recipes = row.recipes or ()
    voices = ", ".join(
        dict.fromkeys(_VOICES.get(recipe["voices"], recipe["voices"]) for recipe in recipes)
    )
    stacks = ["-".join(recipe["degrees"]) or "any order" for recipe in recipes]
    if len(stacks) > _MOST:
        stacks[_MOST:] = [f"+{len(stacks) - _MOST}"]
    return row.name, voices, "  ".join(stacks) or "none for this chord"
