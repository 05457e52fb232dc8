"""Repeats: from where to where, how often, and which ending in which pass."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from gripwright.tune.bar import PLAIN
from gripwright.tune.written import WrittenBar


@attrs.frozen
class Misfit:
    """A part of a bar that does not fit the chart around it.

    Args:
        bar: The index of the bar.
        part: The field of the bar.
        expected: What could have stood there, in words.
    """

    bar: int
    part: str
    expected: str


@attrs.frozen
class Repeat:
    """A repeat.

    Args:
        start: The bar that it goes back to.
        stop: The bar after which it goes on once the passes are over; of endings, the last that
            is closed by ``:|``.
        passes: How often it is played in all; `OPEN` for an open vamp.
        endings: The bar where the ending of each pass begins.

    Example:
        >>> from gripwright import Chart
        >>> chart = Chart.parse("|: Dm7 | G7 |1. Cmaj7 :|2. C6 |")
        >>> find_repeats(chart.written)[0][0]
        Repeat(start=0, stop=2, passes=2, endings={1: 2, 2: 3})
    """

    start: int
    stop: int
    passes: int
    endings: Mapping[int, int]

    def ending(self, number: int) -> int:
        """The bar where a pass goes on when it comes to the endings."""
        return self.endings.get(number, self.stop + 1)


class _Walk:
    """The state of a walk along the bars."""

    def __init__(self) -> None:
        self.repeats: list[Repeat] = []
        self.misfits: list[Misfit] = []
        self.implied = 0
        self.start: int | None = None
        self.endings: dict[int, int] = {}
        self.stop: int | None = None
        self.closed = False

    def open(self, index: int) -> None:
        self.finish()
        self.start = index

    def end(self, index: int, times: int) -> None:
        if self.start is None:
            self.start = self.implied
        if not self.endings:
            self.repeats.append(Repeat(self.start, index, times, {}))
            self.clear(index + 1)
            return
        if times != PLAIN:
            self.misfits.append(
                Misfit(index, "repeat_end", "no number of times: the endings count the passes")
            )
        self.stop, self.closed = index, True

    def ending(self, index: int, passes: Sequence[int]) -> None:
        if self.start is None:
            self.start = self.implied
        if self.endings and not self.closed:
            self.misfits.append(Misfit(index, "endings", "':|' at the end of the ending before"))
            self.stop = index - 1
        for number in passes:
            if number in self.endings:
                self.misfits.append(
                    Misfit(index, "endings", f"one ending for pass {number}, not two")
                )
            self.endings.setdefault(number, index)
        self.closed = False

    def clear(self, implied: int) -> None:
        self.implied, self.start, self.endings = implied, None, {}
        self.stop, self.closed = None, False

    def finish(self) -> None:
        """End the repeat that is under way, where there is one."""
        if self.start is None:
            return
        if self.stop is None:
            where = (max(self.endings.values()), "endings") if self.endings else None
            bar, part = where or (self.start, "repeat_start")
            self.misfits.append(Misfit(bar, part, "':|' where the repeat ends"))
        else:
            passes = max(2, *self.endings)
            first = min(self.endings.values())
            missing = set(range(1, passes)) - set(self.endings)
            self.misfits += [
                Misfit(first, "endings", f"an ending for pass {number}") for number in missing
            ]
            self.repeats.append(Repeat(self.start, self.stop, passes, self.endings))
        self.clear(self.implied)


def find_repeats(bars: Sequence[WrittenBar[Any]]) -> tuple[list[Repeat], list[Misfit]]:
    """Find the repeats of a chart, and what is wrong with them.

    A ``:|`` or a first ending without ``|:`` goes back to the first bar of its section, or to the
    bar after the repeat before it, whichever is later; never to a pickup. A repeat with endings
    is played as often as its highest ending says, twice at least. It is over where the next one
    starts, or a section starts after its last ending, or its last ending is closed by ``:|``
    and no other follows.

    Args:
        bars: The bars of the chart.

    Returns:
        The repeats in their order, and the misfits.
    """
    if not any(written.bar.signed for written in bars):
        return [], []
    walk = _Walk()
    for written in bars:
        bar, index = written.bar, written.index
        if walk.closed and not bar.endings:
            walk.finish()
            walk.implied = index
        if written.opens:
            if walk.stop is not None and not walk.closed:
                walk.finish()
            walk.implied = index
        if index == 1 and bars[0].lead_in:
            walk.implied = 1
        if bar.repeat_start:
            walk.open(index)
        if bar.endings:
            walk.ending(index, bar.endings)
        if bar.repeat_end is not None:
            walk.end(index, bar.repeat_end)
    walk.finish()
    return walk.repeats, walk.misfits
