"""The form of a line as a drill sees it: bars and chords of one chorus, with their grips."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Final

import attrs

from gripwright import Chord, Voicing
from gripwright.errors import ConditionError
from gripwright.meter import Hit, Meter
from gripwright.tune.key import Key
from gripwright.tune.written import COMMON_TIME

if TYPE_CHECKING:
    from gripwright import Chart
    from gripwright.leading.line import Line
    from gripwright.tune.unfold import PlayedBar, Unfolded

_ZERO: Final = Fraction(0)


@attrs.frozen
class FormHit:
    """A hit that the chart prescribes.

    Args:
        hit: The hit, its onset counted from the start of the form.
        span: The index of the chord that it attacks; one past the last for the next chorus.
    """

    hit: Hit
    span: int


@attrs.frozen
class FormBar:
    """A bar of one chorus.

    Args:
        onset: Quarters from the start of the chorus.
        length: Quarters that it lasts.
        lead_in: Quarters of its metre before its start, where it is a pickup; else 0.
        meter: Its metre.
        place: Its place among the full bars, from 0; -1 for a pickup.
        section: The name of the section that starts here, or None.
        hits: What the chart prescribes in it; None where it leaves the rhythm free.
        rests: Whether it is a break: nothing sounds in it.
    """

    onset: Fraction
    length: Fraction
    lead_in: Fraction
    meter: Meter
    place: int
    section: str | None
    hits: tuple[FormHit, ...] | None
    rests: bool = False

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the chorus to its end."""
        return self.onset + self.length

    @property
    def zero(self) -> Fraction:
        """Where its first beat is, or would be before a pickup."""
        return self.onset - self.lead_in


@attrs.frozen
class FormSpan:
    """A chord of one chorus, from its start to the next.

    Args:
        onset: Quarters from the start of the chorus.
        end: Quarters from the start of the chorus to the next chord.
        chord: The chord; None for N.C.
        voicing: Its grip; None for N.C.
        held: Whether it is attacked once and held.
    """

    onset: Fraction
    end: Fraction
    chord: Chord | None
    voicing: Voicing | None
    held: bool


@attrs.frozen
class Form:
    """One chorus.

    Args:
        bars: The bars as played.
        spans: The chords, which fill it without a gap.
        meter: The metre of the tune.
        key: Its key, or None.
        title: Its title, or None.
    """

    bars: tuple[FormBar, ...]
    spans: tuple[FormSpan, ...]
    meter: Meter
    key: Key | None
    title: str | None

    @property
    def length(self) -> Fraction:
        """Quarters that it lasts."""
        return self.bars[-1].end

    @property
    def pickup(self) -> Fraction:
        """Quarters of the pickup bar, 0 where there is none."""
        return self.bars[0].length if self.bars[0].place < 0 else _ZERO

    def span_at(self, time: Fraction) -> int:
        """The index of the chord at a time; one past the last from the end of the form on."""
        return bisect_right(self._ends, time)

    def rests_at(self, time: Fraction) -> bool:
        """Whether a time lies in a break; no for the end of the form and what follows it."""
        index = bisect_right(self._bar_ends, time)
        return index < len(self.bars) and self.bars[index].rests

    @cached_property
    def _ends(self) -> tuple[Fraction, ...]:
        return tuple(span.end for span in self.spans)

    @cached_property
    def _bar_ends(self) -> tuple[Fraction, ...]:
        return tuple(bar.end for bar in self.bars)

    def again(self) -> Form:
        """The form as later choruses play it.

        A pickup is played again only where the last bar makes room for it; else the bar before
        has its beats (as after D.C., common practice).
        """
        pickup = self.pickup
        if not pickup or self.bars[-1].length + pickup == self.meter.length:
            return self
        bars = [
            attrs.evolve(
                bar, onset=bar.onset - pickup, hits=_shifted(bar.hits, self.span_at(pickup), pickup)
            )
            for bar in self.bars[1:]
        ]
        spans = [
            attrs.evolve(span, onset=max(span.onset - pickup, _ZERO), end=span.end - pickup)
            for span in self.spans
            if span.end > pickup
        ]
        return attrs.evolve(self, bars=tuple(bars), spans=tuple(spans))


def form_of(line: Line) -> Form:
    """The form that a line was made for, with the grips of the line.

    Raises:
        ConditionError: The line has no chord, or not the chords of its chart.
    """
    if not line.steps:
        raise ConditionError(name="line", value="no chord", expected="one chord or more")
    return _plain(line) if line.chart is None else _charted(line, line.chart)


def usual_meter(chart: Chart[Chord]) -> Meter:
    """The metre of a tune: what its chart says, else that of its first full bar.

    Args:
        chart: The chart.

    Example:
        >>> from gripwright import Chart
        >>> str(usual_meter(Chart.parse("| 6/8 Em | 6/8 Am |")))
        '6/8'
    """
    if chart.settings.meter is not None:
        return chart.settings.meter
    bars = chart.written
    return next((bar.meter for bar in bars if not bar.lead_in), bars[0].meter)


def _plain(line: Line) -> Form:
    """Chords of a bar each."""
    spans = tuple(
        FormSpan(step.onset, step.onset + step.length, step.chord, step.voicing, held=False)
        for step in line.steps
    )
    bars = tuple(
        FormBar(span.onset, span.end - span.onset, _ZERO, COMMON_TIME, place, None, None)
        for place, span in enumerate(spans)
    )
    return Form(bars, spans, COMMON_TIME, None, None)


def _charted(line: Line, chart: Chart[Chord]) -> Form:
    unfolded = chart.unfolded()
    steps = iter(line.steps)
    spans = []
    for span in unfolded.spans:
        step = None if span.symbol is None else next(steps, None)
        if span.symbol is not None and (step is None or step.onset != span.onset):
            raise ConditionError(
                name="line", value=f"{len(line.steps)} chords", expected="the chords of its chart"
            )
        voicing = None if step is None else step.voicing
        spans.append(FormSpan(span.onset, span.end, span.symbol, voicing, span.held))
    bars = tuple(_bars(unfolded))
    return Form(bars, tuple(spans), usual_meter(chart), chart.key, chart.title)


def _bars(unfolded: Unfolded[Chord]) -> Iterator[FormBar]:
    hits = list(unfolded.hits)
    pickup = bool(unfolded.bars[0].written.lead_in)
    for place, bar in enumerate(unfolded.bars):
        end = bar.onset + bar.length
        inside = []
        while hits and hits[0].onset < end:
            hit = hits.pop(0)
            # A push out of the last bar belongs to the chorus after.
            out = hit.push and hit.span == 0
            span = len(unfolded.spans) if out else hit.span
            inside.append(FormHit(Hit(hit.onset, hit.duration, hit.push), span))
        yield FormBar(
            bar.onset,
            bar.length,
            bar.written.lead_in,
            bar.written.meter,
            place - pickup,
            _opened(bar, place, unfolded),
            None if bar.written.hits is None else tuple(inside),
            bar.written.hits == (),
        )


def _opened(bar: PlayedBar[Chord], place: int, unfolded: Unfolded[Chord]) -> str | None:
    """The name of the section that starts with a bar as played."""
    name = bar.written.name if bar.written.opens else None
    if name is None and place and bar.written.name != unfolded.bars[place - 1].written.name:
        return bar.written.name
    return name


def _shifted(
    hits: tuple[FormHit, ...] | None, spans: int, by: Fraction
) -> tuple[FormHit, ...] | None:
    if hits is None:
        return None
    return tuple(
        FormHit(attrs.evolve(one.hit, onset=one.hit.onset - by), one.span - spans) for one in hits
    )
