"""The table of one grip of the vocabulary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.vocabulary import GRADES
from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.columns import aligned
from gripwright_server.cli.table.steps import wrapped
from gripwright_server.operations.vocabulary.entry_row import utc

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.showing import ShowResult

_LAST = 8


def lines(result: ShowResult, screen: Screen) -> Iterator[str]:
    """The grip note by note, its places, what else it serves, and how it came of late.

    Args:
        result: The entry.
        screen: Gives the width.
    """
    (row,) = result.rows()
    grip = result.entry.voicing
    yield from (screen.strong(line) for line in wrapped(f"{row.symbol}: {row.words}", screen))
    yield from box_lines([grip], [row.families], screen)
    yield ""
    yield from aligned(
        ("notes", *map(str, grip.notes)),
        ("degrees", *map(str, grip.degrees)),
    )
    yield ""
    yield from wrapped(f"{row.symbol} on this neck: {', '.join(result.places)}", screen)
    if result.serves:
        yield from wrapped(f"It serves as well: {', '.join(result.serves)}", screen)
    for head, text in (
        ("Tags", ", ".join(row.tags)),
        ("Note", row.note),
        ("From", row.source),
        ("State", "" if row.state == "active" else row.state),
    ):
        if text:
            yield from wrapped(f"{head}: {text}", screen)
    yield f"Handle: {row.handle}"
    yield ""
    if result.schedule is None:
        yield "Never reviewed: due today"
        return
    days = result.schedule.stability
    yield from wrapped(
        f"Due {utc(result.schedule.due)[:10]}; known nine times in ten for {days:.1f} days", screen
    )
    for review in result.reviews[-_LAST:]:
        yield f"  {utc(review.reviewed_at)[:10]}  {GRADES[review.grade].words}"
