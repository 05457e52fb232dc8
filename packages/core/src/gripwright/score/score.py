"""Scores: everything that sounds in a drill, at exact times."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cached_property
from itertools import chain, pairwise
from typing import Any

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.neck.instrument import Instrument
from gripwright.neck.voicing import Voicing
from gripwright.score.event import ChordEvent, ClickEvent, NoteEvent
from gripwright.score.swing import swung, unswung
from gripwright.score.timeline import Timeline
from gripwright.theory.chord import Chord
from gripwright.tune.key import Key


def _as_tuple(values: Iterable[Any]) -> tuple[Any, ...]:
    return tuple(values)


@attrs.frozen
class ChordChange:
    """Where the chart has a chord.

    Args:
        onset: Quarters from the start of the form.
        end: Quarters from the start of the form to the next one.
        chord: The chord; None for N.C.
        voicing: The grip that its line has for it, where the player places it himself; None
            where the events say what is gripped.

    Example:
        >>> change = ChordChange(Fraction(0), Fraction(4), Chord.parse("Dm7"))
        >>> print(change.chord, change.end)
        Dm7 4
    """

    onset: Fraction
    end: Fraction
    chord: Chord | None
    voicing: Voicing | None = None

    def __attrs_post_init__(self) -> None:
        if self.end <= self.onset:
            raise ConditionError(
                name="end", value=str(self.end), expected=f"after the onset, {self.onset}"
            )
        if self.voicing is not None and self.voicing.chord != self.chord:
            raise ConditionError(
                name="voicing", value=str(self.voicing.chord), expected=f"a grip of {self.chord}"
            )


@attrs.frozen
class ScoreBar:
    """A bar of a score.

    Args:
        number: Its number: 1 is the first whole bar of the first chorus, and numbers go on through
            all choruses; bars of the count-in are 0, -1 and so on, backwards. A pickup has the
            number of the bar before it, which it completes; it is 0 where nothing is before it
            (common practice: a pickup is not counted).
        onset: Quarters from the start of the form.
        meter: Its metre.
        length: Quarters that it lasts: less than its metre says in a pickup bar, and in the bar of
            the count-in that leads to it.
        chorus: The number of the chorus, from 1; 0 in the count-in; the ending bar belongs to the
            last chorus.
        section: The name of the section that starts here, or None.
        ending: Whether it is the bar after the form in which the last chord is held.
        lead_in: Quarters of its metre that lie before its start: above 0 in a pickup bar alone.

    Example:
        >>> pickup = ScoreBar(0, Fraction(0), Meter(4, 4), Fraction(1), 1, lead_in=Fraction(3))
        >>> print(pickup.length, pickup.lead_in)
        1 3
    """

    number: int
    onset: Fraction
    meter: Meter
    length: Fraction
    chorus: int
    section: str | None = None
    ending: bool = False
    lead_in: Fraction = Fraction(0)

    def __attrs_post_init__(self) -> None:
        if self.length <= 0 or self.lead_in < 0:
            raise ConditionError(
                name=f"bar {self.number}",
                value=f"{self.length} quarters, {self.lead_in} before it",
                expected="more than 0 quarters, and 0 or more before it",
            )

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the form to its end."""
        return self.onset + self.length


@attrs.frozen
class Chorus:
    """What holds from the start of a chorus.

    Args:
        number: Its number, from 1; 0 for the count-in.
        onset: Quarters from the start of the form.
        end: Quarters from the start of the form to its end; with the ending bar.
        tempo_bpm: Pulses a minute, exact.
        swing: How long the first half of a swung pulse is beside the second; 1 for straight.
        key: The key, or None.

    Example:
        >>> chorus = Chorus(1, Fraction(0), Fraction(48), tempo_bpm=Fraction(120))
        >>> print(chorus.swing, chorus.key)
        1 None
    """

    number: int
    onset: Fraction
    end: Fraction
    tempo_bpm: Fraction
    swing: Fraction = Fraction(1)
    key: Key | None = None

    def __attrs_post_init__(self) -> None:
        if self.tempo_bpm <= 0 or self.swing < 1 or self.end <= self.onset:
            raise ConditionError(
                name=f"chorus {self.number}",
                value=f"{self.tempo_bpm} beats a minute, swing {self.swing}, "
                f"{self.onset} to {self.end}",
                expected="a tempo above 0, a swing of 1 or more, and an end after its onset",
            )


@attrs.frozen
class Score:
    """A drill or a performance: exact events over the bars of a form.

    Times are quarters from the start of the form as they sound: swing has moved them already
    (`written` moves them back), and only a clock needs the tempo.

    Args:
        instrument: What the chords are gripped on.
        bars: The bars, count-in and ending bar among them, without a gap.
        choruses: What holds from where; the count-in among them where there is one.
        changes: The chords of the chart, chorus after chorus.
        events: The chords as they are played, by onset.
        clicks: The clicks, by onset.
        bass: Bass notes, by onset; empty where none were asked for.
        root: Roots under the chords, by onset; empty where none were asked for.
        title: The title, or None.
        rhythm: What is played, in words.
        click: What clicks, in words.
        notes: What the player should know, a sentence each.

    Raises:
        ConditionError: Bars that leave a gap, or choruses, chords or events out of order or
            outside the bars.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> score = sample_score()
        >>> [(str(event.chord), str(event.onset), str(event.end)) for event in score.events]
        [('Dm7', '0', '4'), ('G7', '4', '5')]
    """

    instrument: Instrument
    bars: tuple[ScoreBar, ...] = attrs.field(converter=_as_tuple)
    choruses: tuple[Chorus, ...] = attrs.field(converter=_as_tuple)
    changes: tuple[ChordChange, ...] = attrs.field(converter=_as_tuple)
    events: tuple[ChordEvent, ...] = attrs.field(converter=_as_tuple)
    clicks: tuple[ClickEvent, ...] = attrs.field(default=(), converter=_as_tuple)
    bass: tuple[NoteEvent, ...] = attrs.field(default=(), converter=_as_tuple)
    root: tuple[NoteEvent, ...] = attrs.field(default=(), converter=_as_tuple)
    title: str | None = None
    rhythm: str = ""
    click: str = ""
    notes: tuple[str, ...] = attrs.field(default=(), converter=_as_tuple)

    def __attrs_post_init__(self) -> None:
        if not self.bars or not self.choruses:
            raise ConditionError(name="bars", value=len(self.bars), expected="one bar or more")
        place = self.bars[0].onset
        for bar in self.bars:
            if bar.onset != place:
                raise ConditionError(
                    name=f"bar {bar.number}", value=str(bar.onset), expected=f"onset {place}"
                )
            place = bar.end
        self._check_inside()
        tracks: tuple[tuple[Any, ...], ...] = (self.events, self.clicks, self.bass, self.root)
        for track in tracks:
            before = self.start
            for event in track:
                if not before <= event.onset < self.end or getattr(event, "end", 0) > self.end:
                    raise ConditionError(
                        name="onset",
                        value=str(event.onset),
                        expected=f"in order, {self.start} to {self.end}",
                    )
                before = event.onset

    def _check_inside(self) -> None:
        # A pickup completes the bar before it, and so may have its number.
        own = [self.bars[0].number] + [
            bar.number
            for before, bar in pairwise(self.bars)
            if bar.number != before.number or not bar.lead_in
        ]
        numbers = set(own)
        if len(numbers) < len(own):
            raise ConditionError(name="bars", value=len(numbers), expected="a number for each bar")
        rows: tuple[tuple[str, tuple[Any, ...]], ...] = (
            ("choruses", self.choruses),
            ("changes", self.changes),
        )
        for name, values in rows:
            before = self.start
            for one in values:
                if one.onset < before or one.end > self.end:
                    raise ConditionError(
                        name=name,
                        value=f"{one.onset} to {one.end}",
                        expected=f"in order, {self.start} to {self.end}",
                    )
                before = one.onset
        tracks: tuple[tuple[Any, ...], ...] = (self.events, self.clicks, self.bass, self.root)
        for event in chain.from_iterable(tracks):
            if event.bar not in numbers:
                raise ConditionError(name="bar", value=event.bar, expected="the number of a bar")

    @property
    def start(self) -> Fraction:
        """Quarters from the start of the form to the first bar: 0, or less with a count-in."""
        return self.bars[0].onset

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the form to the end of the last bar."""
        return self.bars[-1].end

    @cached_property
    def _bar_line(self) -> Timeline:
        return Timeline(bar.onset for bar in self.bars)

    @cached_property
    def _chorus_line(self) -> Timeline:
        return Timeline(chorus.onset for chorus in self.choruses)

    def bar_at(self, time: Fraction) -> ScoreBar:
        """The bar that a time lies in; the last one for the end.

        Args:
            time: Quarters from the start of the form.
        """
        return self.bars[self._bar_line.index_at(time)]

    def chorus_at(self, time: Fraction) -> Chorus:
        """The chorus that a time lies in; the last one for the end."""
        return self.choruses[self._chorus_line.index_at(time)]

    def written(self, time: Fraction) -> Fraction:
        """The time as it is written, with swing taken out: exactly undone.

        Args:
            time: Quarters from the start of the form, as it sounds.
        """
        return self._warped(time, unswung)

    def sounding(self, time: Fraction) -> Fraction:
        """The time as it sounds, where one is written: `written` undone."""
        return self._warped(time, swung)

    def _warped(self, time: Fraction, warp: Any) -> Fraction:  # noqa: ANN401 - one of two below
        ratio = self.chorus_at(time).swing
        if ratio == 1:
            return time
        bar = self.bar_at(time)
        # Pulses are counted from the first beat, which a pickup bar has before its start.
        zero = bar.onset - bar.lead_in
        moved: Fraction = zero + warp(time - zero, ratio, bar.meter.pulse)
        return moved

    @cached_property
    def _clock(self) -> tuple[tuple[Fraction, Fraction, Fraction], ...]:
        """From where, at how many seconds, a quarter lasts how many seconds."""
        rows = []
        onset, seconds, quarter = self.start, Fraction(0), Fraction(0)
        for bar in self.bars:
            seconds += (bar.onset - onset) * quarter
            tempo = self.chorus_at(bar.onset).tempo_bpm
            onset, quarter = bar.onset, 60 / (tempo * bar.meter.pulse)
            rows.append((onset, seconds, quarter))
        return tuple(rows)

    def seconds_at(self, time: Fraction) -> Fraction:
        """Seconds from the first bar, count-in and all, exact.

        Args:
            time: Quarters from the start of the form.
        """
        onset, seconds, quarter = self._clock[self._bar_line.index_at(time)]
        return seconds + (time - onset) * quarter

    @property
    def seconds(self) -> Fraction:
        """How long it lasts, in seconds."""
        return self.seconds_at(self.end)
