"""The table of the ladder: its rungs, or the drills of one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.rhythms import strip_of
from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.ladder import LadderResult

_FOOT: Final = (
    "A rung is done when two choruses go by without a missed change, the ends as exact as the"
    " starts. Play one: gripwright drill CHART --rung N --part N"
)
_CAUTION: Final = (
    "Warm up, take a break at least every half hour, keep the click soft, and stop on pain,"
    " numbness or tingling; a licensed clinician can help, this cannot."
)


def lines(result: LadderResult, screen: Screen) -> Iterator[str]:
    """One line a rung, or one a drill where there is one rung.

    Args:
        result: The rungs.
        screen: Gives the width.
    """
    yield screen.strong(f"The ladder in {result.meter}")
    yield ""
    alone = len(result.rungs) == 1
    for rung, parts in result.rungs:
        drills = "" if alone or len(parts) == 1 else f" ({len(parts)} drills)"
        head, *rest = wrapped(f"{rung.number:2}  {rung.sentence}{drills}", screen)
        # The number keeps its column.
        yield head.rjust(len(head) + (rung.number < 10))  # noqa: PLR2004 - one digit
        yield from (f"  {line}" for line in rest)
        if alone:
            for number, part in enumerate(parts, 1):
                yield ""
                yield from wrapped(f"  {number}. {part.sentence}", screen)
                if part.pattern is not None:
                    yield f"     {strip_of(part.pattern)}   {part.pattern}"
                yield f"     Clicks: {part.click.words()}"
    if result.left_out:
        yield ""
        left = ", ".join(map(str, result.left_out))
        yield from wrapped(f"Rungs that make no sense in {result.meter}: {left}", screen)
    yield ""
    for sentence in (_FOOT, _CAUTION):
        for line in wrapped(sentence, screen):
            yield screen.faint(line)
