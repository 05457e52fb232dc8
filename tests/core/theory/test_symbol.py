"""Chord symbols, as the trade writes and reads them (common practice unless marked otherwise).

The tables follow the order root, quality, number, alterations, suspension, additions, omissions,
bass.  Spellings were computed by interval arithmetic and checked by hand.
"""

from __future__ import annotations

import pickle
from pathlib import Path
from typing import Final

import attrs
import pytest

from gripwright import Chord, ChordSymbolError, Degree, Interval, Note
from gripwright.errors import GripwrightError, NotationError
from gripwright.theory import QUALITIES
from tests.core.theory.strategies import ROOTS

DATA: Final = Path(__file__).parents[2] / "data"

# Canonical suffix, its synonyms, its degrees in order.
TABLE: Final[tuple[tuple[str, tuple[str, ...], str], ...]] = (
    ("", ("maj", "M", "ma"), "1 3 5"),
    ("maj7", ("M7", "ma7", "Ma7", "MA7", "MAJ7", "Maj7", "Δ", "Δ7", "∆", "△7"), "1 3 5 7"),
    ("maj9", ("M9", "ma9", "Δ9"), "1 3 5 7 9"),
    ("maj13", ("M13", "ma13", "Δ13"), "1 3 5 7 9 13"),
    ("maj7#11", ("Δ#11", "M7#11", "maj7(#11)", "Δ7#11", "maj7♯11"), "1 3 5 7 #11"),
    ("maj9#11", ("M9#11", "Δ9#11", "maj9(#11)"), "1 3 5 7 9 #11"),
    ("maj13#11", ("M13#11", "Δ13#11", "maj13(#11)"), "1 3 5 7 9 #11 13"),
    ("maj7b5", ("M7b5", "Δb5", "maj7(b5)", "maj7-5"), "1 3 b5 7"),
    ("maj7#5", ("+maj7", "Δ+", "+M7", "+Δ7", "maj7+5", "maj7(#5)"), "1 3 #5 7"),
    ("6", ("maj6", "M6", "ma6"), "1 3 5 6"),
    ("6/9", ("69", "6(9)", "6add9", "maj6/9", "M69"), "1 3 5 6 9"),
    ("m", ("mi", "min", "-", "−", "–", "MI", "MIN", "Min"), "1 b3 5"),
    ("m7", ("-7", "mi7", "min7", "MI7", "Mi7", "MIN7", "−7", "–7"), "1 b3 5 b7"),
    ("m9", ("-9", "mi9", "min9"), "1 b3 5 b7 9"),
    ("m11", ("-11", "mi11", "min11"), "1 b3 5 b7 9 11"),
    ("m13", ("-13", "mi13", "min13"), "1 b3 5 b7 9 11 13"),
    ("11", ("dom11",), "1 5 b7 9 11"),
    ("maj11", ("M11", "ma11", "Δ11"), "1 3 5 7 9 11"),
    ("m6", ("-6", "mi6", "min6"), "1 b3 5 6"),
    ("m6/9", ("m69", "-69", "-6/9", "min6/9"), "1 b3 5 6 9"),
    ("m(maj7)", ("mM7", "-Δ7", "mmaj7", "-Δ", "minmaj7", "-(maj7)", "m(M7)", "mΔ7"), "1 b3 5 7"),
    ("m7b5", ("ø", "ø7", "-7b5", "Ø", "∅7", "m7(b5)", "min7b5", "−7♭5", "m7-5"), "1 b3 b5 b7"),
    ("dim", ("o", "°", "º"), "1 b3 b5"),
    ("dim7", ("o7", "°7", "º7"), "1 b3 b5 bb7"),
    ("7", ("dom7",), "1 3 5 b7"),
    ("9", ("dom9",), "1 3 5 b7 9"),
    ("13", ("dom13",), "1 3 5 b7 9 13"),
    ("7b9", ("7(b9)", "7(-9)", "7-9", "7♭9", "7−9"), "1 3 5 b7 b9"),
    ("7#9", ("7(#9)", "7(+9)", "7+9", "7♯9"), "1 3 5 b7 #9"),
    ("7b13", ("7(b13)", "7(-13)", "7♭13"), "1 3 5 b7 b13"),
    ("7#11", ("7(#11)", "7(+11)", "7+11", "7♯11"), "1 3 5 b7 #11"),
    ("9#11", ("9(#11)", "9+11"), "1 3 5 b7 9 #11"),
    ("13b9", ("13(b9)", "13-9", "13♭9"), "1 3 5 b7 b9 13"),
    ("13#11", ("13(#11)",), "1 3 5 b7 9 #11 13"),
    ("7b5", ("7-5", "7(b5)", "7♭5", "dom7b5"), "1 3 b5 b7"),
    ("7#5", ("+7", "aug7", "7+", "7+5", "7(#5)", "7♯5"), "1 3 #5 b7"),
    ("9#5", ("9+5", "9(#5)", "+9", "aug9"), "1 3 #5 b7 9"),
    ("7sus4", ("7sus", "7(sus4)", "dom7sus4"), "1 4 5 b7"),
    ("9sus4", ("9sus",), "1 4 5 b7 9"),
    ("13sus4", ("13sus",), "1 4 5 b7 9 13"),
    ("7sus4b9", ("susb9", "7susb9", "7sus4(b9)", "7b9sus4", "7b9sus", "7(b9)sus4"), "1 4 5 b7 b9"),
    ("sus4", ("sus", "(sus4)"), "1 4 5"),
    ("sus2", ("(sus2)",), "1 2 5"),
    ("aug", ("+",), "1 3 #5"),
    ("add9", ("add2", "(add9)"), "1 3 5 9"),
    ("m(add9)", ("madd9", "-add9", "m(add2)", "madd2", "min(add9)"), "1 b3 5 9"),
    ("5", ("power",), "1 5"),
)
SYNONYMS: Final = [(also, name, tones) for name, others, tones in TABLE for also in others]

# Symbols of more than one part: symbol, degrees.
COMPOUND: Final = {
    "C(b5)": "1 3 b5",
    "C(#5)": "1 3 #5",
    "C(♭5)": "1 3 b5",
    "Cm7(11)": "1 b3 5 b7 11",
    "Cm7(9,11)": "1 b3 5 b7 9 11",
    "C7(13)": "1 3 5 b7 13",
    "C7(9, 13)": "1 3 5 b7 9 13",
    "Cmaj7(9)": "1 3 5 7 9",
    "C7(b9,#11)": "1 3 5 b7 b9 #11",
    "C7(b9)(#11)": "1 3 5 b7 b9 #11",
    "C7(b9 #11)": "1 3 5 b7 b9 #11",
    "C7b9#11": "1 3 5 b7 b9 #11",
    "C7#11b9": "1 3 5 b7 b9 #11",
    "C7b9,13": "1 3 5 b7 b9 13",
    "C7b9b13": "1 3 5 b7 b9 b13",
    "C7#5#9": "1 3 #5 b7 #9",
    "C7#9#5": "1 3 #5 b7 #9",
    "C7b5b9": "1 3 b5 b7 b9",
    "C7b5#5b9#9": "1 3 b5 #5 b7 b9 #9",
    "C+7b9": "1 3 #5 b7 b9",
    "C+7(#9)": "1 3 #5 b7 #9",
    "C9b5": "1 3 b5 b7 9",
    "C13#9": "1 3 5 b7 #9 13",
    "C13b5": "1 3 b5 b7 9 13",
    "C13b9#11": "1 3 5 b7 b9 #11 13",
    "Cm9b5": "1 b3 b5 b7 9",
    "Cm7#5": "1 b3 #5 b7",
    "Cm(maj9)": "1 b3 5 7 9",
    "C6(#11)": "1 3 5 6 #11",
    "C6/9#11": "1 3 5 6 9 #11",
    "Cø9": "1 b3 b5 b7 9",
    "Cdim(maj7)": "1 b3 b5 7",
    "C7add13": "1 3 5 b7 13",
    "Cadd11": "1 3 5 11",
    "Cadd#11": "1 3 5 #11",
    "Cadd9add11": "1 3 5 9 11",
    "C7sus2": "1 2 5 b7",
    "Cmaj7sus4": "1 4 5 7",
    "Csus2sus4": "1 2 4 5",
    "Csus4add9": "1 4 5 9",
    "C9sus4(no5)": "1 4 b7 9",
    "C7no3": "1 5 b7",
    "C7(no3)": "1 5 b7",
    "C7omit5": "1 3 b7",
    "C7(omit5)": "1 3 b7",
    "Cmaj9no5": "1 3 7 9",
    "C13no5no9": "1 3 b7 13",
    "Cno3no5": "1",
    "C7(♮13)": "1 3 5 b7 13",
    "C7[b9,#11]": "1 3 5 b7 b9 #11",
    "C9b9": "1 3 5 b7 b9",
    "C13b13": "1 3 5 b7 9 b13",
    "Cm11b5": "1 b3 b5 b7 9 11",
    "C/11": "1 3 5 11",
    "C9/13": "1 3 5 b7 9 13",
    "C⁶/⁹": "1 3 5 6 9",
    "C⁻⁷": "1 b3 5 b7",
    " C maj7 ": "1 3 5 7",
    "C 7 b9": "1 3 5 b7 b9",
    "C⁷": "1 3 5 b7",
    "Cm⁷": "1 b3 5 b7",
    "C¹³": "1 3 5 b7 9 13",
    "C⁶": "1 3 5 6",
    "Cmaj⁹": "1 3 5 7 9",
    "C⁺": "1 3 #5",
    "C⁺⁷": "1 3 #5 b7",
    "C7⁽♭⁹⁾": "1 3 5 b7 b9",
}

# A symbol and the groups of degrees of which at least one must sound.
ESSENTIAL: Final = {
    "": "1 3",
    "m": "1 b3",
    "dim": "1 b3 b5",
    "aug": "1 3 #5",
    "(b5)": "1 3 b5",
    "sus4": "1 4",
    "sus2": "1 2",
    "sus2sus4": "1 2 4",
    "add9": "1 3 9",
    "m(add9)": "1 b3 9",
    "5": "1 5",
    "6": "3 6",
    "m6": "b3 6",
    "6/9": "3 6 9",
    "m6/9": "b3 6 9",
    "maj7": "3 7",
    "maj9": "3 7 9",
    "maj13": "3 7 13",
    "maj11": "3 7 11",
    "maj7#11": "3 7 #11",
    "maj7b5": "3 b5 7",
    "maj7#5": "3 #5 7",
    "m7": "b3 b7",
    "m9": "b3 b7 9",
    "m11": "b3 b7 11",
    "m13": "b3 b7 13",
    "m(maj7)": "b3 7",
    "m7b5": "b3 b5 b7",
    "dim7": "b3 1|b5 bb7",
    "7": "3 b7",
    "9": "3 b7 9",
    "11": "b7 11",
    "13": "3 b7 13",
    "7b9": "3 b7 b9",
    "7#9": "3 b7 #9",
    "7#11": "3 b7 #11",
    "7b13": "3 b7 b13",
    "9#11": "3 b7 9 #11",
    "13b9": "3 b7 b9 13",
    "7b5": "3 b5 b7",
    "7#5": "3 #5 b7",
    "7#5#9": "3 #5 b7 #9",
    "7b9b13": "3 b7 b9 b13",
    "7alt": "3 b5|#5 b7 b9|#9",
    "7sus4": "4 b7",
    "9sus4": "4 b7 9",
    "13sus4": "4 b7 13",
    "7sus4b9": "4 b7 b9",
    "m7(11)": "b3 b7 11",
    "7add13": "3 b7 13",
    "7no3": "b7",
    "7(no5)": "3 b7",
    "9no3": "b7 9",
}

# Available tensions where the trade's table lists them without conditions.
TENSIONS: Final = {
    "": "6 9",
    "maj7": "9 #11 13",
    "maj7#5": "9 #11",
    "6": "9 #11",
    "m": "6 9 11",
    "m7": "9 11",
    "m6": "7 9 11",
    "m(maj7)": "9 11 13",
    "m7b5": "9 11 b13",
    "7": "b9 9 #9 #11 b13 13",
    "7b5": "b9 9 #9",
    "7#5": "b9 9 #9",
    # The table lists b9 and #9 too; an altered dominant has both as tones already.
    "7alt": "#11 b13",
    "aug": "9 #11",
    "5": "",
    "sus4": "",
    "add9": "",
}

# Computed by interval arithmetic and checked by hand.
SPELLINGS: Final = {
    "Cb7": "Cb Eb Gb Bbb",
    "Fdim7": "F Ab Cb Ebb",
    "B7#9": "B D# F# A C##",
    "Gb7b9": "Gb Bb Db Fb Abb",
    "F#7#5": "F# A# C## E",
    "Bbm7b5": "Bb Db Fb Ab",
    "G7b9b13": "G B D F Ab Eb",
    "D#maj7": "D# F## A# C##",
    "Fbm": "Fb Abb Cb",
    "E𝄫7": "Ebb Gb Bbb Dbb",
    "F𝄪m": "F## A# C##",
    "B♭maj7": "Bb D F A",
    "C♯m7♭5": "C# E G B",
    "D♮7": "D F# A C",
    "Abbb": "Abbb Cbb Ebbb",
    "B###5": "B### F####",
}

UNREADABLE: Final = (
    *("", " ", "x", "c", "cmaj7", "1", "b", "#", "♭", "H", "H7", "Es", "N.C.", "NC", "n.c.", "%"),
    *("Cfoo", "Cmaj77", "C7x", "Cbbbb", "C####", "C/", "C/H", "C//E", "C/Ebbbb", "/E", "C7/"),
    *("Cadd", "Cno", "Comit", "C7b", "C7#", "C7b3", "C7b99", "C8", "C777", "Cmajmaj7", "C7/9/"),
    *("Cm7b5b5b5b5/", "C\x00", "C\n7\nG", "C|G", "Cmaj7 Dm7", "C٧", "C①", "🎸", "C7🎸"),
)


def degrees(text: str, *, literal: bool = False) -> tuple[str, ...]:
    """Return the degrees of a symbol as plain text."""
    return tuple(str(degree) for degree in Chord.parse(text, literal=literal).degrees)


def groups(text: str) -> set[frozenset[str]]:
    """Read groups of degrees written with spaces between groups and bars within them."""
    return {frozenset(group.split("|")) for group in text.split()}


@pytest.mark.parametrize(("suffix", "tones"), [(name, tones) for name, _, tones in TABLE])
def test_a_canonical_symbol_has_its_degrees_and_stays_as_it_is(suffix: str, tones: str) -> None:
    """The canonical suffix gives the listed degrees on every root and is written unchanged."""
    for root in ROOTS:
        # Directly after a letter a sign would belong to the root; no canonical suffix starts so.
        chord = Chord.parse(root + suffix)
        assert " ".join(chord.degrees) == tones
        assert chord.symbol == root + suffix
        assert str(chord) == chord.symbol


@pytest.mark.parametrize(("also", "name", "tones"), SYNONYMS)
def test_a_synonym_is_the_same_chord(also: str, name: str, tones: str) -> None:
    """A synonym reads to a chord equal to the canonical one, with the listed degrees."""
    for root in ROOTS:
        chord = Chord.parse(root + also)
        assert " ".join(chord.degrees) == tones
        assert chord == Chord.parse(root + name)
        assert hash(chord) == hash(Chord.parse(root + name))


@pytest.mark.parametrize("text", ["C7alt", "Calt", "C7(alt)"])
def test_altered_dominants(text: str) -> None:
    """An altered dominant has both altered ninths and both altered fifths and no natural one."""
    assert set(degrees(text)) == {"1", "3", "b5", "#5", "b7", "b9", "#9"}
    assert Chord.parse(text).symbol == "C7alt"


@pytest.mark.parametrize("text", COMPOUND)
def test_a_compound_symbol_has_its_degrees(text: str) -> None:
    """Brackets, commas, spaces, signs, additions, suspensions and omissions read as written."""
    assert " ".join(degrees(text)) == COMPOUND[text]


@pytest.mark.parametrize(
    ("suffix", "tones"),
    [
        ("11", "1 3 5 b7 9 11"),
        ("13", "1 3 5 b7 9 11 13"),
        ("maj13", "1 3 5 7 9 11 13"),
        ("maj11", "1 3 5 7 9 11"),
        ("m11", "1 b3 5 b7 9 11"),
        ("m13", "1 b3 5 b7 9 11 13"),
        ("9", "1 3 5 b7 9"),
        ("13sus4", "1 4 5 b7 9 13"),
    ],
)
def test_the_literal_reading_stacks_thirds(suffix: str, tones: str) -> None:
    """On request 11 and 13 hold every third below them, as MusicXML 4.0 defines the kinds."""
    assert " ".join(degrees("C" + suffix, literal=True)) == tones
    chord = Chord.parse("C" + suffix, literal=True)
    assert Chord.parse(chord.symbol) == chord


@pytest.mark.parametrize("suffix", ESSENTIAL)
def test_essential_groups(suffix: str) -> None:
    """The tones that must sound are those that the definition of a chord names."""
    chord = Chord.parse("C" + suffix)
    assert {frozenset(str(degree) for degree in group) for group in chord.essential} == groups(
        ESSENTIAL[suffix]
    )
    for group in chord.essential:
        assert set(group) <= set(chord.degrees)


@pytest.mark.parametrize("suffix", TENSIONS)
def test_available_tensions(suffix: str) -> None:
    """The available tensions are those of the trade's table."""
    assert {str(degree) for degree in Chord.parse("C" + suffix).tensions} == set(
        TENSIONS[suffix].split()
    )


@pytest.mark.parametrize("text", SPELLINGS)
def test_spelling(text: str) -> None:
    """Tones are spelled by arithmetic from the root, with double signs where these are due."""
    chord = Chord.parse(text)
    assert " ".join(str(note) for note in chord.notes) == SPELLINGS[text]
    assert chord.root == chord.notes[0]


@pytest.mark.parametrize(
    ("text", "root", "tones"),
    [
        ("Cb5", "Cb", "1 5"),
        ("Bb5", "Bb", "1 5"),
        ("Bbb5", "Bbb", "1 5"),
        ("B♭♭5", "Bbb", "1 5"),
        ("C(b5)", "C", "1 3 b5"),
        ("Cb(b5)", "Cb", "1 3 b5"),
        ("C#11", "C#", "1 5 b7 9 11"),
        ("C7#11", "C", "1 3 5 b7 #11"),
        ("C#9", "C#", "1 3 5 b7 9"),
        ("Absus", "Ab", "1 4 5"),
        ("Asus", "A", "1 4 5"),
        ("Bdim", "B", "1 b3 b5"),
        ("Bbdim", "Bb", "1 b3 b5"),
        ("Bb", "Bb", "1 3 5"),
        ("Aadd9", "A", "1 3 5 9"),
        ("Ddim", "D", "1 b3 b5"),
        ("Daug", "D", "1 3 #5"),
        ("Ealt", "E", "1 3 b5 #5 b7 b9 #9"),
    ],
)
def test_the_root_takes_its_accidentals_greedily(text: str, root: str, tones: str) -> None:
    """A sign beside the root letter belongs to the root; brackets keep it away."""
    chord = Chord.parse(text)
    assert str(chord.root) == root
    assert set(chord.degrees) == set(tones.split())


@pytest.mark.parametrize(
    ("text", "tones"),
    [
        ("CM7", "1 3 5 7"),
        ("Cm7", "1 b3 5 b7"),
        ("CM", "1 3 5"),
        ("Cm", "1 b3 5"),
        ("CMI7", "1 b3 5 b7"),
        ("CMa7", "1 3 5 7"),
        ("CMin7", "1 b3 5 b7"),
        ("CMAJ7", "1 3 5 7"),
        ("CM6", "1 3 5 6"),
        ("Cm6", "1 b3 5 6"),
        ("CmM7", "1 b3 5 7"),
        ("CmMaj7", "1 b3 5 7"),
        ("CSUS4", "1 4 5"),
        ("CDIM7", "1 b3 b5 bb7"),
    ],
)
def test_only_a_single_m_minds_its_case(text: str, tones: str) -> None:
    """M is major and m is minor; the longer words read in any case."""
    assert " ".join(degrees(text)) == tones


@pytest.mark.parametrize(
    ("text", "tones"),
    [
        ("C-7b5", "1 b3 b5 b7"),
        ("C7-5", "1 3 b5 b7"),
        ("C-", "1 b3 5"),
        ("C-7", "1 b3 5 b7"),
        ("C7-9", "1 3 5 b7 b9"),
        ("C-7-5", "1 b3 b5 b7"),
        ("C+7", "1 3 #5 b7"),
        ("C7+", "1 3 #5 b7"),
        ("C7+5", "1 3 #5 b7"),
        ("C7+9", "1 3 5 b7 #9"),
        ("C7+11", "1 3 5 b7 #11"),
        ("C+", "1 3 #5"),
    ],
)
def test_plus_and_minus_signs(text: str, tones: str) -> None:
    """A minus after the root is minor and after a digit flat; a plus augments or sharpens."""
    chord = Chord.parse(text)
    assert " ".join(chord.degrees) == tones
    assert chord.warnings == ()


@pytest.mark.parametrize(
    ("text", "tones", "alternative"),
    [
        ("Bbb5", "1 5", "b5"),
        # A minor chord takes no 5 of its own, so the minus can only flatten.
        ("C-5", "1 3 b5", "Cm"),
        ("C+9", "1 3 #5 b7 9", "#9"),
        ("C2", "1 3 5 9", "sus2"),
        ("C/9", "1 3 5 9", ""),
        ("Cmaj11", "1 3 5 7 9 11", ""),
        ("CM11", "1 3 5 7 9 11", ""),
    ],
)
def test_ambiguous_symbols_warn(text: str, tones: str, alternative: str) -> None:
    """A symbol that players read in two ways is read in one, and the warning names the other."""
    chord = Chord.parse(text)
    assert " ".join(chord.degrees) == tones
    assert chord.warnings
    assert all(chord.warnings)
    assert any(alternative in warning for warning in chord.warnings)


@pytest.mark.parametrize(
    "text",
    [
        *("C", "Cmaj7", "Dm7", "G7", "Cm7b5", "Fdim7", "C6/9", "C13", "Cm11", "C7alt", "Csus4"),
        *("Cadd9", "Cm(maj7)", "E/G#", "D/F#", "C7#9", "C5", "C7sus4b9", "C+7", "Bbmaj9"),
    ],
)
def test_plain_symbols_do_not_warn(text: str) -> None:
    """A symbol that every player reads alike carries no warning."""
    assert Chord.parse(text).warnings == ()


@pytest.mark.parametrize(
    ("text", "absent"),
    [
        ("C5no3", "3"),
        ("C5no9no3", "3 9"),
        ("C11no3", "3"),
        ("C6no13", "13"),
        # The suspension has taken the third already.
        ("C7sus4no3", "3"),
        ("Cmaj9sus4no3", "3"),
        ("Cmaj9sus4no4", ""),
        ("C7no3", ""),
        ("Cmno3no5", ""),
        ("C7b9no9", ""),
        ("Cadd9no9", ""),
        # The alteration has taken the fifth already; beside an added tone there is one.
        ("C13b5no5", "5"),
        ("C7no5#5", "5"),
        ("C7no5add#5", ""),
        ("C9no9add#9", ""),
        ("C7add11no11", "11"),
    ],
)
def test_leaving_out_what_is_not_there_warns(text: str, absent: str) -> None:
    """An omission without its tone changes nothing, and a warning names its number."""
    warnings = tuple(f"there is no {number} to leave out" for number in absent.split())
    assert Chord.parse(text).warnings == warnings


def test_equality_ignores_warnings() -> None:
    """A chord read with a warning equals the chord read without one."""
    warned, plain = Chord.parse("C2"), Chord.parse("Cadd9")
    assert warned.warnings
    assert not plain.warnings
    assert warned == plain
    assert hash(warned) == hash(plain)


@pytest.mark.parametrize(
    ("text", "root", "bass", "tones", "symbol"),
    [
        ("E/G#", "E", "G#", "1 3 5", "E/G#"),
        ("D/F#", "D", "F#", "1 3 5", "D/F#"),
        ("C/D", "C", "D", "1 3 5", "C/D"),
        ("C / E", "C", "E", "1 3 5", "C/E"),
        ("Am7/G", "A", "G", "1 b3 5 b7", "Am7/G"),
        ("Bb6/9/D", "Bb", "D", "1 3 5 6 9", "Bb6/9/D"),
        ("C69/E", "C", "E", "1 3 5 6 9", "C6/9/E"),
        ("C7(b9)/E", "C", "E", "1 3 5 b7 b9", "C7b9/E"),
        ("F/E♭♭", "F", "Ebb", "1 3 5", "F/Ebb"),
        ("C/Bb", "C", "Bb", "1 3 5", "C/Bb"),
        ("C/Gbbb", "C", "Gbbb", "1 3 5", "C/Gbbb"),
        ("Cmaj7/B", "C", "B", "1 3 5 7", "Cmaj7/B"),
    ],
)
def test_a_slash_and_a_letter_give_a_bass(
    text: str, root: str, bass: str, tones: str, symbol: str
) -> None:
    """A letter after the slash is the bass, which adds no degree and stays in the symbol."""
    chord = Chord.parse(text)
    assert chord.root == Note.parse(root)
    assert chord.bass == Note.parse(bass)
    assert " ".join(chord.degrees) == tones
    assert len(chord.notes) == len(chord.degrees)
    assert chord.symbol == symbol
    assert chord.warnings == ()


def test_a_slash_and_a_digit_add_a_tone() -> None:
    """6/9 is one quality, and any other number after a slash is an addition."""
    assert Chord.parse("C6/9").bass is None
    assert Chord.parse("C/9").bass is None
    assert Chord.parse("C/9") == Chord.parse("Cadd9")


def test_a_chord_without_a_slash_has_no_bass() -> None:
    """The bass is absent, not the root, where none is written."""
    assert Chord.parse("Cmaj7").bass is None


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("H", "B"),
        ("Hm7b5", "Bm7b5"),
        ("B", "Bb"),
        ("B7", "Bb7"),
        ("Bmaj7", "Bbmaj7"),
        ("C", "C"),
        ("F#m7", "F#m7"),
        ("G/H", "G/B"),
        ("G/B", "G/Bb"),
        ("H7/D#", "B7/D#"),
        ("H#7", "B#7"),
        ("Hb", "Bb"),
        ("H♮7", "B7"),
    ],
)
def test_german_names(text: str, plain: str) -> None:
    """Under the German option H is B and B is Bb, and the symbol written is the plain one."""
    chord = Chord.parse(text, german=True)
    assert chord == Chord.parse(plain)
    assert chord.symbol == plain


@pytest.mark.parametrize("suffix", ["dim", "o", "°"])
def test_dim_as_a_seventh_chord(suffix: str) -> None:
    """A chart's dim reads as dim7 on request, and as the triad otherwise."""
    assert Chord.parse("C" + suffix).symbol == "Cdim"
    assert Chord.parse("C" + suffix, dim_is_dim7=True) == Chord.parse("Cdim7")


def test_the_option_for_dim_leaves_other_symbols_alone() -> None:
    """Reading dim as dim7 changes no symbol that says more than dim."""
    for text in ("Cdim7", "Cm7b5", "C7", "Cø", "Cm"):
        assert Chord.parse(text, dim_is_dim7=True) == Chord.parse(text)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("C+7", "C7#5"),
        ("C7+", "C7#5"),
        ("C7+9", "C7#9"),
        ("C7+5", "C7#5"),
        ("CΔ", "Cmaj7"),
        ("Csus", "Csus4"),
        ("C2", "Cadd9"),
        ("Cmaj7#5", "C+maj7"),
        ("C7#9#5", "C7#5#9"),
        ("C7(b9,b13)", "C7b13b9"),
        ("C7b9sus4", "C7sus4b9"),
        ("Cm7(b5)", "Cø"),
    ],
)
def test_two_ways_to_write_a_chord_are_equal(one: str, other: str) -> None:
    """Readings that the trade holds to be the same chord are equal and written alike."""
    assert Chord.parse(one) == Chord.parse(other)
    assert Chord.parse(one).symbol == Chord.parse(other).symbol


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("C(b5)", "Cb5"),
        ("Cm7(11)", "Cm11"),
        ("Cmaj9", "Cadd9"),
        ("C7sus4", "C9sus4"),
        ("C/E", "C"),
        ("C/E", "C/G"),
        ("C#7", "Db7"),
        ("Cdim", "Cdim7"),
        ("C13", "C7(13)"),
    ],
)
def test_different_chords_are_not_equal(one: str, other: str) -> None:
    """Symbols that differ in a tone, a spelling or the bass are different chords."""
    assert Chord.parse(one) != Chord.parse(other)
    assert Chord.parse(one).symbol != Chord.parse(other).symbol


def test_the_eleventh_serves_as_a_suspended_ninth() -> None:
    """C11 sounds as C9sus4 does."""
    eleventh, suspended = Chord.parse("C11"), Chord.parse("C9sus4")
    assert {note.pitch_class for note in eleventh.notes} == {
        note.pitch_class for note in suspended.notes
    }


def test_a_foreign_bass_names_another_chord() -> None:
    """C over D sounds as D9sus4 without its fifth (common practice)."""
    slash, suspended = Chord.parse("C/D"), Chord.parse("D9sus4(no5)")
    assert slash.bass is not None
    assert {slash.bass.pitch_class, *(note.pitch_class for note in slash.notes)} == {
        note.pitch_class for note in suspended.notes
    }


def equivalences() -> list[tuple[str, int, str, frozenset[str]]]:
    """Return the rows of the table of shapes that serve as other chords."""
    lines = (DATA / "equivalences.tsv").read_text(encoding="utf-8").splitlines()
    rows = [line.split("\t") for line in lines if line and not line.startswith("#")]
    return [(row[0], int(row[1]), row[2], frozenset(row[3].split())) for row in rows[1:]]


@pytest.mark.parametrize(("shape", "semitones", "target", "missing"), equivalences())
def test_a_shape_serves_as_another_chord(
    shape: str, semitones: int, target: str, missing: frozenset[str]
) -> None:
    """The tones of the shape are those of the chord above it, less the ones named as missing."""
    below = {note.pitch_class for note in Chord.parse("C" + shape).notes}
    above = Chord.parse("C" + target)
    assert missing <= set(above.degrees)
    assert {(pitch_class - semitones) % 12 for pitch_class in below} == {
        note.pitch_class
        for note, degree in zip(above.notes, above.degrees, strict=True)
        if degree not in missing
    }


def test_a_chord_is_a_frozen_value_of_typed_parts() -> None:
    """A chord holds notes and degrees in tuples, pickles, and cannot be changed."""
    chord = Chord.parse("F#m7b5/C")
    assert all(type(degree) is Degree for degree in chord.degrees)
    assert all(isinstance(note, Note) for note in chord.notes)
    assert isinstance(chord.degrees, tuple)
    assert isinstance(chord.notes, tuple)
    assert pickle.loads(pickle.dumps(chord)) == chord
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        chord.root = Note("C", 0)  # type: ignore[misc]


def test_a_chord_is_built_from_a_quality_as_it_is_read() -> None:
    """A chord made from parts equals the one read from its symbol."""
    built = Chord(Note("E", -1), QUALITIES["maj7"], Note("G", 0))
    assert built == Chord.parse("Ebmaj7/G")
    assert built.symbol == "Ebmaj7/G"
    assert Chord(Note("E", -1), QUALITIES["maj7"]).bass is None


@pytest.mark.parametrize("alteration", [-4, 4])
def test_a_root_or_bass_carries_at_most_three_signs(alteration: int) -> None:
    """A chord on, over or moved to a note of four flats or sharps is refused."""
    far, near = Note("C", alteration), Note("C", 0)
    with pytest.raises(ValueError, match="3"):
        Chord(far, QUALITIES["7"])
    with pytest.raises(ValueError, match="3"):
        Chord(near, QUALITIES["7"], far)
    with pytest.raises(ValueError, match="3"):
        Chord.parse("C").transposed(Interval(0, alteration))


@pytest.mark.parametrize("name", sorted(QUALITIES))
def test_every_alias_of_a_quality_reads_to_it(name: str) -> None:
    """The table's aliases are what the reader reads."""
    quality = QUALITIES[name]
    assert quality.name == name
    for alias in quality.aliases:
        assert Chord.parse("C" + alias).quality == quality


def test_the_error_of_a_doubled_figure() -> None:
    """The error tells text, position, what was expected there and the nearest symbol."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse("Cmaj77")
    error = caught.value
    assert (error.text, error.position, error.nearest) == ("Cmaj77", 5, "Cmaj7")
    assert error.what == "chord symbol"
    assert error.expected
    assert str(error) == (
        "cannot read chord symbol 'Cmaj77': unexpected '7' at position 5 (did you mean 'Cmaj7'?)"
    )
    assert isinstance(error, NotationError)
    assert isinstance(error, GripwrightError)
    assert isinstance(error, ValueError)


@pytest.mark.parametrize("text", UNREADABLE)
def test_an_unreadable_symbol_is_refused_with_its_place(text: str) -> None:
    """The error holds the text as given, a place in it and a nearest symbol that reads."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text)
    error = caught.value
    assert error.text == text
    assert 0 <= error.position <= len(text)
    assert error.expected
    if error.nearest is not None:
        Chord.parse(error.nearest)
        assert repr(error.nearest) in str(error)


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("", 0),
        ("x", 0),
        ("H7", 0),
        ("N.C.", 0),
        ("%", 0),
        ("Cfoo", 1),
        ("C7x", 2),
        ("C maj77", 6),
        ("C♭maj77", 6),
        ("E𝄫maj7?", 6),
        ("C⁷x", 2),
        ("C/H", 2),
        ("C/", 2),
        ("Cmaj7 Dm7", 6),
        ("C/E/G", 3),
        ("C/E(b5)", 3),
        ("C/Gadd9", 3),
        ("C7/Gb5", 5),
        ("C(b5", 4),
    ],
)
def test_the_position_counts_in_the_text_as_given(text: str, position: int) -> None:
    """The position is that of the first character that cannot be read, spaces and signs counted."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text)
    assert caught.value.position == position


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("Cmaj77", "Cmaj7"),
        ("Cmja7", "Cmaj7"),
        ("Csuss4", "Csus4"),
        ("cmaj7", "Cmaj7"),
        ("F#diim7", "F#dim7"),
        ("Gmin77", "Gm7"),
        ("Absus44", "Absus4"),
        ("C7b99", "C7b9"),
        ("Bbmajj9", "Bbmaj9"),
    ],
)
def test_a_slip_of_the_pen_is_answered_by_the_symbol_meant(text: str, nearest: str) -> None:
    """One slip away from a common symbol, a way to write that symbol is offered."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text)
    assert caught.value.nearest is not None
    assert Chord.parse(caught.value.nearest) == Chord.parse(nearest)


@pytest.mark.parametrize("text", ["Cmaj77", "", "C\udcff", "C" * 65])
def test_an_error_survives_pickling(text: str) -> None:
    """The error keeps its type, data and message through a pickle."""
    with pytest.raises(ChordSymbolError) as caught:
        Chord.parse(text)
    error = caught.value
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is ChordSymbolError
    assert str(again) == str(error)
    assert (again.what, again.text, again.position, again.expected, again.nearest) == (
        error.what,
        error.text,
        error.position,
        error.expected,
        error.nearest,
    )


def test_text_of_64_characters_is_read_and_longer_text_refused() -> None:
    """The bound counts every character given, spaces too."""
    text = "Cmaj7".ljust(64)
    assert Chord.parse(text) == Chord.parse("Cmaj7")
    with pytest.raises(ChordSymbolError, match="64") as caught:
        Chord.parse(text + " ")
    assert caught.value.text == text + " "
    if caught.value.nearest is not None:
        Chord.parse(caught.value.nearest)


@pytest.mark.parametrize("length", [65, 1000, 1_000_000])
def test_long_text_is_refused_by_its_length(length: int) -> None:
    """Text over the bound is refused unread, however long."""
    with pytest.raises(ChordSymbolError, match="64"):
        Chord.parse("C" * length)
