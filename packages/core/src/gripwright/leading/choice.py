"""Which voicings may stand at each chord of a line."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Any, Final, Protocol

import attrs
import numpy as np

from gripwright.errors import ConditionError, NoCandidateError
from gripwright.leading.band import Band
from gripwright.leading.cost import TOP_LINES, Candidates, LineWeights, TopLine
from gripwright.neck.emptiness import explain_empty
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.ranking import teaching
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import VoicingTable
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.pitch import Pitch
from gripwright.tune.chart import Chart

_BAR: Final = Fraction(4)


class MelodyNote(Protocol):
    """A note of a melody: where it starts, how long it lasts, and its pitch."""

    @property
    def onset(self) -> Fraction:
        """Quarters from the start of the form."""

    @property
    def length(self) -> Fraction:
        """Quarters that it lasts."""

    @property
    def pitch(self) -> Pitch:
        """Its pitch."""


@attrs.frozen
class Place:
    """A chord where a line needs a voicing.

    Args:
        chord: The chord.
        onset: Quarters from the start of the form.
        length: Quarters until the next chord.
        bar: The number of the bar as played, counted from 1.
        top: The top note that is asked for, or None.
        melody: MIDI numbers of the melody while the chord lasts.
    """

    chord: Chord
    onset: Fraction
    length: Fraction
    bar: int
    top: Pitch | None
    melody: tuple[int, ...]


def places_of(
    chart: Chart[Chord] | Sequence[Chord],
    top: TopLine | Sequence[Pitch | None],
    melody: Iterable[MelodyNote],
) -> tuple[Place, ...]:
    """The chords of a tune as played, each with what is asked of its voicing.

    Raises:
        ConditionError: A top line that is unknown, or of another length than the tune.
    """
    if isinstance(chart, Chart):
        spans = [
            (span.symbol, span.onset, span.length, span.bar + 1)
            for span in chart.unfolded().spans
            if span.symbol is not None
        ]
    else:
        spans = [(chord, _BAR * bar, _BAR, bar + 1) for bar, chord in enumerate(chart)]
    if isinstance(top, str):
        if top not in TOP_LINES:
            raise ConditionError(name="top", value=top, expected=" or ".join(TOP_LINES))
        tops: list[Pitch | None] = [None] * len(spans)
    else:
        tops = list(top)
    if len(tops) != len(spans):
        raise ConditionError(
            name="top", value=f"{len(tops)} notes", expected=f"one for each of {len(spans)} chords"
        )
    notes = tuple(melody)
    return tuple(
        Place(
            chord,
            onset,
            length,
            bar,
            pitch,
            tuple(
                note.pitch.midi
                for note in notes
                if note.onset < onset + length and onset < note.onset + note.length
            ),
        )
        for (chord, onset, length, bar), pitch in zip(spans, tops, strict=True)
    )


@attrs.frozen(eq=False)
class Choice:
    """The candidates of chords under the conditions of a line.

    Args:
        instrument: The instrument.
        hand: The fretting hand.
        strategy: How tones are stacked; any way if None.
        band: Who else plays, or None.
        most: Candidates of a chord at most.
        weights: What the parts of a step weigh.
        conditions: Conditions of the search.
    """

    instrument: Instrument
    hand: Hand
    strategy: VoicingStrategy | None
    band: Band | None
    most: int
    weights: LineWeights
    conditions: dict[str, Any]
    _kept: dict[Any, Candidates] = attrs.field(factory=dict, init=False)

    def candidates(self, place: Place) -> Candidates:
        """The first of the teaching order that will do at a place."""
        key = place.chord, place.top, place.melody
        if key not in self._kept:
            table = self.voicings(place)
            if not len(table):
                raise NoCandidateError(
                    chord=str(place.chord), bar=place.bar, reason=self._reason(place)
                )
            chosen = table.order_by(teaching)[: self.most]
            self._kept[key] = Candidates.of(chosen, self.weights)
        return self._kept[key]

    def voicings(self, place: Place) -> VoicingTable:
        """Every voicing that will do at a place, under the first root policy that has one."""
        for policy in self._policies():
            table = find_voicings(place.chord, self.instrument, self.hand, self.strategy, **policy)
            table = self._allowed(table, place)
            if len(table):
                break
        return table

    def _policies(self) -> Iterator[dict[str, Any]]:
        if self.band is None:
            yield self.conditions
            return
        usual = {"min_notes": self.band.min_notes, "max_notes": self.band.max_notes}
        if self.band.min_notes is not None:
            usual["min_tones"] = min(self.band.min_notes, 3)
        asked = {**usual, **self.conditions}
        if "root" in self.conditions:
            yield asked
            return
        for root in self.band.roots:
            yield {**asked, "root": root}

    def _allowed(self, table: VoicingTable, place: Place) -> VoicingTable:
        keep = np.ones(len(table), bool)
        if self.band is not None and self.band.lowest is not None:
            keep &= table.columns["bass_midi"] >= self.band.lowest.midi
        if place.top is not None:
            keep &= table.columns["top_midi"] == place.top.midi
        if place.melody:
            keep &= table.columns["top_midi"] <= min(place.melody)
            for sounds, pitch in sounding_pitches(table.pairs):
                for note in place.melody:
                    keep &= ~sounds | (np.abs(pitch - np.int16(note)) != 1)
        return table[np.flatnonzero(keep)]

    def _reason(self, place: Place) -> str:
        """Which condition leaves nothing, and how much there is without it."""
        *_, policy = self._policies()
        search = functools.partial(find_voicings, place.chord, self.instrument, self.hand)
        found = search(self.strategy, **policy)
        if not len(found):
            return explain_empty(
                place.chord, self.instrument, self.hand, self.strategy, **policy
            ).sentence
        blamed = []
        if place.top is not None:
            blamed.append(f"{place.top} on top")
        if place.melody:
            blamed.append("the melody as ceiling")
        if self.band is not None and self.band.lowest is not None:
            blamed.append(f"no note below {self.band.lowest}")
        there = "there is 1 voicing" if len(found) == 1 else f"there are {len(found):,} voicings"
        return f"without the condition '{' and '.join(blamed)}' {there}"


def only(layer: Candidates, voicing: Voicing | None, place: Place, search: Choice) -> Candidates:
    """The one candidate that is asked for, or all where none is.

    Raises:
        ConditionError: The voicing is none of those that will do.
    """
    if voicing is None:
        return layer
    table = search.voicings(attrs.evolve(place, top=None, melody=()))
    same = (table.frets == np.array(voicing.frets, np.int8)).all(axis=1)
    if not same.any():
        raise ConditionError(
            name="voicing", value=voicing.id, expected=f"a voicing of {place.chord} that will do"
        )
    return Candidates.of(table[np.flatnonzero(same)], search.weights)
