"""The ladder in 4/4 under ``tests/data``, drill by drill."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import attrs

DATA = Path(__file__).parents[2] / "data"


@attrs.frozen
class LadderRow:
    """A drill.

    Args:
        rung: The number of its rung.
        step: What it is.
        pattern: Its text; a dash for the player's choice, empty for chance.
        click: What clicks.
    """

    rung: int
    step: str
    pattern: str
    click: str


def ladder_rows() -> Iterator[LadderRow]:
    """Every drill, in order."""
    lines = (DATA / "ladder.tsv").read_text(encoding="utf-8").splitlines()
    for line in lines[2:]:
        rung, step, pattern, click = line.split("\t")
        yield LadderRow(int(rung), step, pattern, click)
