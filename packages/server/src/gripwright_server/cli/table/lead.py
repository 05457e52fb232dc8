"""The table of lines: each chord with its grip and what the step to it costs."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Final

from gripwright.tune.text_numbers import number_text
from gripwright_server.cli.table.steps import FOOT, step_lines, sum_lines, wrapped
from gripwright_server.operations.player import played

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.lead import LeadResult, LeadRow

_USED: Final = "used"


def lines(result: LeadResult, screen: Screen) -> Iterator[str]:
    """Every line with its steps, its top line and its cost.

    Args:
        result: The lines.
        screen: Gives the width.
    """
    yield from wrapped(_title(result), screen)
    facts = result.facts["lines"]
    for number, steps in groupby(result.rows(), key=lambda row: row.line):
        rows = list(steps)
        yield ""
        if len(result.lines) > 1:
            yield screen.strong(f"Chorus {number}")
        before = {"bar": [_place(row) for row in rows], "chord": [row.symbol for row in rows]}
        yield from step_lines(rows, before, _USED, screen)
        yield ""
        whole = facts[number - 1]
        yield from sum_lines(whole["top_line"], whole["cost"], _USED, screen)
    yield ""
    for line in wrapped(FOOT, screen):
        yield screen.faint(line)


def _title(result: LeadResult) -> str:
    chords = len(result.lines[0].steps)
    noun = "chord" if chords == 1 else "chords"
    name = f"{result.source.title}: " if result.source.title else ""
    return f"{name}{chords} {noun} on {played(result.instrument)}"


def _place(row: LeadRow) -> str:
    """Bar and beat, such as 3.1; a beat that is no whole number after a second point."""
    return f"{row.bar}.{number_text(Fraction(row.beat))}"
