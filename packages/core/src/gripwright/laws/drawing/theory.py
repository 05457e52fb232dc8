"""Notes, pitches, intervals, degrees, qualities and chords to draw from."""

from __future__ import annotations

import functools
from typing import Final

from hypothesis import strategies as st

from gripwright.theory import (
    QUALITIES,
    Chord,
    Degree,
    Interval,
    Note,
    Pitch,
    Quality,
)

LETTERS: Final = "CDEFGAB"
MOST_ACCIDENTALS: Final = 3
"""Flats or sharps that the root of a chord carries at most."""

ROOTS: Final = tuple(letter + sign for letter in LETTERS for sign in ("", "b", "#"))
"""The usual roots, of at most one accidental."""

SUFFIXES: Final = (
    *("", "m", "5", "6", "7", "9", "11", "13", "maj7", "maj9", "maj13", "maj7#11", "maj7#5"),
    *("6/9", "m6", "m7", "m9", "m11", "m13", "m6/9", "m(maj7)", "m7b5", "dim", "dim7", "aug"),
    *("7b5", "7#5", "7b9", "7#9", "7b13", "7#11", "7b9b13", "7#5#9", "13#11", "13b9", "7alt"),
    *("sus4", "sus2", "7sus4", "9sus4", "13sus4", "7sus4b9", "add9", "m(add9)", "m7(11)"),
    *("(b5)", "7no5", "9omit5", "no3", "maj7no3"),
)
"""What players write after a root, beside the canonical suffixes."""

_MAJOR_SCALE: Final = (0, 2, 4, 5, 7, 9, 11)
_STEPS_IN_OCTAVE: Final = 7
_SEMITONES_IN_OCTAVE: Final = 12
_SMALL: Final = tuple(
    map(Interval.parse, ("P1", "m2", "M2", "m3", "M3", "P4", "A4", "d5", "P5", "m6", "m7", "M7"))
)


def notes(*, most_accidentals: int = MOST_ACCIDENTALS) -> st.SearchStrategy[Note]:
    """Spelled notes.

    Args:
        most_accidentals: Flats or sharps at most, 0 or more.

    Example:
        >>> from hypothesis import find
        >>> find(notes(), lambda note: note.alteration == -2)
        Note(letter='C', alteration=-2)
    """
    return st.builds(
        Note,
        letter=st.sampled_from(LETTERS),
        alteration=st.integers(-most_accidentals, most_accidentals),
    )


def pitches(*, lowest_octave: int = -1, highest_octave: int = 9) -> st.SearchStrategy[Pitch]:
    """Spelled pitches.

    Args:
        lowest_octave: The lowest octave; that of middle C is 4.
        highest_octave: The highest octave.

    Example:
        >>> from hypothesis import find
        >>> find(pitches(), lambda pitch: pitch.midi == 61).midi
        61
    """
    return st.builds(Pitch, note=notes(), octave=st.integers(lowest_octave, highest_octave))


def intervals(*, most_octaves: int = 3) -> st.SearchStrategy[Interval]:
    """Intervals up and down, from four semitones below the scale's to four above.

    Args:
        most_octaves: Octaves at most, up and down.

    Example:
        >>> from hypothesis import find
        >>> find(intervals(), lambda interval: interval.semitones == 7).semitones
        7
    """
    most = _STEPS_IN_OCTAVE * most_octaves
    return st.builds(_near_the_scale, st.integers(-most, most), st.integers(-4, 4))


def small_intervals() -> st.SearchStrategy[Interval]:
    """Rising intervals of less than an octave, as keys lie apart.

    Example:
        >>> from hypothesis import find
        >>> str(find(small_intervals(), lambda interval: interval.semitones == 10))
        'm7'
    """
    return st.sampled_from(_SMALL)


def degrees() -> st.SearchStrategy[Degree]:
    """Degrees from 1 to 15 with at most two flats or sharps.

    Example:
        >>> from hypothesis import find
        >>> find(degrees(), lambda degree: degree.number == 9 and degree.alteration == -1)
        'b9'
    """
    signs = st.sampled_from(("", "b", "#", "bb", "##"))
    return st.builds(lambda sign, number: Degree(f"{sign}{number}"), signs, st.integers(1, 15))


@functools.cache
def qualities() -> st.SearchStrategy[Quality]:
    """The qualities of the table.

    Example:
        >>> from hypothesis import find
        >>> find(qualities(), lambda quality: len(quality.degrees) == 4).degrees
        ('1', '3', '5', '7')
    """
    return st.sampled_from(list(QUALITIES.values()))


@st.composite
def chords(draw: st.DrawFn, *, slashed: bool | None = None) -> Chord:
    """Chords: of a quality of the table, or of a symbol as players write it, on a usual root.

    Args:
        draw: Given by Hypothesis.
        slashed: Whether each has a bass of its own; None gives a quarter of them one.

    Example:
        >>> from hypothesis import find
        >>> find(chords(slashed=True), lambda chord: True).bass is None
        False
    """
    root = draw(st.sampled_from(ROOTS))
    basses = st.sampled_from(ROOTS)
    some = st.one_of(st.none(), st.none(), st.none(), basses)
    bass = draw({None: some, True: basses, False: st.none()}[slashed])
    if draw(st.booleans()):
        own = None if bass is None else Note.parse(bass)
        return Chord(Note.parse(root), draw(qualities()), bass=own)
    suffix = draw(st.sampled_from(SUFFIXES))
    return Chord.parse(root + suffix + ("" if bass is None else f"/{bass}"))


@functools.cache
def spelled_chords() -> st.SearchStrategy[Chord]:
    """Chords of the table on roots of up to two accidentals, a third over a bass of their own.

    Example:
        >>> from hypothesis import find
        >>> find(spelled_chords(), lambda chord: chord.root.letter == "E").root.letter
        'E'
    """
    spelled = notes(most_accidentals=2)
    return st.builds(Chord, spelled, qualities(), st.none() | st.none() | spelled)


def _near_the_scale(steps: int, offset: int) -> Interval:
    """The interval whose size lies a few semitones from that of the major scale."""
    octaves, step = divmod(steps, _STEPS_IN_OCTAVE)
    return Interval(steps, _SEMITONES_IN_OCTAVE * octaves + _MAJOR_SCALE[step] + offset)
