"""The table of a study: each voicing with its top note and what the step to it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.steps import FOOT, step_lines, sum_lines, wrapped
from gripwright_server.cli.table.voicings import chord_lines
from gripwright_server.operations.player import played

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.study import StudyResult

_USED: Final = "alike"


def lines(result: StudyResult, screen: Screen) -> Iterator[str]:
    """The chord, the voicings in order, the top line and the cost.

    Args:
        result: The study.
        screen: Gives the width.
    """
    rows = list(result.rows())
    yield from chord_lines(result.chord, screen)
    noun = "voicing" if len(rows) == 1 else "voicings"
    yield from wrapped(f"{len(rows)} {noun} on {played(result.instrument)}", screen)
    yield ""
    before = {"": [str(row.step) for row in rows], "on top": [row.top_degree for row in rows]}
    if any(row.known for row in rows):
        before["known"] = ["known" if row.known else "new" for row in rows]
    yield from step_lines(rows, before, _USED, screen)
    yield ""
    facts = result.facts
    yield from sum_lines(facts["top_line"], facts["cost"], _USED, screen)
    if facts["skipped"]:
        yield from wrapped(f"No voicing has on top: {' '.join(facts['skipped'])}", screen)
    yield ""
    for line in wrapped(FOOT, screen):
        yield screen.faint(line)
