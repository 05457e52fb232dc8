"""Numerals against music21's (BSD), where its reading is the trade's.

Agreed: minor sevenths on any degree, the dominant of V, applied dominants and seconds, diminished
and half-diminished sevenths, capitals on II, III and VI. music21 reads what the seventh of a key
gives, so that its I7, IV7 and bVII7 are major sevenths, a figure 6 as an inversion, a bare numeral
as a triad, and the sixth and seventh degree of a minor key from natural minor: there the trade, and
we, read otherwise, which the second test holds fast.
"""

from __future__ import annotations

import pytest
from music21 import key as keys
from music21 import roman

from gripwright.tune import Key
from gripwright.tune.numeral import Numeral
from gripwright.tune.spelling import spelled

MAJOR = (
    *("ii7", "iii7", "vi7", "iv7", "v7", "V7", "IVmaj7", "II7", "III7", "VI7"),
    *("V7/ii", "V7/iii", "V7/IV", "V7/V", "V7/vi", "ii7/IV", "ii7/V"),
    *("vii/o7", "ii/o7", "viio7", "viio7/ii", "viio7/V", "#io7", "#ivo7"),
)
MINOR = ("i7", "iv7", "V7", "ii/o7", "viio7", "V7/V", "V7/iv")
TONICS = "C F Bb Eb Ab G D A E B".split()  # noqa: SIM905 - reads plainly


def their_notes(figure: str, tonic: str) -> list[str]:
    """Spell a figure by music21, which writes flats as hyphens."""
    numeral = roman.RomanNumeral(figure, keys.Key(tonic[0] + tonic[1:].replace("b", "-")))
    return [pitch.name.replace("-", "b") for pitch in numeral.pitches]


def our_notes(figure: str, key: Key) -> list[str]:
    """Spell the same numeral in our notation."""
    numeral = Numeral.parse(figure.replace("/o", "ø").replace("o7", "dim7"))
    return [str(note) for note in numeral.realise(key).notes]


@pytest.mark.parametrize("figure", MAJOR)
@pytest.mark.parametrize("tonic", TONICS)
def test_numerals_in_major_keys_have_the_same_notes(figure: str, tonic: str) -> None:
    """Spelled alike, wherever the root needs no other name than the degree gives it."""
    theirs, ours = their_notes(figure, tonic), our_notes(figure, Key.parse(tonic))
    root = Key.parse(tonic)
    numeral = Numeral.parse(figure.replace("/o", "ø").replace("o7", "dim7"))
    literal = root.tonic + numeral.degree.interval
    if numeral.target is not None:
        literal += numeral.target.degree.interval
    assert theirs[0] == str(literal)
    if spelled(literal, root) == literal:
        assert ours == theirs


@pytest.mark.parametrize("figure", MINOR)
@pytest.mark.parametrize("tonic", "a d g c f e b f# c#".split())  # noqa: SIM905 - reads plainly
def test_numerals_in_minor_keys_have_the_same_notes(figure: str, tonic: str) -> None:
    """Small tonics are music21's minor keys."""
    assert our_notes(figure, Key.parse(f"{tonic.capitalize()}m")) == their_notes(figure, tonic)


@pytest.mark.parametrize(
    ("figure", "theirs", "ours"),
    [("I7", "C E G B", "C E G Bb"), ("bVII7", "Bb D F A", "Bb D F Ab"), ("ii", "D F A", "D F A C")],
)
def test_where_the_trade_reads_otherwise(figure: str, theirs: str, ours: str) -> None:
    """A plain seventh after capitals is a dominant, and a bare numeral a seventh chord."""
    assert their_notes(figure, "C") == theirs.split()
    assert our_notes(figure, Key.parse("C")) == ours.split()
