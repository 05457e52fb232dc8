"""Voicings under a given top note, which may be a tension that the chord does not have."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

import attrs
import numpy as np

from gripwright.errors import ConditionError
from gripwright.neck.emptiness import explain_empty
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import VoicingTable
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch
from gripwright.theory.quality import in_order

_USUAL_NOTES: Final = 3

StringSets = frozenset[frozenset[int]]
"""Sets of strings by their indices from the bass side."""


def under_top(chord: Chord, top: Pitch) -> Chord:
    """The chord with its top note among its degrees, its essential tones as they were.

    Args:
        chord: The chord.
        top: The note that is to sound on top.

    Returns:
        The chord itself where the note is one of its degrees; else the chord with one more,
        named as the chord names such a tension.

    Example:
        >>> chord = under_top(Chord.parse("G7"), Pitch.parse("E5"))
        >>> chord.degrees, chord.essential
        (('1', '3', '5', 'b7', '13'), (('3',), ('b7',)))
    """
    place = (top.midi - chord.root.pitch_class) % SEMITONES_IN_OCTAVE
    if any(degree.pitch_class == place for degree in chord.degrees):
        return chord
    name = chord.chromatic_names[place]
    added = () if name is None else (name,)
    quality = attrs.evolve(chord.quality, degrees=in_order((*chord.degrees, *added)))
    return attrs.evolve(chord, quality=quality)


@attrs.frozen(eq=False)
class TopNotes:
    """The voicings of one chord by their top note.

    Args:
        chord: The chord.
        instrument: The instrument.
        hand: The fretting hand.
        strategy: How tones are stacked; any way if None.
        sets: Sets of strings of which a voicing sounds exactly one, or None.
        conditions: Conditions of the search, as in `find_voicings`.
    """

    chord: Chord
    instrument: Instrument
    hand: Hand
    strategy: VoicingStrategy | None
    sets: StringSets | None
    conditions: dict[str, Any]
    _found: dict[Chord, VoicingTable] = attrs.field(factory=dict, init=False, repr=False)

    @classmethod
    def of(
        cls,
        chord: Chord,
        instrument: Instrument,
        *,
        hand: Hand,
        strategy: VoicingStrategy | None,
        string_sets: Iterable[Iterable[int]] | None,
        conditions: dict[str, Any],
    ) -> TopNotes:
        """The same with string sets as players number them, 1 on the treble side.

        Raises:
            ConditionError: A string that the instrument does not have.
        """
        if string_sets is None:
            return cls(chord, instrument, hand, strategy, None, conditions)
        strings = len(instrument.strings)
        sets = [tuple(numbers) for numbers in string_sets]
        for numbers in sets or [()]:
            if not numbers or not set(numbers) <= set(range(1, strings + 1)):
                raise ConditionError(
                    name="string_sets",
                    value=numbers,
                    expected=f"sets of string numbers from 1 to {strings}",
                )
        sizes = [len(set(numbers)) for numbers in sets]
        bounds = {
            "min_notes": min(sizes),
            "max_notes": max(sizes),
            "min_tones": min(*sizes, _USUAL_NOTES),
        }
        indices = frozenset(frozenset(strings - number for number in one) for one in sets)
        return cls(chord, instrument, hand, strategy, indices, {**bounds, **conditions})

    def under(self, top: Pitch) -> VoicingTable:
        """Every voicing with a note on top; a tension that the note adds sounds nowhere else.

        Args:
            top: The top note.
        """
        chord = self._chord(top)
        table = self._searched(chord)
        keep = table.columns["top_midi"] == top.midi
        if chord is not self.chord:
            low = table.columns["bass_midi"]
            foreign = self.chord.bass is not None and (
                self.chord.bass.pitch_class == top.note.pitch_class
            )
            for sounds, pitch in sounding_pitches(table.pairs):
                same = sounds & ((pitch - np.int16(top.midi)) % SEMITONES_IN_OCTAVE == 0)
                keep &= ~same | (pitch == top.midi) | (foreign & (pitch == low))
        return table[np.flatnonzero(keep)]

    def compass(self) -> tuple[int, int]:
        """The lowest and the highest MIDI number that the sets of strings can sound."""
        strings = range(len(self.instrument.strings))
        used = strings if self.sets is None else frozenset().union(*self.sets)
        sounding = [
            self.instrument.sounding(string, fret)
            for string in used
            for fret in (0, self.instrument.frets)
        ]
        return min(sounding), max(sounding)

    def reason(self, top: Pitch | None) -> str:
        """Why there is no voicing with a note on top, and how many there are without it.

        Args:
            top: The top note; None for every note of a scale.
        """
        chord = self.chord if top is None else self._chord(top)
        found = find_voicings(chord, self.instrument, self.hand, self.strategy, **self.conditions)
        if not len(found):
            return explain_empty(
                chord, self.instrument, self.hand, self.strategy, **self.conditions
            ).sentence
        here = self._searched(chord)
        blamed = ["that top note" if top is None else f"{top} on top"]
        if not len(here):
            blamed = ["these string sets"]
        return f"without {' and '.join(blamed)} there are {len(here) or len(found):,}"

    def _chord(self, top: Pitch) -> Chord:
        return self.chord if self.conditions.get("as_written") else under_top(self.chord, top)

    def _searched(self, chord: Chord) -> VoicingTable:
        if chord not in self._found:
            table = find_voicings(
                chord, self.instrument, self.hand, self.strategy, **self.conditions
            )
            self._found[chord] = table if self.sets is None else self._on_sets(table, self.sets)
        return self._found[chord]

    @staticmethod
    def _on_sets(table: VoicingTable, sets: StringSets) -> VoicingTable:
        """The rows that sound exactly one of the sets."""
        bits = np.zeros(len(table), np.int32)
        for string, column in enumerate(table.frets.T):
            bits |= (column >= 0).astype(np.int32) << string
        wanted = [sum(1 << string for string in one) for one in sets]
        return table[np.flatnonzero(np.isin(bits, wanted))]
