"""Unfolding: the bars of a chart in the order in which they are played."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, Final, Generic, TypeVar

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Hit
from gripwright.tune.bar import MOST_PLAYED, OPEN
from gripwright.tune.repeats import Repeat, find_repeats
from gripwright.tune.written import WrittenBar

S = TypeVar("S")

MOST_BARS: Final = 10_000
"""Bars that a form unfolds into at most."""


@attrs.frozen
class PlayedBar(Generic[S]):
    """A bar as it is played.

    Args:
        written: The bar as written.
        onset: Quarters from the start of the form.
        time: Which time its repeat is being played, counted from 1; 1 outside repeats.

    Example:
        >>> from gripwright import Chart
        >>> bar = Chart.parse("|: Dm7 | G7 :|").unfolded().bars[2]
        >>> bar.index, str(bar.onset), bar.time
        (0, '8', 2)
    """

    written: WrittenBar[S]
    onset: Fraction
    time: int

    @property
    def index(self) -> int:
        """The index of the written bar."""
        return self.written.index

    @property
    def length(self) -> Fraction:
        """Quarters in the bar."""
        return self.written.length


@attrs.frozen
class Span(Generic[S]):
    """A chord as it is played, from its attack until the next one.

    Args:
        symbol: The chord; None for N.C.
        onset: Quarters from the start of the form.
        length: Quarters that it lasts, above 0.
        held: Whether it is attacked once and held to its end.
        bar: The index of the played bar in which it starts.

    Example:
        >>> from gripwright import Chart
        >>> span = Chart.parse("| Dm7 | G7 | G7 |").unfolded().spans[1]
        >>> print(span.symbol, span.onset, span.end)
        G7 4 8
    """

    symbol: S | None
    onset: Fraction
    length: Fraction
    held: bool
    bar: int

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the form to its end."""
        return self.onset + self.length


@attrs.frozen
class PlayedHit:
    """A hit as it is played.

    Args:
        onset: Quarters from the start of the form.
        duration: Quarters that it lasts; None for a long one.
        push: Whether it anticipates its chord.
        span: The index of the span whose chord it attacks; that of a push out of the last bar is
            0, the first of the next chorus.

    Example:
        >>> from gripwright import Chart
        >>> hit = Chart.parse("| Dm7 {1 4.5>} | G7 |").unfolded().hits[1]
        >>> print(hit.onset, hit.push, hit.span)
        7/2 True 1
    """

    onset: Fraction
    duration: Fraction | None
    push: bool
    span: int


@attrs.frozen
class Unfolded(Generic[S]):
    """A form as it is played, from the first bar to the last.

    Args:
        bars: The bars, one after the other.
        spans: The chords, which fill the form without a gap.
        hits: The hits that bars prescribe; those on N.C. attack nothing and are left out.

    Example:
        >>> from gripwright import Chart
        >>> form = Chart.parse("|: Dm7 | G7 |1. Em7 A7 :|2. Cmaj7 |").unfolded()
        >>> [bar.index for bar in form.bars]
        [0, 1, 2, 0, 1, 3]
        >>> form.spans[3].onset, form.spans[3].length, form.length
        (Fraction(10, 1), Fraction(2, 1), Fraction(24, 1))
    """

    bars: tuple[PlayedBar[S], ...]
    spans: tuple[Span[S], ...]
    hits: tuple[PlayedHit, ...]

    @property
    def length(self) -> Fraction:
        """Quarters in the form."""
        return self.bars[-1].onset + self.bars[-1].length


def unfold(bars: Sequence[WrittenBar[S]], *, open_times: int) -> Unfolded[S]:
    """Follow repeats, endings and jumps.

    Each jump is followed once, after the repeats that end at its bar are over. From there to the
    bar of the jump, or to ``To Coda``, repeats are not taken again and the last ending is played
    (common practice). ``D.C.`` leaves a pickup out: the bar before it has its beats.

    Args:
        bars: The bars of a chart without misfits.
        open_times: How often an open vamp is played, 1 to 99.

    Returns:
        The bars, chords and hits in the order in which they are played.

    Raises:
        ConditionError: `open_times` is out of range, or the form has more than 10,000 bars.
    """
    if isinstance(open_times, bool) or not 1 <= open_times <= MOST_PLAYED:
        raise ConditionError(name="open_times", value=open_times, expected=f"1 to {MOST_PLAYED}")
    played: list[PlayedBar[S]] = []
    onset = Fraction(0)
    for index, time in _Walk(bars, open_times).order():
        if len(played) == MOST_BARS:
            raise ConditionError(
                name="bars of the unfolded form",
                value=f"more than {MOST_BARS:,}",
                expected="fewer or shorter repeats",
            )
        played.append(PlayedBar(bars[index], onset, time))
        onset += bars[index].length
    spans = tuple(_spans(played, onset))
    return Unfolded(tuple(played), spans, tuple(_hits(played, spans)))


class _Walk:
    """A walk through a form: which bar is next, and what led there."""

    def __init__(self, bars: Sequence[WrittenBar[Any]], open_times: int) -> None:
        repeats = find_repeats(bars)[0]
        self._bars = bars
        self._open_times = open_times
        self._starts = {repeat.start for repeat in repeats}
        self._ending_at = {bar: repeat for repeat in repeats for bar in repeat.endings.values()}
        self._end_at: dict[int, Repeat] = {
            index: repeat
            for repeat in repeats
            for index in range(repeat.start, repeat.stop + 1)
            if bars[index].bar.repeat_end is not None
        }
        self._segno = next((bar.index for bar in bars if bar.bar.segno), 0)
        self._coda = next((bar.index for bar in bars if bar.coda), len(bars))
        self._top = int(bool(bars[0].lead_in) and len(bars) > 1)
        self._time = 1
        self._back = False
        self._followed: set[int] = set()
        self._jump = ""
        # The bar of the jump, while what lies before it is played again.
        self._replaying: int | None = None

    def order(self) -> Iterator[tuple[int, int]]:
        """The indices of the bars in the order played, each with the time of its repeat."""
        place = 0
        while place < len(self._bars):
            if place in self._starts and not self._back:
                self._time = 1
            self._back = False
            right = self._right_ending(place)
            if right == place:
                yield place, self._time
                right = self._after(place)
            place = right

    def _passes(self, repeat: Repeat) -> int:
        return self._open_times if repeat.passes == OPEN else repeat.passes

    def _right_ending(self, place: int) -> int:
        """The bar itself, or where the ending of this pass begins."""
        if not self._bars[place].bar.endings:
            return place
        repeat = self._ending_at[place]
        if self._replaying is not None:
            self._time = self._passes(repeat)
        return place if self._time in self._bars[place].bar.endings else repeat.ending(self._time)

    def _after(self, place: int) -> int:
        """The bar after one that was played."""
        bar = self._bars[place].bar
        if bar.fine and self._jump and not self._jump.endswith("Coda"):
            return len(self._bars)
        if bar.to_coda and self._jump.endswith("Coda"):
            self._time, self._jump, self._replaying = 1, "", None
            return self._coda
        if bar.repeat_end is not None:
            repeat = self._end_at[place]
            if self._replaying is None and self._time < self._passes(repeat):
                self._time += 1
                self._back = True
                return repeat.start
            self._time = 1
        if bar.jump is not None and place not in self._followed:
            self._followed.add(place)
            self._jump, self._replaying = bar.jump, place
            return self._segno if bar.jump.startswith("D.S.") else self._top
        if place == self._replaying:
            self._replaying = None
        return place + 1


def _spans(played: Sequence[PlayedBar[S]], end: Fraction) -> Iterator[Span[S]]:
    starts = [
        (bar.onset + slot.onset, slot, index)
        for index, bar in enumerate(played)
        for slot in bar.written.slots
    ]
    ends = [onset for onset, _, _ in starts[1:]]
    for (onset, slot, index), until in zip(starts, [*ends, end], strict=True):
        yield Span(slot.symbol, onset, until - onset, slot.held, index)


def _hits(played: Sequence[PlayedBar[S]], spans: Sequence[Span[S]]) -> Iterator[PlayedHit]:
    onsets = [span.onset for span in spans]
    for bar in played:
        for hit in bar.written.hits or ():
            yield from _hit(bar.onset + hit.onset, hit, spans, onsets)


def _hit(
    onset: Fraction, hit: Hit, spans: Sequence[Span[Any]], onsets: Sequence[Fraction]
) -> Iterator[PlayedHit]:
    span = bisect_right(onsets, onset) - 1
    if hit.push:
        span = (span + 1) % len(spans)
    if spans[span].symbol is not None:
        yield PlayedHit(onset, hit.duration, hit.push, span)
