"""The table of rhythm patterns: each with its attacks as text, and as a strip of its beats."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.steps import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.meter import RhythmPattern
    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.rhythms import RhythmsResult

_FOOT: Final = (
    "# starts a chord, > one that anticipates the next, = holds it, . is silence; two signs a beat,"
    " three where it has three parts; drawn for a chord a bar. A name goes to drill --pattern; so"
    " does a text of your own."
)
_GAP: Final = "  "


def lines(result: RhythmsResult, screen: Screen) -> Iterator[str]:
    """Family by family, the patterns.

    Args:
        result: The patterns.
        screen: Gives the width.
    """
    number = len(result.patterns)
    yield f"{number} {'pattern' if number == 1 else 'patterns'} in {result.meter}"
    for family, given in groupby(result.patterns, key=lambda one: one[0]):
        patterns = [pattern for _, pattern in given]
        yield ""
        yield screen.strong(family)
        yield from wrapped(result.summaries[family], screen)
        names = max(len(pattern.name) for pattern in patterns)
        strips = max(len(strip_of(pattern)) for pattern in patterns)
        for pattern in patterns:
            head = f"{_GAP}{pattern.name.ljust(names)}{_GAP}"
            strip, text = strip_of(pattern), str(pattern)
            beside = f"{head}{strip.ljust(strips)}{_GAP}{text}"
            if len(beside) <= screen.width:
                yield beside
            else:
                yield f"{head}{strip}"
                for line in wrapped(text, screen):
                    yield screen.faint(f"{_GAP}{_GAP}{line}")
    yield ""
    for line in wrapped(_FOOT, screen):
        yield screen.faint(line)


def strip_of(pattern: RhythmPattern) -> str:
    """The pattern in time, for a chord a bar, with a stroke at each bar line.

    Args:
        pattern: The pattern.

    Example:
        >>> from gripwright.meter import RhythmPattern
        >>> strip_of(RhythmPattern.parse("1:1.5 2.5'"))
        '#==#....'
    """
    step = pattern.meter.pulse / (3 if pattern.meter.compound else 2)
    signs = ["."] * int(pattern.length / step)
    for cell in pattern.changing_cells:
        if cell.attack is None:
            continue
        first = int(cell.onset / step)
        until = max(first + 1, -int(-(cell.onset + cell.length) / step // 1))
        for place in range(first, min(until, len(signs))):
            signs[place] = "="
        if cell.onset == cell.attack.onset:
            signs[first] = ">" if cell.attack.push else "#"
    bar = int(pattern.meter.length / step)
    return "|".join("".join(signs[start : start + bar]) for start in range(0, len(signs), bar))
