"""How notes are written in a key: common practice."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Note
from gripwright.tune import Key
from gripwright.tune.spelling import fewest_accidentals, signature_notes, spelled
from tests.core.theory.strategies import notes
from tests.core.tune.numeral_strategies import MAJOR_KEYS, MINOR_KEYS

keys = st.sampled_from(MAJOR_KEYS + MINOR_KEYS)


@pytest.mark.parametrize(
    ("key", "note", "written"),
    [
        ("Gb", "Cb", "Cb"),
        ("Gb", "Bbb", "A"),
        ("Ab", "Fb", "E"),
        ("Abm", "Fb", "Fb"),
        ("F#", "E#", "E#"),
        ("C", "E#", "F"),
        ("C#m", "B#", "B#"),
        ("G#m", "F##", "G"),
        ("C", "C#", "C#"),
        ("C", "Db", "Db"),
        ("E", "D##", "E"),
        ("B", "E##", "F#"),
        ("C", "Abbb", "Gb"),
        ("C", "E##", "F#"),
        (None, "Cb", "Cb"),
        (None, "Bbb", "A"),
        (None, "E##", "F#"),
        (None, "Fbb", "Eb"),
    ],
)
def test_notes_in_keys(key: str | None, note: str, written: str) -> None:
    """The signature's name, else few accidentals."""
    assert str(spelled(Note.parse(note), None if key is None else Key.parse(key))) == written


@given(notes, st.none() | keys)
def test_a_note_keeps_its_sound_and_takes_one_accidental_at_most(
    note: Note, key: Key | None
) -> None:
    """And written once, it stays."""
    written = spelled(note, key)
    assert written.pitch_class == note.pitch_class
    assert abs(written.alteration) <= 1
    assert spelled(written, key) == written


@given(keys)
def test_the_notes_of_a_key_stay(key: Key) -> None:
    """All but a leading note with two sharps."""
    for note in signature_notes(key):
        assert spelled(note, key) == note or abs(note.alteration) > 1


@given(notes, st.booleans(), st.none() | st.booleans())
def test_no_other_name_of_a_key_has_fewer_accidentals(
    tonic: Note,
    minor: bool,  # noqa: FBT001 - drawn by Hypothesis
    flats: bool | None,  # noqa: FBT001 - as above
) -> None:
    """Six at most, and of six the kind that was asked for."""
    key = fewest_accidentals(tonic, minor=minor, flats=flats)
    assert key.tonic.pitch_class == tonic.pitch_class
    others = [
        other
        for other in (MINOR_KEYS if minor else MAJOR_KEYS)
        if other.tonic.pitch_class == tonic.pitch_class
    ]
    assert abs(key.fifths) == min(abs(other.fifths) for other in others)
    if flats is not None and abs(key.fifths) == 6:
        assert (key.fifths < 0) == flats
