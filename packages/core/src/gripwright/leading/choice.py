"""Which voicings may stand at each chord of a line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Any, Final, Protocol

import attrs
import numpy as np
from numpy.typing import NDArray

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

Flags = NDArray[np.bool_]

_BAR: Final = Fraction(4)
_USUAL_LEAST: Final = 3


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
    if isinstance(chart, str):
        raise ConditionError(
            name="chart", value=chart, expected="a Chart, as Chart.parse reads it, or chords"
        )
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
        """Every voicing that will do, under the first policy of the band that leaves one."""
        return self._allowed(self._first_found(place), place)

    def _first_found(self, place: Place) -> VoicingTable:
        for policy in self._policies(place.chord):
            table = self._search(place.chord, policy)
            if len(self._allowed(table, place)):
                break
        return table

    def _search(self, chord: Chord, policy: dict[str, Any]) -> VoicingTable:
        return find_voicings(chord, self.instrument, self.hand, self.strategy, **policy)

    def _policies(self, chord: Chord) -> Iterator[dict[str, Any]]:
        """Conditions in the order in which they are tried."""
        if self.band is None:
            yield self.conditions
            return
        usual: dict[str, Any] = {
            "min_notes": self.band.min_notes,
            "max_notes": self.band.max_notes,
        }
        if self.band.min_notes is not None:
            tones = len({note.pitch_class for note in (*chord.notes, chord.bass or chord.root)})
            usual["min_tones"] = min(self.band.min_notes, _USUAL_LEAST, tones)
        asked = {**usual, **self.conditions}
        if "root" in self.conditions:
            yield asked
            return
        if self.band.root_lowest and chord.bass is None and "bass_degree" not in asked:
            yield {**asked, "root": "required", "bass_degree": "1"}
        for root in self.band.roots:
            yield {**asked, "root": root}

    def _allowed(self, table: VoicingTable, place: Place) -> VoicingTable:
        keep = np.ones(len(table), bool)
        for _, test in self._tests(place):
            keep &= test(table)
        return table[np.flatnonzero(keep)]

    def _tests(self, place: Place) -> Iterator[tuple[str, Callable[[VoicingTable], Flags]]]:
        """What a place asks beside the conditions of the search, each with its words."""
        if self.band is not None and self.band.lowest is not None:
            lowest = self.band.lowest
            yield f"no note below {lowest}", lambda table: table.columns["bass_midi"] >= lowest.midi
        if place.top is not None:
            top = place.top
            yield f"{top} on top", lambda table: table.columns["top_midi"] == top.midi
        if place.melody:
            yield "the melody above", lambda table: _under(table, place.melody)

    def _reason(self, place: Place) -> str:
        """Which condition leaves nothing, and how much there is without it."""
        *_, policy = self._policies(place.chord)
        found = self._search(place.chord, policy)
        if not len(found):
            return explain_empty(
                place.chord, self.instrument, self.hand, self.strategy, **policy
            ).sentence
        tests = list(self._tests(place))
        for words, test in tests:
            keep = np.ones(len(found), bool)
            for _, other in tests:
                if other is not test:
                    keep &= other(found)
            if keep.any():
                return f"without the condition '{words}' {_there_are(int(keep.sum()))}"
        together = " and ".join(words for words, _ in tests)
        return f"without the conditions '{together}' {_there_are(len(found))}"


def _under(table: VoicingTable, melody: tuple[int, ...]) -> Flags:
    """Rows below every note of a melody, and a semitone from none of them."""
    keep: Flags = table.columns["top_midi"] <= min(melody)
    for sounds, pitch in sounding_pitches(table.pairs):
        for note in melody:
            keep &= ~sounds | (np.abs(pitch - np.int16(note)) != 1)
    return keep


def _there_are(number: int) -> str:
    return "there is 1 voicing" if number == 1 else f"there are {number:,} voicings"


def only(layer: Candidates, voicing: Voicing | None, place: Place, search: Choice) -> Candidates:
    """The one candidate that is asked for, or all where none is.

    Raises:
        ConditionError: The voicing is none of those that will do.
    """
    if voicing is None:
        return layer
    table = search.voicings(attrs.evolve(place, top=None, melody=()))
    if voicing.instrument != search.instrument:
        table = table[:0]
    same = np.zeros(len(table), bool)
    if len(table):
        same = (table.frets == np.array(voicing.frets, np.int8)).all(axis=1)
    if not same.any():
        raise ConditionError(
            name="voicing", value=voicing.id, expected=f"a voicing of {place.chord} that will do"
        )
    return Candidates.of(table[np.flatnonzero(same)], search.weights)
