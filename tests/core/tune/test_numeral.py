"""Numerals: what is read, what is realised, what is refused.

Readings and cases without another mark are common practice.
"""

from __future__ import annotations

import pickle

import pytest

from gripwright import Chord, ConditionError, Degree, NotationError
from gripwright.theory import QUALITIES
from gripwright.tune import Key
from gripwright.tune.numeral import Numeral, Target

C = Key.parse("C")

IN_C = {
    "ii7": "Dm7",
    "ii-7": "Dm7",
    "IIm7": "Dm7",
    "Imaj7": "Cmaj7",
    "IΔ": "Cmaj7",
    "IM7": "Cmaj7",
    "I7": "C7",
    "I6/9": "C6/9",
    "#IVdim7": "F#dim7",
    "♯IV°7": "F#dim7",
    "#Idim7": "C#dim7",
    "bIIIdim7": "Ebdim7",
    "bII7": "Db7",
    "♭II7": "Db7",
    "iiø": "Dm7b5",
    "iiø7": "Dm7b5",
    "iim7b5": "Dm7b5",
    "ii7b5": "Dm7b5",
    "viiø": "Bm7b5",
    "v-7": "Gm7",
    "iv6": "Fm6",
    "i6": "Cm6",
    "imaj7": "Cm(maj7)",
    "i-maj7": "Cm(maj7)",
    "ii9": "Dm9",
    "ii11": "Dm11",
    "V7b9": "G7b9",
    "V7(b9,#11)": "G7b9#11",
    "V7alt": "G7alt",
    "V7#9": "G7#9",
    "V7sus4": "G7sus4",
    "iisus4": "Dsus4",
    "Imaj": "C",
    "im": "Cm",
    "Iadd9": "Cadd9",
    "Ib5": "C(b5)",
    "V7/ii": "A7",
    "V7/iii": "B7",
    "V7/IV": "C7",
    "V7/V": "D7",
    "V7/vi": "E7",
    "V9/bVI": "Eb9",
    "V/V": "D7",
    "ii7/IV": "Gm7",
    "viidim7/V": "F#dim7",
    "subV7/ii": "Eb7",
    "subV7/V": "Ab7",
    "subV/V": "Ab7",
    "subV7": "Db7",
    "subV9/IV": "Gb9",
    "V7/7": "G7/B",
    "Imaj/3": "C/E",
    "IVmaj/5": "F/G",
    "V7/V/#4": "D7/F#",
    "Isus2/4": "Csus2/F",
}


@pytest.mark.parametrize(("text", "chord"), IN_C.items())
def test_numerals_in_c(text: str, chord: str) -> None:
    """Each is the chord that players play on reading it in C."""
    assert Numeral.parse(text).realise(C).symbol == Chord.parse(chord).symbol


@pytest.mark.parametrize(
    ("bare", "meant"),
    [
        ("I", "Imaj7"),
        ("ii", "ii-7"),
        ("iii", "iii-7"),
        ("IV", "IVmaj7"),
        ("iv", "iv-7"),
        ("V", "V7"),
        ("vi", "vi-7"),
        ("i", "i-7"),
        ("VI", "VI7"),
        ("bVII", "bVII7"),
        ("bVI", "bVImaj7"),
    ],
)
def test_bare_numerals_stand_for_sevenths(bare: str, meant: str) -> None:
    """A numeral alone is no triad."""
    assert Numeral.parse(bare) == Numeral.parse(meant)


def test_in_a_blues_bare_one_and_four_are_dominants() -> None:
    """And whatever says its seventh stays as it is."""
    read = [str(Numeral.parse(text, blues=True)) for text in ("I", "IV", "V", "Imaj7", "i", "bVI")]
    assert read == ["I7", "IV7", "V7", "Imaj7", "i7", "bVImaj7"]


@pytest.mark.parametrize(
    ("key", "numerals", "chords"),
    [
        ("C", "iv7 bVII7 Imaj7", "Fm7 Bb7 Cmaj7"),
        ("Ab", "Imaj7 bIII7 bVI7 bII7", "Abmaj7 B7 E7 A7"),
        ("Gb", "IVmaj7 bVII7 #IVdim7 subV7/V", "Cbmaj7 E7 Cdim7 D7"),
        ("F#", "VIIdim7 V7/iii #IVdim7", "E#dim7 E#7 Cdim7"),
        ("C#m", "iim7b5 V7b9 i6 VIIdim7", "D#m7b5 G#7b9 C#m6 B#dim7"),
        ("Ebm", "bVImaj7 bII7 V7/3 V7/7", "Cbmaj7 E7 Bb7/G Bb7/D"),
        ("E", "I7 #Idim7 bVII7 #IVdim7", "E7 Fdim7 D7 A#dim7"),
        ("F#m", "V7/7", "C#7/E#"),
        ("Gb", "V7/7 bIIIdim7/1", "Db7/F Adim7/Gb"),
    ],
)
def test_roots_are_spelled_for_the_key(key: str, numerals: str, chords: str) -> None:
    """By its signature, and else without double accidentals and needless Cb, Fb, E# and B#."""
    realised = [str(Numeral.parse(text).realise(Key.parse(key))) for text in numerals.split()]
    assert realised == chords.split()


@pytest.mark.parametrize(
    ("key", "chords", "numerals"),
    [
        (
            "C",
            "A7 F#dim7 C#dim7 Ebdim7 Ab7 Gb7 F#m7b5",
            "VI7 #IVdim7 #Idim7 bIIIdim7 bVI7 bV7 #ivm7b5",
        ),
        ("C", "F#7 D#dim7 C G7/B F/G", "#IV7 #IIdim7 Imaj V7/7 IVmaj/5"),
        ("Ab", "E7 Fb7 Gb7", "bVI7 bVI7 bVII7"),
        ("Gb", "Adim7 Cdim7 Gdim7 G7 A7", "bIIIdim7 #IVdim7 #Idim7 bII7 bIII7"),
        ("Am", "Bm7b5 E7 F7 G#dim7", "iim7b5 V7 bVI7 VIIdim7"),
    ],
)
def test_chords_of_a_key_as_numerals(key: str, chords: str, numerals: str) -> None:
    """Spelling says the degree where it can; else diminished chords lead up."""
    read = [str(Numeral.of(Chord.parse(text), Key.parse(key))) for text in chords.split()]
    assert read == numerals.split()


def test_a_substitute_before_a_degree_is_written_so() -> None:
    """Both ways to write it are one value; with no degree after it, it is bII7."""
    assert Numeral.parse("bII7/V") == Numeral.parse("subV7/V")
    assert str(Numeral.parse("bII7/V")) == "subV7/V"
    assert str(Numeral.parse("bIImaj7/V")) == "bIImaj7/V"
    assert Numeral.parse("subV7") == Numeral.parse("bII7")


@pytest.mark.parametrize(
    ("text", "position", "nearest"),
    [
        ("", 0, None),
        ("Cmaj7", 0, "Imaj7"),
        ("Vi7", 1, "V7"),
        ("iI", 1, "i"),
        ("IIII7", 3, "III7"),
        ("ii77", 3, "ii7"),
        ("ii7x", 3, "ii7"),
        ("Imaj77", 5, "Imaj7"),
        ("bbII7", 1, "bII7"),
        ("V7/", 3, "V7"),
        ("V7/E", 3, "V7"),
        ("V7/VV", 3, "V7/V"),
        ("V7/ii/ii", 6, "V7/ii"),
        ("V7/ii/8", 6, "V7/ii"),
        ("subVmaj7/V", 4, "subV"),
        ("subII7", 3, None),
        ("i7b3", 2, "i7"),
        ("I" * 100, 80, None),
    ],
)
def test_faults_are_placed(text: str, position: int, nearest: str | None) -> None:
    """The error says where a text stops being a numeral, and one nearby that is."""
    with pytest.raises(NotationError) as caught:
        Numeral.parse(text)
    error = caught.value
    assert (error.what, error.text, error.position) == ("numeral", text, position)
    if nearest is not None:
        assert error.nearest == nearest
    assert error.nearest is None or Numeral.parse(error.nearest)
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


@pytest.mark.parametrize("degree", ["8", "bb7", "##4", "9"])
def test_degrees_out_of_range_are_refused(degree: str) -> None:
    """Roots, targets and basses lie within the octave, with one sign at most."""
    with pytest.raises(ConditionError, match="degree from 1 to 7"):
        Numeral(Degree(degree), QUALITIES["7"])
    with pytest.raises(ConditionError, match="degree from 1 to 7"):
        Numeral(Degree("1"), QUALITIES["7"], bass=Degree(degree))
    with pytest.raises(ConditionError, match="degree from 1 to 7"):
        Target(Degree(degree))
