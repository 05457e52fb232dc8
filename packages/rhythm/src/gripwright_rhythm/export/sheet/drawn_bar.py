"""Bars as a sheet draws them: the chords that start in them, what sounds, what clicks."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

import attrs

from gripwright import ChordEvent, Score, Voicing
from gripwright.meter import Meter
from gripwright.score import ChordChange
from gripwright_rhythm.export.sheet.strip import Tick, written_ticks

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Iterator, Mapping

    from gripwright import ClickEvent, ScoreBar


T = TypeVar("T")


@attrs.frozen
class Piece:
    """The part of an event that lies in a bar.

    Args:
        start: Quarters from the start of the bar.
        end: Quarters from the start of the bar.
        event: The event.
        attacked: Whether it starts here.
        released: Whether it ends here.
    """

    start: Fraction
    end: Fraction
    event: ChordEvent
    attacked: bool
    released: bool


@attrs.frozen
class Harmony:
    """A chord of the chart, as far as it lies in a bar.

    Args:
        start: Quarters from the start of the bar; 0 where it goes on from before.
        change: The chord, and its place in the score.
        goes_on: Whether it started in a bar before.
        voicing: What is gripped for it, or None where it does not sound and nobody places it.
    """

    start: Fraction
    change: ChordChange
    goes_on: bool
    voicing: Voicing | None


@attrs.frozen
class DrawnBar:
    """A bar that is drawn; or the end of the count-in, where the first chord is anticipated.

    Args:
        onset: Quarters from the start of the form.
        length: Quarters that it lasts.
        meter: Its metre.
        number: Its number in the score, 0 or less in the count-in.
        section: The name of the section that starts with it, or None.
        pickup: Whether it is a pickup.
        harmonies: Its chords.
        pieces: What sounds.
        ticks: Beats and their parts.
        clicks: Quarters from its start to each click, and whether it is accented.
    """

    onset: Fraction
    length: Fraction
    meter: Meter
    number: int
    section: str | None
    pickup: bool
    harmonies: tuple[Harmony, ...]
    pieces: tuple[Piece, ...]
    ticks: tuple[Tick, ...]
    clicks: tuple[tuple[Fraction, bool], ...]

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the form to its end."""
        return self.onset + self.length

    @cached_property
    def signature(self) -> Hashable:
        """What two bars share that look the same."""
        harmonies = [
            (one.start, one.goes_on, _symbol(one), one.voicing and one.voicing.frets)
            for one in self.harmonies
        ]
        pieces = [
            (
                *(one.start, one.end, one.attacked, one.released, one.event.chord.symbol),
                *(one.event.voicing.frets, one.event.push, one.event.approach),
                *(one.event.short, one.event.accent, one.event.stroke),
            )
            for one in self.pieces
        ]
        return (self.length, self.meter, tuple(harmonies), tuple(pieces), self.clicks)


def _symbol(one: Harmony) -> str | None:
    return None if one.change.chord is None else one.change.chord.symbol


@attrs.frozen
class BarReader:
    """Reads bars from a score.

    Args:
        score: The score.
    """

    score: Score

    def bar(self, bar: ScoreBar) -> DrawnBar:
        """A bar of the score."""
        return self._drawn(bar, bar.onset)

    def lead_ins(self) -> tuple[DrawnBar, ...]:
        """The end of the count-in, from the beat on which a chord starts in it; often empty."""
        score = self.score
        if not score.events or score.events[0].onset >= 0:
            return ()
        first = score.bar_at(score.events[0].onset)
        zero = first.onset - first.lead_in
        pulses = (score.events[0].onset - zero) // first.meter.pulse
        start = max(zero + pulses * first.meter.pulse, first.onset)
        return tuple(
            self._drawn(bar, max(bar.onset, start))
            for bar in score.bars
            if bar.chorus == 0 and bar.end > start
        )

    def _drawn(self, bar: ScoreBar, onset: Fraction) -> DrawnBar:
        end = bar.end
        return DrawnBar(
            onset,
            end - onset,
            bar.meter,
            bar.number,
            bar.section,
            bar.lead_in > 0,
            tuple(self._harmonies(bar, onset)),
            tuple(self._pieces(bar, onset, end)),
            tuple(self._ticks(bar, onset, end)),
            tuple(
                (one.onset - onset, one.accent)
                for one in self._clicks.get(bar.onset, ())
                if one.onset >= onset
            ),
        )

    def _ticks(self, bar: ScoreBar, onset: Fraction, end: Fraction) -> Iterator[Tick]:
        zero = bar.onset - bar.lead_in
        for tick in written_ticks(bar.meter, onset - zero, end - zero):
            yield Tick(self.score.sounding(zero + tick.time) - onset, tick.text)

    def _pieces(self, bar: ScoreBar, onset: Fraction, end: Fraction) -> Iterator[Piece]:
        for event in self._events.get(bar.onset, ()):
            if event.end <= onset:
                continue
            yield Piece(
                max(event.onset, onset) - onset,
                min(event.end, end) - onset,
                event,
                event.onset >= onset,
                event.end <= end,
            )

    def _harmonies(self, bar: ScoreBar, onset: Fraction) -> Iterator[Harmony]:
        for index in self._changes.get(bar.onset, ()):
            change = self.score.changes[index]
            start = max(change.onset - onset, Fraction(0))
            grip = self._grips.get(index, change.voicing)
            yield Harmony(start, change, change.onset < onset, grip)

    @cached_property
    def _events(self) -> Mapping[Fraction, list[ChordEvent]]:
        """What sounds in each bar, by its onset."""
        return self._by_bar((event.onset, event.end, event) for event in self.score.events)

    @cached_property
    def _changes(self) -> Mapping[Fraction, list[int]]:
        """The indices of the chords of each bar, by its onset."""
        changes = enumerate(self.score.changes)
        return self._by_bar((change.onset, change.end, index) for index, change in changes)

    @cached_property
    def _clicks(self) -> Mapping[Fraction, list[ClickEvent]]:
        """The clicks of each bar, by its onset."""
        return self._by_bar((click.onset, click.onset, click) for click in self.score.clicks)

    def _by_bar(self, timed: Iterable[tuple[Fraction, Fraction, T]]) -> Mapping[Fraction, list[T]]:
        found: dict[Fraction, list[T]] = {}
        onsets = [bar.onset for bar in self.score.bars]
        for onset, end, value in timed:
            place = max(bisect_right(onsets, onset) - 1, 0)
            last = max(bisect_left(onsets, end) - 1, place)
            for bar in self.score.bars[place : last + 1]:
                found.setdefault(bar.onset, []).append(value)
        return found

    @cached_property
    def _grips(self) -> dict[int, Voicing]:
        """The first grip of each chord of the chart, by its index."""
        grips: dict[int, Voicing] = {}
        changes = self.score.changes
        onsets = [change.onset for change in changes]
        for event in self.score.events:
            if event.approach:
                continue
            at = bisect_right(onsets, event.onset) - 1
            wanted = (at + 1, at) if event.push else (at,)
            for index in wanted:
                if 0 <= index < len(changes) and changes[index].chord == event.chord:
                    grips.setdefault(index, event.voicing)
                    break
        return grips
