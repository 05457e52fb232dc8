"""Hypothesis strategies for whole searches: a chord, a neck, a hand and conditions."""

from math import prod
from typing import TYPE_CHECKING, Any

import attrs
from hypothesis import strategies as st

from gripwright import (
    Chord,
    Hand,
    Instrument,
    Note,
    Pitch,
    VoicingTable,
    find_voicings,
)
from gripwright.laws.drawing import chords, hands, instruments
from gripwright.laws.drawing.theory import ROOTS
from tests.core.neck.enumerator import Limits, Neck, Tones, neck_of, tones_of

if TYPE_CHECKING:
    from collections.abc import Callable

# The enumerator looks at every shape one by one; a neck is cut shorter until they are this few.
_MOST_SHAPES = 25_000


@attrs.frozen
class Search:
    """All that a search is given, beside the same in the enumerator's words."""

    chord: Chord
    instrument: Instrument
    hand: Hand
    conditions: dict[str, Any]

    @property
    def tones(self) -> Tones:
        """The chord in the enumerator's words."""
        return tones_of(self.chord)

    @property
    def neck(self) -> Neck:
        """The instrument in the enumerator's words."""
        return neck_of(self.instrument)

    @property
    def limits(self) -> Limits:
        """The conditions in the enumerator's words."""
        return Limits(**self.conditions)

    def find(self, **changes: object) -> VoicingTable:
        """Run the search, with some of its conditions changed."""
        return find_voicings(
            self.chord, self.instrument, hand=self.hand, **self.conditions | changes
        )


def cut_short(instrument: Instrument, chord: Chord) -> Instrument:
    """Return the instrument with so few frets that the enumerator can look at every shape."""
    tones = tones_of(chord)
    wanted = {*tones.names, tones.bass}
    firsts = [string.first_fret for string in instrument.strings]

    def shapes(frets: int) -> int:
        neck = neck_of(attrs.evolve(instrument, frets=frets))
        return prod(
            1 + sum(neck.sounding(i, fret) % 12 in wanted for fret in (0, *neck.presses_of(i)))
            for i in range(len(firsts))
        )

    frets = instrument.frets
    while frets > max(*firsts, 2) + 1 and shapes(frets) > _MOST_SHAPES:
        frets -= 1
    return attrs.evolve(instrument, frets=frets)


def condition(name: str, chord: Chord, instrument: Instrument) -> st.SearchStrategy[Any]:
    """A value for a condition, such that it only ever narrows a search without conditions."""
    strings = len(instrument.strings)
    names = st.sampled_from(sorted(tones_of(chord).names.values()))
    values: dict[str, Callable[[], st.SearchStrategy[Any]]] = {
        "stroke": lambda: st.sampled_from(["strum", "pluck"]),
        "min_notes": lambda: st.integers(3, max(strings - 1, 3)),
        "max_notes": lambda: st.integers(3, max(strings, 3)),
        "min_tones": lambda: st.integers(3, 4),
        "root": lambda: st.sampled_from(["required", "none"]),
        "lowest_fret": lambda: st.integers(1, instrument.frets),
        "highest_fret": lambda: st.integers(1, instrument.frets),
        "strings": lambda: st.lists(
            st.integers(1, strings), min_size=3, max_size=strings, unique=True
        ).map(tuple),
        "no_open": lambda: st.just(value=True),
        "no_inner_mutes": lambda: st.just(value=True),
        "no_doubles": lambda: st.just(value=True),
        "bass_degree": lambda: names,
        "top_degree": lambda: names,
        "top_note": lambda: st.one_of(
            st.sampled_from(chord.notes),
            st.sampled_from(ROOTS).map(Note.parse),
            st.integers(40, 90).map(Pitch.from_midi),
        ),
    }
    return values[name]()


NARROWING = (
    *("stroke", "min_notes", "max_notes", "min_tones", "root", "lowest_fret", "highest_fret"),
    *("strings", "no_open", "no_inner_mutes", "no_doubles", "bass_degree", "top_degree"),
    "top_note",
)
"""The conditions that only narrow a search, by name."""


@st.composite
def conditions(draw: st.DrawFn, chord: Chord, instrument: Instrument) -> dict[str, Any]:
    """Up to three conditions at once, and now and then fewer notes than the usual three."""
    chosen = draw(st.lists(st.sampled_from(NARROWING), max_size=3, unique=True))
    values = {name: draw(condition(name, chord, instrument)) for name in chosen}
    if "stroke" in values:
        values["pluck_fingers"] = draw(st.sampled_from([4, 5]))
    if draw(st.sampled_from([False, False, True])):
        values["min_notes"] = draw(st.integers(1, 2))
        values["min_tones"] = draw(st.integers(1, 2))
    return _consistent(values)


def _consistent(values: dict[str, Any]) -> dict[str, Any]:
    """Put two bounds of the same thing in order, so that each pair is one that can be met."""
    for low, high in (("min_notes", "max_notes"), ("lowest_fret", "highest_fret")):
        if low in values and high in values:
            values[low], values[high] = sorted((values[low], values[high]))
    return values


@st.composite
def searches(
    draw: st.DrawFn,
    *,
    fanned: bool | None = None,
    slashed: bool = False,
    bare: bool = False,
    under: str | None = None,
) -> Search:
    """A whole search, small enough for the enumerator.

    Args:
        draw: Given by Hypothesis.
        fanned: Whether each string has its own length; None for either.
        slashed: Whether the chord surely has a bass of its own.
        bare: Whether to leave all conditions out.
        under: The one condition to search under, if any.
    """
    chord = draw(chords(slashed=slashed or None))
    instrument = cut_short(draw(instruments(fanned=fanned)), chord)
    values: dict[str, Any] = {}
    if under is not None:
        values = {under: draw(condition(under, chord, instrument))}
    elif not bare:
        values = draw(conditions(chord, instrument))
    return Search(chord=chord, instrument=instrument, hand=draw(hands()), conditions=values)
