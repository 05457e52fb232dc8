"""Players, grips and vocabularies that the tests of the vocabulary share."""

import functools

from hypothesis import strategies as st

from gripwright import Chord, Instrument, Note, Voicing, find_voicings
from gripwright.vocabulary import Facts, Profile, grip_for
from tests.core.neck.reference import frets_of, instrument

GUITAR = instrument("guitar")
PLAYER = Profile(GUITAR)

SUFFIXES = ("", "m", "maj7", "7", "m7", "m7b5", "dim7", "6", "m6", "9", "13", "7alt", "7sus4")


def grip(symbol: str, shape: str, on: Instrument = GUITAR) -> Voicing:
    """Return a grip as a player enters it."""
    return grip_for(Chord.parse(symbol), on, frets_of(shape))


def known(*grips: tuple[str, str]) -> tuple[Facts, ...]:
    """Return what is known of grips, each a symbol and a shape."""
    return tuple(Facts.of(grip(symbol, shape)) for symbol, shape in grips)


@functools.cache
def movable(suffix: str) -> tuple[Voicing, ...]:
    """Return movable grips of a kind of chord on C, from all over the neck."""
    chord = Chord.parse(f"C{suffix}")
    table = find_voicings(chord, GUITAR, no_open=True, lowest_fret=2, highest_fret=13)
    step = max(1, len(table) // 60)
    return tuple(grip_for(chord, GUITAR, table[row].frets) for row in range(0, len(table), step))


MOVABLE = st.sampled_from(SUFFIXES).flatmap(lambda suffix: st.sampled_from(movable(suffix)))
"""Movable grips on C."""

ROOTS = st.sampled_from("C Db D Eb E F F# G Ab A Bb B".split()).map(Note.parse)  # noqa: SIM905

VOCABULARIES = st.lists(MOVABLE, max_size=25).map(
    lambda grips: tuple({facts.id: facts for facts in map(Facts.of, grips)}.values())
)
"""What is known of some grips, once each."""
