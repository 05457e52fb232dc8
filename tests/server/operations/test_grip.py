"""Grips and notes read with the place of every fault."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Instrument, InstrumentString, Note, Pitch
from gripwright.errors import NotationError
from gripwright_server.operations.grip import frets_of, notes_of, pitches_of

GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22)
BANJO = Instrument(
    "banjo",
    "banjo",
    (InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5), *GUITAR.strings[2:]),
    22,
)


@given(st.lists(st.integers(-1, 22), min_size=6, max_size=6))
def test_every_shape_on_the_neck_reads_back(frets: list[int]) -> None:
    """What a shape is written as means its frets, closely written too where that is possible."""
    signs = ["x" if fret < 0 else str(fret) for fret in frets]
    assert frets_of("-".join(signs), GUITAR) == tuple(frets)
    if max(frets) < 10:
        assert frets_of("".join(signs), GUITAR) == tuple(frets)


@pytest.mark.parametrize(
    ("text", "instrument", "position", "words"),
    [
        ("x-3-5-4", GUITAR, 7, "6 strings, and here are 4"),
        ("x354", GUITAR, 4, "6 strings, and here are 4"),
        ("x-3-5-4-5-x-0", GUITAR, 12, "6 strings, and here are 7"),
        ("x354500", GUITAR, 6, "6 strings, and here are 7"),
        ("x-10-23-9-12-x", GUITAR, 5, "from 1 to 22"),
        ("x-3-5-4-5-99", GUITAR, 10, "from 1 to 22"),
        ("x-3-5-4-5-100", GUITAR, 12, ""),
        ("x-3-q-4-5-x", GUITAR, 4, "x or a fret"),
        ("x35a53", GUITAR, 3, "x or a fret"),
        ("x-3-5-4-5-", GUITAR, 10, "x or a fret"),
        ("", GUITAR, 0, "x or a fret"),
        ("3-0-0-0-0", BANJO, 0, "from 6 to 22"),
        ("0-0-23-0-0", BANJO, 4, "from 1 to 22"),
    ],
)
def test_fault_of_a_shape_is_placed(
    text: str, instrument: Instrument, position: int, words: str
) -> None:
    """Too short is marked at its end, too long at the first string too many, a fret where it is."""
    with pytest.raises(NotationError) as caught:
        frets_of(text, instrument)
    assert (caught.value.text, caught.value.position) == (text, position)
    assert words in caught.value.expected


def test_capo_shortens_the_neck_of_a_shape() -> None:
    """Frets count from the capo: at the second, a neck of 22 has 20."""
    assert frets_of("20-x-x-x-x-x", GUITAR.with_capo(2))[0] == 20
    with pytest.raises(NotationError):
        frets_of("21-x-x-x-x-x", GUITAR.with_capo(2))


def test_pitches_are_those_of_the_sounding_strings() -> None:
    """A short string counts its frets from the nut of the others."""
    assert [str(pitch) for pitch in pitches_of((-1, 3, 5, 4, 5, -1), GUITAR)] == [
        *("C3", "G3", "B3", "E4")
    ]
    # The fifth string of a banjo, G4 open, starts at the fifth fret: its seventh is A4.
    assert str(pitches_of((7, -1, -1, -1, -1), BANJO)[0]) == "A4"


def test_notes_and_pitches_are_told_apart() -> None:
    """An octave makes a pitch; signs, spaces and commas are free."""
    assert notes_of("C, E♭  G#4") == (Note("C"), Note("E", -1), Pitch(Note("G", 1), 4))


@pytest.mark.parametrize(
    ("text", "position", "nearest"),
    [
        ("C E H", 4, None),
        ("C E2x G", 4, None),
        ("c e g", 0, "C E G"),
        ("C e G", 2, "C E G"),
        ("C Eq", 3, None),
        ("", 0, None),
        (" , ", 3, None),
    ],
)
def test_fault_of_notes_is_placed_in_the_whole_text(
    text: str, position: int, nearest: str | None
) -> None:
    """The place counts from the start of the text, and capitals are offered where they help."""
    with pytest.raises(NotationError) as caught:
        notes_of(text)
    error = caught.value
    assert (error.text, error.position, error.nearest) == (text, position, nearest)
