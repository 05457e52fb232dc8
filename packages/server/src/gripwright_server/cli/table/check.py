"""The table of laws kept and broken."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.columns import column_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.check import CheckResult, CheckRow

_HEADS: Final = ("plugin", "kept", "broken", "law")


def lines(result: CheckResult, screen: Screen) -> Iterator[str]:
    """One line a plugin and law; what is broken is told below, case by case."""
    rows = list(result.rows())
    tallies: dict[tuple[str, str], list[bool]] = {}
    for row in rows:
        tallies.setdefault((row.plugin, row.law), []).append(row.kept)
    table = [
        (plugin, str(sum(kept)), str(len(kept) - sum(kept) or ""), law)
        for (plugin, law), kept in tallies.items()
    ]
    yield from column_lines(_HEADS, table, screen)
    for row in rows:
        if not row.kept:
            yield ""
            yield from _breach(row, screen)
    facts = result.facts
    yield ""
    yield f"{facts['kept']} kept, {facts['broken']} broken"


def _breach(row: CheckRow, screen: Screen) -> Iterator[str]:
    whose = f"{row.kind} {row.name} of {row.plugin}" if row.name else row.plugin
    yield screen.strong(f"Broken: {row.law}, by {whose}")
    told = [("law", row.statement), ("case", row.counterexample), ("fault", row.fault)]
    for name, text in told:
        if text is not None:
            first, *others = textwrap.wrap(text, max(screen.width - 9, 20)) or [""]
            yield f"  {name:5}  {first}"
            yield from (f"{'':9}{other}" for other in others)
    # Whole on one line, so that it can be copied.
    yield f"  {'again':5}  {row.again}"
