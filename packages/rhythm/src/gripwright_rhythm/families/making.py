"""Writing a pattern down from its words: what the families that follow a rule share."""

from __future__ import annotations

from collections.abc import Iterable

from gripwright.meter import Meter, RhythmPattern


def written(meter: Meter, name: str, bars: Iterable[Iterable[str]], summary: str) -> RhythmPattern:
    """A pattern from the words of its bars.

    Args:
        meter: The metre.
        name: Its name.
        bars: The words of each bar, each an attack, as the text of a pattern has them.
        summary: One line about it.

    Example:
        >>> str(written(Meter(4, 4), "own", [["1", "2.5"], ["4'"]], "Two bars."))
        "1 2.5 | 4'"
    """
    return RhythmPattern.parse(" | ".join(map(" ".join, bars)), meter, name=name, summary=summary)
