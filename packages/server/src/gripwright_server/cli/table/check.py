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
    alike: dict[tuple[str, ...], list[CheckRow]] = {}
    for row in rows:
        if not row.kept:
            alike.setdefault((row.plugin, row.kind, row.name, row.fault or ""), []).append(row)
    for first, *others in alike.values():
        yield ""
        yield from _breach(first, [row.law for row in others], screen)
    facts = result.facts
    yield ""
    yield f"{facts['kept']} kept, {facts['broken']} broken"


def _breach(row: CheckRow, others: list[str], screen: Screen) -> Iterator[str]:
    """One fault of one value: the first law that it breaks, and the names of the others."""
    whose = f"{row.kind} {row.name} of {row.plugin}" if row.name else row.plugin
    yield screen.strong(f"Broken: {row.law}, by {whose}")
    told = [
        ("law", row.statement),
        ("case", row.counterexample),
        ("fault", row.fault),
        # The same fault again and again would hide the next one.
        ("also", ", ".join(others) or None),
    ]
    for name, text in told:
        if text is not None:
            width = max(screen.width - 9, 20)
            first, *more = textwrap.wrap(text, width, break_on_hyphens=False) or [""]
            yield f"  {name:5}  {first}"
            yield from (f"{'':9}{line}" for line in more)
    # Whole on one line, so that it can be copied.
    yield f"  {'again':5}  {row.again}"
