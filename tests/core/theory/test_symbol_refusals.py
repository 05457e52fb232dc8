"""What the reader of chord symbols says of a text that it cannot read."""

from __future__ import annotations

import re
import string
from typing import Final

import pytest

from gripwright import Chord, ChordSymbolError
from gripwright.errors import UnknownNameError
from gripwright.theory import QUALITIES
from gripwright.theory.symbol import SymbolReader

ROOT: Final = "a root from A to G"
LETTER: Final = "a letter from A to G, or the German option for H"
SIGNS: Final = "at most 3 flats or sharps"
ANYTHING: Final = "a quality, an alteration, an added tone, a bass or the end"
TONE: Final = "an alteration or an added tone"
IN_BRACKETS: Final = "an alteration, an added tone or a closing bracket"
AFTER_SLASH: Final = "a bass note or an added tone"
AFTER_BASS: Final = "the end, after a bass"
SILENT: Final = "a tone that is left to sound"
UNDOING: Final = "modifiers that do not undo each other"


@pytest.mark.parametrize(
    ("text", "position", "expected", "nearest"),
    [
        ("", 0, ROOT, "C"),
        ("x", 0, ROOT, "C"),
        ("H7", 0, LETTER, "B7"),
        ("C/H", 2, LETTER, "C/B"),
        ("C####", 4, SIGNS, "C###"),
        ("Cbbbb7", 4, SIGNS, "Cbbb7"),
        ("C/Ebbbb", 6, SIGNS, "C/Ebbb"),
        ("Cfoo", 1, ANYTHING, "C"),
        ("C7x", 2, ANYTHING, "C7"),
        ("C7X", 2, ANYTHING, "C7"),
        # The suffix 11sus is known, but 11 with sus2 reads further.
        ("C11sus2x", 7, ANYTHING, "C11sus2"),
        ("C7b9)", 4, ANYTHING, "C7b9"),
        ("C7(b9)x", 6, ANYTHING, "C7(b9)"),
        ("C7(b9))", 6, ANYTHING, "C7(b9)"),
        ("C7(", 3, TONE, "C7"),
        ("C7()", 3, TONE, "C7"),
        ("C7(x)", 3, TONE, "C7(9)"),
        ("C7((b9))", 3, TONE, "C7b9"),
        ("C7(b9,", 6, TONE, "C7b9"),
        ("C7,", 3, TONE, "C7"),
        ("C7(b9", 5, IN_BRACKETS, "C7b9"),
        ("C7(b9x)", 5, IN_BRACKETS, "C7(b9)"),
        ("C7(b9X)", 5, IN_BRACKETS, "C7(b9)"),
        ("C/", 2, AFTER_SLASH, "C"),
        ("C7(b9/", 6, AFTER_SLASH, "C7b9"),
        ("C//E", 2, AFTER_SLASH, "C/E"),
        ("C/E/G", 3, AFTER_BASS, "C/E"),
        ("C7/Gb5", 5, AFTER_BASS, "C7/Gb"),
        ("Cno1no3no5", 10, SILENT, "Cno1no3"),
        ("C" * 65, 64, "at most 64 characters", "C"),
    ],
)
def test_a_refusal_says_where_what_could_stand_there_and_what_is_near(
    text: str, position: int, expected: str, nearest: str
) -> None:
    """The place is the first character that cannot be read on, by any reading."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text)
    error = caught.value
    assert (error.text, error.position, error.expected) == (text, position, expected)
    assert error.nearest == nearest


@pytest.mark.parametrize(
    ("text", "nearest"), [("H7x", "H7"), ("G/H7", "G/H"), ("Hm7".ljust(65), "Hm7")]
)
def test_what_is_near_is_near_under_the_same_option(text: str, nearest: str) -> None:
    """Who reads H is offered H."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text, german=True)
    assert caught.value.nearest == nearest


@pytest.mark.parametrize("text", ["Bb", "B#7", "B♮", "C/Bb", "Bb/Bb", "Bbm7/B#"])
def test_an_accidental_makes_a_b_english_and_says_so_once(text: str) -> None:
    """Under the German option a B with a sign is doubtful, however many there are."""
    chord = Chord.parse(text, german=True)
    assert chord == Chord.parse(text)
    assert chord.warnings == ("with an accidental, B is read as in English, not as German B",)


def test_an_alias_of_an_unknown_quality_is_refused_with_the_nearest() -> None:
    """Further suffixes must mean what the table holds."""
    with pytest.raises(UnknownNameError) as caught:
        SymbolReader({"hot": "maj77"})
    assert (caught.value.kind, caught.value.name) == ("chord quality", "maj77")
    assert "maj7" in caught.value.nearest


def test_a_further_suffix_is_read_with_its_signs() -> None:
    """An alias is written as any symbol is, and goes before the library's own."""
    reader = SymbolReader({"7♯9 fat": "7#9", "2": "sus2"})
    assert reader.read("E7#9fat").quality.name == "7#9"
    assert reader.read("C2").quality.name == "sus2"
    assert "7#9fat" in reader.suffixes


WORDS: Final = re.compile(
    r"(?:(?i:major|maj|ma|minor|min|mi|diminished|dim|augmented|aug|add|sus|alt|dom|power|literal)"
    r"|[Mmob]|[^A-Za-z])*"
)
"""Words and signs of the trade (common practice); a letter outside of them means nothing."""


@pytest.mark.parametrize("text", ["C-aj7", "C-AJ", "Cmiaj7", "Cminaj9", "Cmajr7", "C7us4", "Cdm7"])
def test_a_word_that_is_cut_short_is_not_another(text: str) -> None:
    """Above all no minor chord becomes major by it."""
    with pytest.raises(ChordSymbolError):
        Chord.parse(text)


@pytest.mark.parametrize("letter", string.ascii_lowercase)
def test_a_letter_that_belongs_to_no_word_is_never_passed_over(letter: str) -> None:
    """Put anywhere into any suffix of the table."""
    reader = SymbolReader()
    for name in QUALITIES:
        for place in range(len(name) + 1):
            suffix = name[:place] + letter + name[place:]
            assert WORDS.fullmatch(suffix) or not reader.can_read(f"C{suffix}"), suffix


def test_text_is_readable_up_to_64_characters() -> None:
    """The bound counts spaces, for a question as for a reading."""
    reader = SymbolReader()
    assert reader.can_read("C".ljust(64))
    assert not reader.can_read("C".ljust(65))
    assert reader.can_read("H", german=True)
    assert not reader.can_read("H")


@pytest.mark.parametrize("text", ["Cdimno1no3no5", "C11no1no5no7no9no11"])
def test_a_text_that_only_an_option_reads_is_not_readable(text: str) -> None:
    """Nothing is left to sound of dim or 11, though something would be with the option."""
    reader = SymbolReader()
    assert reader.read(text, literal=True, dim_is_dim7=True).quality.degrees
    assert not reader.can_read(text)


@pytest.mark.parametrize(("text", "degrees"), [("C11", "1 5 b7 9 11"), ("Bdim", "1 b3 b5")])
def test_a_reader_takes_no_option_unasked(text: str, degrees: str) -> None:
    """By itself an 11 has no third, dim is a triad, B is English and H nothing."""
    reading = SymbolReader().read(text)
    assert (str(reading.root), " ".join(reading.quality.degrees)) == (text[0], degrees)
    with pytest.raises(ChordSymbolError):
        SymbolReader().read("H")


def test_tones_without_a_symbol_are_refused_at_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """A text whose tones could not be written again is no chord; none is known that has such."""

    def none(*_tones: object) -> None:
        raise LookupError

    monkeypatch.setattr("gripwright.theory.symbol.canonical_quality", none)
    with pytest.raises(ChordSymbolError) as caught:
        SymbolReader().read("C7sus4 no5")
    assert (caught.value.position, caught.value.expected) == (10, UNDOING)
