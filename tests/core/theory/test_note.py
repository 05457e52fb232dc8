"""Spelled notes: text, spelling arithmetic, and pitch classes against music21."""

from __future__ import annotations

import pickle

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21.pitch import Pitch as Music21Pitch

from gripwright import Interval, Note
from gripwright.errors import GripwrightError, NotationError
from tests.core.theory.strategies import ROOTS, notes


@pytest.mark.parametrize(
    ("text", "letter", "alteration", "written"),
    [
        ("C", "C", 0, "C"),
        ("Bb", "B", -1, "Bb"),
        ("B♭", "B", -1, "Bb"),
        ("F#", "F", 1, "F#"),
        ("F♯", "F", 1, "F#"),
        ("F##", "F", 2, "F##"),
        ("F𝄪", "F", 2, "F##"),
        ("F♯♯", "F", 2, "F##"),
        ("Ebb", "E", -2, "Ebb"),
        ("E𝄫", "E", -2, "Ebb"),
        ("E♭♭", "E", -2, "Ebb"),
        ("G♮", "G", 0, "G"),
        ("Abbb", "A", -3, "Abbb"),
        ("D###", "D", 3, "D###"),
    ],
)
def test_text_is_read_and_written(text: str, letter: str, alteration: int, written: str) -> None:
    """ASCII and Unicode accidentals read to the same note, which writes itself in ASCII."""
    note = Note.parse(text)
    assert (note.letter, note.alteration) == (letter, alteration)
    assert str(note) == written


@pytest.mark.parametrize(
    "text", ["", "H", "c", "b", "C4", "C#b", "Cx", "#C", "C #", "do", "♭", "1"]
)
def test_text_that_is_no_note_is_refused(text: str) -> None:
    """What is not one capital letter with its accidentals is refused with its text and place."""
    with pytest.raises(NotationError) as caught:
        Note.parse(text)
    error = caught.value
    assert isinstance(error, GripwrightError)
    assert isinstance(error, ValueError)
    assert error.text == text
    assert 0 <= error.position <= len(text)
    assert error.expected
    assert repr(text) in str(error)


def test_an_error_survives_pickling() -> None:
    """The error of an unreadable note keeps its data through a pickle."""
    with pytest.raises(NotationError) as caught:
        Note.parse("Cq")
    again = pickle.loads(pickle.dumps(caught.value))
    assert type(again) is type(caught.value)
    assert str(again) == str(caught.value)
    assert (again.what, again.text, again.position, again.expected, again.nearest) == (
        caught.value.what,
        caught.value.text,
        caught.value.position,
        caught.value.expected,
        caught.value.nearest,
    )


def test_a_letter_outside_the_scale_is_refused() -> None:
    """A note cannot be built on a letter that is not A to G."""
    with pytest.raises(ValueError, match="H"):
        Note("H", 0)


@pytest.mark.parametrize("text", ROOTS)
def test_pitch_class_agrees_with_music21(text: str) -> None:
    """The pitch class of each of the 21 notes up to one accidental is music21's."""
    theirs = Music21Pitch(text.replace("b", "-"))
    assert Note.parse(text).pitch_class == theirs.pitchClass


@pytest.mark.parametrize(
    ("low", "high", "name"),
    [
        ("C", "E", "M3"),
        ("A", "C", "m3"),
        ("B", "F", "d5"),
        ("F", "B", "A4"),
        ("Db", "C", "M7"),
        ("C", "C", "P1"),
        ("Gb", "Ab", "M2"),
        ("B", "D#", "M3"),
        ("C", "C#", "A1"),
        ("Fb", "Ebb", "m7"),
    ],
)
def test_the_difference_of_notes_is_the_ascending_simple_interval(
    low: str, high: str, name: str
) -> None:
    """The upper note less the lower is the interval up to it, less than an octave in steps."""
    assert Note.parse(high) - Note.parse(low) == Interval.parse(name)
    assert Note.parse(low) + Interval.parse(name) == Note.parse(high)


@pytest.mark.parametrize(
    ("start", "interval", "end"),
    [
        ("F#", "M3", "A#"),
        ("B", "A9", "C##"),
        ("Cb", "m7", "Bbb"),
        ("F", "d7", "Ebb"),
        ("E", "-m2", "D#"),
        ("C", "-M2", "Bb"),
        ("Gb", "m9", "Abb"),
    ],
)
def test_an_interval_moves_the_letter_and_keeps_the_size(
    start: str, interval: str, end: str
) -> None:
    """A note moves by steps in letters and by semitones in pitch, so spelling follows."""
    assert Note.parse(start) + Interval.parse(interval) == Note.parse(end)


def test_a_note_is_a_frozen_hashable_value() -> None:
    """Equal notes are one key of a set, enharmonic ones two, and neither can be changed."""
    assert len({Note("C", 1), Note.parse("C♯"), Note("D", -1)}) == 2
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        Note("C", 0).letter = "D"  # type: ignore[misc]


@given(notes)
def test_writing_and_reading_returns_the_note(note: Note) -> None:
    """A note reads back from its own text and from its Unicode text."""
    text = str(note)
    assert text.isascii()
    assert Note.parse(text) == note
    pretty = text[0] + text[1:].replace("##", "𝄪").replace("bb", "𝄫")
    assert Note.parse(pretty.replace("#", "♯").replace("b", "♭")) == note


@given(notes, notes)
def test_adding_the_difference_returns_the_other_note(low: Note, high: Note) -> None:
    """The difference of two notes, added to the lower one, gives the upper one."""
    difference = high - low
    assert 0 <= difference.steps <= 6
    assert low + difference == high


@given(st.text(max_size=12))
def test_any_text_is_a_note_or_a_notation_error(text: str) -> None:
    """Reading a note ends in a note or in the one error that says why not."""
    try:
        note = Note.parse(text)
    except NotationError as error:
        failure = error
    else:
        assert Note.parse(str(note)) == note
        return
    assert failure.text == text
    assert 0 <= failure.position <= len(text)
