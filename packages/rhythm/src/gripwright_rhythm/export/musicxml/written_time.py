"""Written times: where a score has its sounds on paper, with swing taken out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import floor, lcm
from typing import Final

import attrs

from gripwright import ChordEvent, NoteEvent, Score, ScoreBar
from gripwright.errors import ConditionError

MOST_DIVISIONS: Final = 2**31 - 1
"""The most divisions in a bar: readers hold a duration in 31 bits."""

_FINEST_SHORT: Final = 12
"""Parts of a unit at which a short chord may end on paper: for sixteenths and for triplets."""


@attrs.frozen
class WrittenSpan:
    """A start and an end as written, in quarters from the start of the form.

    Args:
        start: The start.
        end: The end of its notes.
        release: Quarters by which it sounds shorter than its notes.
    """

    start: Fraction
    end: Fraction
    release: Fraction = Fraction(0)


def chord_spans(score: Score) -> Iterator[WrittenSpan]:
    """Where the chords stand.

    A short one that ends between sixteenths and triplets is written until the next pulse or chord,
    and released where it ends: no quintuplet has to say how short short is.
    """
    events = score.events
    for index, event in enumerate(events):
        span = span_of(score, event)
        if event.short:
            bar = score.bar_at(event.onset)
            following = events[index + 1] if index + 1 < len(events) else None
            span = _shortened(score, bar, span, following)
        yield span


def _shortened(
    score: Score, bar: ScoreBar, span: WrittenSpan, following: ChordEvent | None
) -> WrittenSpan:
    zero = bar.onset - bar.lead_in
    unit = Fraction(4, bar.meter.unit)
    if ((span.end - zero) / unit * _FINEST_SHORT).denominator == 1:
        return span
    pulse = bar.meter.pulse
    end = min(zero + (floor((span.start - zero) / pulse) + 1) * pulse, score.end)
    if following is not None:
        end = min(end, score.written(following.onset))
    return WrittenSpan(span.start, end, end - span.end) if end > span.end else span


def span_of(score: Score, event: ChordEvent | NoteEvent) -> WrittenSpan:
    """Where an event stands.

    Raises:
        ConditionError: It has no such place: a bar that swings starts between two pulses, or is
            none of the score's bars.
    """
    start, end = score.written(event.onset), score.written(event.end)
    if not score.bars[0].onset <= start < end <= score.bars[-1].end:
        raise ConditionError(
            name="onset",
            value=str(event.onset),
            expected="times that swing can be taken out of, so that they can be written",
        )
    return WrittenSpan(start, end)


def click_spans(score: Score) -> Iterator[WrittenSpan]:
    """Where the clicks stand: each is written until the next pulse or click."""
    clicks = score.clicks
    starts = [score.written(click.onset) for click in clicks]
    for index, (click, start) in enumerate(zip(clicks, starts, strict=True)):
        bar = score.bar_at(click.onset)
        zero, pulse = bar.onset - bar.lead_in, bar.meter.pulse
        end = min(zero + (floor((start - zero) / pulse) + 1) * pulse, bar.end)
        if index + 1 < len(starts) and start < starts[index + 1]:
            end = min(end, starts[index + 1])
        yield WrittenSpan(start, end)


def divisions_of(times: Iterable[Fraction], longest: Fraction) -> int:
    """The fewest divisions of a quarter in which all times are whole.

    Args:
        times: The times, in quarters.
        longest: Quarters in the longest bar.

    Raises:
        ConditionError: They are finer than readers can hold.

    Example:
        >>> divisions_of([Fraction(3, 2), Fraction(1, 7)], Fraction(4))
        14
    """
    divisions = lcm(*{time.denominator for time in times})
    if divisions * longest > MOST_DIVISIONS:
        raise ConditionError(
            name="divisions",
            value=divisions,
            expected=f"times on one grid of at most {int(MOST_DIVISIONS / longest)} divisions of a"
            " quarter: readers of MusicXML hold a bar in 31 bits",
        )
    return divisions
