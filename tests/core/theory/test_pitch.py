"""Pitches: scientific pitch notation, MIDI numbers and frequencies.

Sources: ISO 16:1975 (A4 = 440 Hz); p = 69 + 12 log2(f/440) (Tymoczko, Science 313, 2006);
published-values.tsv for the open strings (computed from A4 = 440 Hz); music21 for spellings.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Final

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21.pitch import Pitch as Music21Pitch

from gripwright import Interval, Note, Pitch
from gripwright.errors import NotationError
from tests.core.theory.strategies import pitches

DATA: Final = Path(__file__).parents[2] / "data"


def published_open_strings() -> list[float]:
    """Return the published frequencies of the open strings E A D G B E in Hz."""
    lines = (DATA / "published-values.tsv").read_text(encoding="utf-8").splitlines()
    (row,) = (line for line in lines if "guitar EADGBE open Hz" in line)
    return [float(value) for value in row.split("\t")[2].split()]


@pytest.mark.parametrize(
    ("text", "midi"),
    [
        ("C4", 60),
        ("A4", 69),
        ("C-1", 0),
        ("G9", 127),
        ("B#3", 60),
        ("Cb4", 59),
        ("C#4", 61),
        ("Db4", 61),
        ("B##3", 61),
        ("E#4", 65),
        ("Fb4", 64),
        ("E2", 40),
        ("Cb-1", -1),
        ("B♭3", 58),
        ("F𝄪4", 67),
    ],
)
def test_midi_number(text: str, midi: int) -> None:
    """The octave number belongs to the letter, so B#3 sounds C4 (60) and Cb4 sounds B3 (59)."""
    assert Pitch.parse(text).midi == midi


@pytest.mark.parametrize("letter", "CDEFGAB")
@pytest.mark.parametrize("accidental", ["", "#", "b", "##", "bb"])
def test_midi_and_frequency_agree_with_music21(letter: str, accidental: str) -> None:
    """MIDI number and frequency of every spelling up to two accidentals are music21's."""
    name = letter + accidental.replace("b", "-")
    for octave in range(1, 8):
        theirs = Music21Pitch(name=name, octave=octave)
        ours = Pitch.parse(f"{letter}{accidental}{octave}")
        assert ours.midi == theirs.ps
        assert ours.frequency() == pytest.approx(theirs.frequency, rel=1e-12)


def test_a4_is_440_hertz() -> None:
    """The default tuning is that of ISO 16:1975."""
    assert Pitch.parse("A4").frequency() == 440.0


def test_the_tuning_pitch_is_an_argument() -> None:
    """Another tuning pitch moves every frequency by the same ratio."""
    assert Pitch.parse("A4").frequency(a4_hz=415.0) == 415.0
    assert Pitch.parse("A3").frequency(a4_hz=442.0) == pytest.approx(221.0, rel=1e-12)


def test_open_strings_have_the_published_frequencies() -> None:
    """The six open strings sound the frequencies of the published table to 0.0001 Hz."""
    names = ("E2", "A2", "D3", "G3", "B3", "E4")
    ours = [Pitch.parse(name).frequency() for name in names]
    assert ours == pytest.approx(published_open_strings(), abs=5e-5)


@pytest.mark.parametrize(
    ("midi", "flats", "text"),
    [(61, False, "C#4"), (61, True, "Db4"), (60, True, "C4"), (70, True, "Bb4"), (0, False, "C-1")],
)
def test_from_midi_spells_as_asked(midi: int, flats: bool, text: str) -> None:  # noqa: FBT001
    """A MIDI number becomes a sharp by default and a flat on request."""
    assert str(Pitch.from_midi(midi, flats=flats)) == text
    if not flats:
        assert str(Pitch.from_midi(midi)) == text


@pytest.mark.parametrize("flats", [False, True])
def test_every_midi_number_comes_back(flats: bool) -> None:  # noqa: FBT001
    """All 128 MIDI numbers survive the way to a pitch and back, with one accidental at most."""
    for midi in range(128):
        pitch = Pitch.from_midi(midi, flats=flats)
        assert pitch.midi == midi
        assert pitch.note.alteration in ((-1, 0) if flats else (0, 1))


@pytest.mark.parametrize(
    "text", ["", "C", "4", "H4", "C4x", "c4", "C 4", "C--1", "C#", "C4.5", "C٤", "C²", "Cb 3"]
)
def test_text_that_is_no_pitch_is_refused(text: str) -> None:
    """A pitch is a note with its octave number and nothing else."""
    with pytest.raises(NotationError) as caught:
        Pitch.parse(text)
    assert caught.value.text == text
    assert 0 <= caught.value.position <= len(text)


@pytest.mark.parametrize(
    ("start", "interval", "end"),
    [
        ("C4", "M3", "E4"),
        ("B3", "m2", "C4"),
        ("C4", "-m2", "B3"),
        ("B3", "A1", "B#3"),
        ("C4", "P8", "C5"),
        ("G3", "M10", "B4"),
        ("F#4", "d5", "C5"),
    ],
)
def test_an_interval_moves_a_pitch(start: str, interval: str, end: str) -> None:
    """Adding an interval crosses the octave number at C, and taking it away returns."""
    assert Pitch.parse(start) + Interval.parse(interval) == Pitch.parse(end)
    assert Pitch.parse(end) - Interval.parse(interval) == Pitch.parse(start)
    assert Pitch.parse(end) - Pitch.parse(start) == Interval.parse(interval)


def test_enharmonic_pitches_are_different_values() -> None:
    """C#4 and Db4 sound alike and are not equal, and no pitch can be changed."""
    sharp, flat = Pitch.parse("C#4"), Pitch.parse("Db4")
    assert sharp.midi == flat.midi
    assert sharp != flat
    assert len({sharp, flat, Pitch(Note("C", 1), 4)}) == 2
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        sharp.octave = 5  # type: ignore[misc]


@given(pitches)
def test_writing_and_reading_returns_the_pitch(pitch: Pitch) -> None:
    """A pitch reads back from its own text."""
    assert str(pitch).isascii()
    assert Pitch.parse(str(pitch)) == pitch


@given(pitches)
def test_frequency_and_midi_number_are_inverse(pitch: Pitch) -> None:
    """The MIDI number is 69 + 12 log2(f/440) of the frequency."""
    assert 69 + 12 * math.log2(pitch.frequency() / 440) == pytest.approx(pitch.midi, abs=1e-9)


@given(st.text(max_size=12))
def test_any_text_is_a_pitch_or_a_notation_error(text: str) -> None:
    """Reading a pitch ends in a pitch or in the one error that says why not."""
    try:
        pitch = Pitch.parse(text)
    except NotationError as error:
        failure = error
    else:
        assert Pitch.parse(str(pitch)) == pitch
        return
    assert failure.text == text
    assert 0 <= failure.position <= len(text)
