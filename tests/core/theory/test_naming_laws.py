"""Laws of naming, against brute force over the definition."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Chord, Note, Pitch, name_notes
from gripwright.theory import QUALITIES
from gripwright.theory.naming import intervals_above_bass
from tests.core.theory.naming_model import (
    classes_of,
    essential_groups_lost,
    few_notes,
    left_out_by_brute_force,
    names_by_brute_force,
    notes_of,
    readable,
    some_notes,
    stated_basses,
)
from tests.core.theory.strategies import ROOTS


@given(notes=some_notes, bass=stated_basses, spelled=st.booleans())
@example(notes=notes_of("C"), bass=None, spelled=True)
@example(notes=notes_of("C C# D"), bass=None, spelled=True)
def test_names_are_all_chords_that_contain_the_notes_and_no_others(
    notes: list[Note], bass: Note | None, *, spelled: bool
) -> None:
    """Each quality on each root stands there once if its tones contain the notes, else not."""
    names = name_notes(notes, bass=bass, spelled=spelled)
    found = [(name.chord.root.pitch_class, name.chord.quality.name) for name in names]
    assert len(found) == len(set(found))
    assert set(found) == names_by_brute_force({note.pitch_class for note in notes})


@given(notes=some_notes, bass=stated_basses, spelled=st.booleans())
def test_each_name_tells_degrees_left_out_and_root(
    notes: list[Note], bass: Note | None, *, spelled: bool
) -> None:
    """What the notes become, what is missing and whether the root sounds follow from the tones."""
    sounding = {note.pitch_class for note in notes} | ({bass.pitch_class} if bass else set())
    for name in name_notes(notes, bass=bass, spelled=spelled):
        chord = name.chord
        assert all(degree in chord.degrees for degree in name.degrees)
        assert [note.pitch_class for note in name.notes] == [note.pitch_class for note in notes]
        assert name.left_out == left_out_by_brute_force(chord, sounding)
        assert name.rooted == (chord.root.pitch_class in sounding)
        lost = essential_groups_lost(chord, sounding)
        assert bool(name.essential_left_out) == bool(lost)


@given(notes=some_notes, bass=stated_basses, octaves=st.lists(st.integers(1, 5), min_size=7))
def test_bass_of_each_name_is_the_lowest_sound(
    notes: list[Note], bass: Note | None, octaves: list[int]
) -> None:
    """The slash is the lowest pitch or the stated bass, unless it is the root or none sounds."""
    pitches = [Pitch(note, octave) for note, octave in zip(notes, octaves, strict=False)]
    lowest = min(pitch.midi for pitch in pitches) if bass is None else bass.pitch_class
    for name in name_notes(pitches, bass=bass):
        root = name.chord.root.pitch_class
        silent = root == lowest % 12 or (bass is None and not name.rooted)
        assert (name.chord.bass is None) == silent
        if name.chord.bass is not None:
            assert name.chord.bass.pitch_class == lowest % 12


@given(notes=some_notes, bass=stated_basses)
def test_nothing_left_out_comes_first_then_the_fewest_essential_groups(
    notes: list[Note], bass: Note | None
) -> None:
    """The two first measures of the order never fall; within them the bass's root leads."""
    sounding = {note.pitch_class for note in notes} | ({bass.pitch_class} if bass else set())
    low = (notes[0] if bass is None else bass).pitch_class
    measures = [
        (
            bool(name.left_out),
            essential_groups_lost(name.chord, sounding),
            name.chord.quality.name.endswith("(literal)"),
            name.chord.root.pitch_class != low,
        )
        for name in name_notes(notes, bass=bass)
    ]
    assert measures == sorted(measures)


@pytest.mark.parametrize("name", sorted(QUALITIES))
def test_naming_then_spelling_gives_back_the_notes(name: str) -> None:
    """A chord's own notes name it, spelled alike, on all 21 roots up to one accidental.

    Where a tone carries three accidentals, the same chord is named on another root.
    """
    for text in ROOTS:
        chord = Chord(Note.parse(text), QUALITIES[name])
        (found,) = (
            found
            for found in name_notes(chord.notes)
            if found.chord.quality.name == name
            and found.chord.root.pitch_class == chord.root.pitch_class
        )
        assert found.left_out == ()
        assert [note.pitch_class for note in found.notes] == [n.pitch_class for n in chord.notes]
        if readable(chord):
            assert found.notes == chord.notes
            assert found.degrees == chord.degrees


@given(notes=few_notes, bass=stated_basses)
@example(notes=notes_of("Cb"), bass=None)
@example(notes=notes_of("E# G#"), bass=None)
def test_spelling_agrees_with_the_notes_wherever_a_root_allows_it(
    notes: list[Note], bass: Note | None
) -> None:
    """A name that respells a note has no enharmonic root that would keep all of them."""
    given_notes = {*notes, *([bass] if bass else [])}
    for name in name_notes(notes, bass=bass):
        chord = name.chord
        own = set(chord.notes)
        tones = {note for note in given_notes if note.pitch_class in {n.pitch_class for n in own}}
        if tones <= own:
            continue
        for root in map(Note.parse, ROOTS):
            if root.pitch_class == chord.root.pitch_class:
                other = Chord(root, chord.quality)
                assert not (readable(other) and tones <= set(other.notes))


@given(notes=some_notes, bass=stated_basses, spelled=st.booleans())
def test_no_tone_of_a_named_chord_carries_three_accidentals(
    notes: list[Note], bass: Note | None, *, spelled: bool
) -> None:
    """Every quality of the table can be spelled readably on every pitch class, and is."""
    for name in name_notes(notes, bass=bass, spelled=spelled):
        assert readable(name.chord), name.symbol


@given(notes=some_notes, bass=stated_basses)
def test_symbols_read_back(notes: list[Note], bass: Note | None) -> None:
    """A named chord is a chord like any other: its symbol means it."""
    for name in name_notes(notes, bass=bass):
        assert Chord.parse(name.symbol) == name.chord


@given(notes=some_notes, bass=stated_basses, data=st.data())
def test_equal_sounds_get_equal_names(
    notes: list[Note], bass: Note | None, data: st.DataObject
) -> None:
    """Above the bass, neither order nor doubling nor spelling changes names off a neck."""
    pitches = [Pitch(note, 3) for note in notes]
    doubled = [Pitch(pitch.note, pitch.octave + 2) for pitch in pitches[:2]]
    low = bass or min(pitches, key=lambda pitch: pitch.midi).note
    shuffled = data.draw(st.permutations([*pitches, *doubled]))
    respelled = [Pitch.from_midi(pitch.midi, flats=True) for pitch in shuffled]
    one = name_notes(pitches, bass=low, spelled=False)
    other = name_notes(respelled, bass=low, spelled=False)
    assert [name.chord for name in one] == [name.chord for name in other]
    assert one == name_notes(pitches, bass=low, spelled=False)


@given(notes=some_notes, shift=st.integers(0, 11))
def test_transposed_notes_get_transposed_names(notes: list[Note], shift: int) -> None:
    """What a shape can be does not depend on the fret that it is played at."""
    here = [Pitch(note, 3) for note in notes]
    there = [Pitch.from_midi(pitch.midi + shift) for pitch in here]
    moved = {
        ((name.chord.root.pitch_class + shift) % 12, name.chord.quality, name.degrees)
        for name in name_notes(here, spelled=False)
    }
    assert moved == {
        (name.chord.root.pitch_class, name.chord.quality, name.degrees)
        for name in name_notes(there, spelled=False)
    }


@given(notes=some_notes, spelled=st.booleans())
def test_intervals_lead_from_the_lowest_note_to_the_others(
    notes: list[Note], *, spelled: bool
) -> None:
    """The intervals sound the notes again, once each and rising, as wide as they are."""
    pitches = [Pitch(note, 3 + place % 2) for place, note in enumerate(notes)]
    low = min(pitch.midi for pitch in pitches)
    found = [interval.semitones for interval in intervals_above_bass(pitches, spelled=spelled)]
    assert found == sorted(found)
    assert set(found) == {p.midi - low for p in pitches if (p.midi - low) % 12}
    plain = [interval.semitones for interval in intervals_above_bass(notes, spelled=spelled)]
    first = notes[0].pitch_class
    assert {semitones % 12 for semitones in plain} == {
        (note.pitch_class - first) % 12 for note in notes
    } - {0}


def test_every_pair_and_trio_of_tones_is_named_as_brute_force_names_it() -> None:
    """All two- and three-note sets above C, without chance."""
    notes = [Pitch.from_midi(48 + semitones) for semitones in range(12)]
    for size in (1, 2):
        for others in itertools.combinations(notes[1:], size):
            names = name_notes([notes[0], *others], spelled=False)
            heard = {notes[0].midi % 12, *(other.midi % 12 for other in others)}
            found = {(n.chord.root.pitch_class, n.chord.quality.name) for n in names}
            assert found == names_by_brute_force(heard)
            for name in names:
                assert heard <= classes_of(name.chord.quality, name.chord.root.pitch_class)
