"""The grammar of chord symbols: signs, words, modifiers and what is said of two readings."""

from __future__ import annotations

import pytest

from gripwright import Chord
from gripwright.theory.grammar import grammar


@pytest.mark.parametrize(
    ("text", "flat", "places"),
    [
        ("C7b9", "C7b9", [0, 1, 2, 3]),
        ("C7 9", "C7,9", [0, 1, 3, 3]),
        ("C 7  9 13", "C7,9,13", [0, 2, 5, 5, 7, 7, 8]),
        ("C♭7 ⁹", "Cb7,9", [0, 1, 2, 4, 4]),
        (" C 7\t", "C7", [1, 3]),
        (" 7", "7", [1]),
        ("C7 ♭9", "C7b9", [0, 1, 3, 4]),
        ("E𝄫 maj7", "Ebbmaj7", [0, 1, 1, 3, 4, 5, 6]),
    ],
)
def test_signs_become_ascii_and_each_character_keeps_its_place(
    text: str, flat: str, places: list[int]
) -> None:
    """Of spaces only one between two digits counts: it keeps them apart, as a comma does."""
    found, origins = grammar().flatten(text)
    assert (found, list(origins)) == (flat, places)


@pytest.mark.parametrize(
    ("suffix", "normal", "places"),
    [
        ("Major7", "maj7", [0, 0, 0, 5]),
        ("minMAJ7", "mmaj7", [0, 3, 3, 3, 6]),
        ("-7-5", "m7b5", [0, 1, 2, 3]),
        ("o7", "dim7", [0, 0, 0, 1]),
        ("7q", "7q", [0, 1]),
    ],
)
def test_words_take_one_spelling_and_each_character_keeps_its_place(
    suffix: str, normal: str, places: list[int]
) -> None:
    """A fault in a word is a fault at its start."""
    assert grammar().normalise(suffix) == (normal, places)


@pytest.mark.parametrize(
    ("symbol", "tones"),
    [
        ("Csus24", "1 2 4 5"),
        ("Csus2/4", "1 2 4 5"),
        ("Csus4/2", "1 2 4 5"),
        ("C7sus4/2", "1 2 4 5 b7"),
        ("C7SUS2/4", "1 2 4 5 b7"),
    ],
)
def test_two_tones_are_suspended_with_a_slash_or_without(symbol: str, tones: str) -> None:
    """Both stand in place of the third; the slash is neither a bass nor an addition."""
    chord = Chord.parse(symbol)
    assert " ".join(chord.degrees) == tones
    assert chord.warnings == ()


@pytest.mark.parametrize(
    ("symbol", "same", "warnings"),
    [
        ("Csus4no4", "C(no3)", ()),
        ("Cadd9no2", "Cadd9", ("there is no 2 to leave out",)),
        ("Cadd11no4", "Cadd11", ("there is no 4 to leave out",)),
        ("Cno13no9", "C", ("there is no 9 to leave out", "there is no 13 to leave out")),
    ],
)
def test_what_is_left_out_is_meant_as_written(
    symbol: str, same: str, warnings: tuple[str, ...]
) -> None:
    """An added 2 is a 9 and an added 4 an 11; what is left out is the very number."""
    chord = Chord.parse(symbol)
    assert chord.degrees == Chord.parse(same).degrees
    assert chord.warnings == warnings


@pytest.mark.parametrize(
    ("symbol", "warning"),
    [
        (
            "Bbb5",
            "the second accidental is read with the root, Bbb; an altered tone is written Bb(b5)",
        ),
        (
            "F##9",
            "the second accidental is read with the root, F##; an altered tone is written F#(#9)",
        ),
        (
            "Bbb13",
            "the second accidental is read with the root, Bbb; an altered tone is written Bb(b13)",
        ),
        ("Cb5", "the flat is read with the root, Cb; a flat five is written C(b5)"),
        ("C#11", "the sharp is read with the root, C#; an altered tone is written C(#11)"),
        ("C-5", "the minus before 5 is read as a flat, C(b5); a minor chord is written Cm"),
        ("Bb+9", "the plus is read as a raised fifth; for a raised ninth write Bb7#9"),
        ("F#2", "2 is read as an added ninth, F#add9; some mean F#sus2"),
        ("C/9", "a number after a slash is read as an added tone; a bass is written as a note"),
        (
            "DΔ11",
            "the stack is read literally, with 3 and 11 together; Dmaj7#11 avoids the clash",
        ),
    ],
)
def test_two_readings_are_told_apart_in_words(symbol: str, warning: str) -> None:
    """The warning says how the symbol is read, and how the other reading is written."""
    assert Chord.parse(symbol).warnings == (warning,)
