"""Naming by brute force: the rule of the definition, without bits, ranks or caches."""

from __future__ import annotations

from typing import Final

from hypothesis import strategies as st

from gripwright import Chord, Note, Pitch
from gripwright.theory import QUALITIES, Quality

ROOT_NAMES: Final = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
MOST_READABLE: Final = 2
"""Accidentals that a tone may carry before another root is looked for."""


def classes_of(quality: Quality, root: int) -> set[int]:
    """Return the pitch classes of a quality on a root."""
    return {(root + degree.semitones) % 12 for degree in quality.degrees}


def names_by_brute_force(heard: set[int]) -> set[tuple[int, str]]:
    """Return root and name of every quality whose tones contain what is heard."""
    return {
        (root, name)
        for root in range(12)
        for name, quality in QUALITIES.items()
        if heard <= classes_of(quality, root)
    }


def left_out_by_brute_force(chord: Chord, sounding: set[int]) -> tuple[str, ...]:
    """Return the degrees whose pitch class does not sound."""
    spelled = zip(chord.degrees, chord.notes, strict=True)
    return tuple(str(degree) for degree, note in spelled if note.pitch_class not in sounding)


def essential_groups_lost(chord: Chord, sounding: set[int]) -> int:
    """Count the essential groups of which nothing sounds."""
    return sum(
        not any((chord.root + degree.interval).pitch_class in sounding for degree in group)
        for group in chord.essential
    )


def readable(chord: Chord) -> bool:
    """Tell whether no tone carries three accidentals."""
    return all(abs(note.alteration) <= MOST_READABLE for note in chord.notes)


def pitches_of(text: str) -> list[Pitch]:
    """Read pitches with spaces between."""
    return [Pitch.parse(word) for word in text.split()]


def notes_of(text: str) -> list[Note]:
    """Read notes with spaces between."""
    return [Note.parse(word) for word in text.split()]


few_notes = st.lists(
    st.builds(Note, letter=st.sampled_from("CDEFGAB"), alteration=st.integers(-1, 1)),
    min_size=1,
    max_size=6,
)
some_notes = st.one_of(
    few_notes,
    st.builds(
        lambda root, quality, kept: [
            note for note, keep in zip(Chord(root, quality).notes, kept, strict=False) if keep
        ],
        st.builds(Note, letter=st.sampled_from("CDEFGAB"), alteration=st.integers(-1, 1)),
        st.sampled_from(list(QUALITIES.values())),
        st.lists(st.booleans(), min_size=7, max_size=7),
    ).filter(bool),
)
"""Notes of any kind, and parts of chords."""

stated_basses = st.one_of(
    st.none(),
    st.builds(Note, letter=st.sampled_from("CDEFGAB"), alteration=st.integers(-1, 1)),
)
