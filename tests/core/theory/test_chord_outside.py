"""Chord tones against references outside this project: music21, mir_eval and MusicXML 4.0.

music21 (harmony.ChordSymbol, BSD-3) is asked for *spelled* tones.  It agrees on every suffix of
``MUSIC21_SUFFIXES`` on all 21 roots up to one accidental.  Its quirks: a flat root is written
with ``-`` (``B-7``; a ``b`` is misread), and its 11, 13 and M13 are the literal stack of thirds,
so these are compared with the literal reading; the trade's own reading differs on purpose and a
test says how.  It is not asked for ``13b9``, ``69`` and ``maj9``, which it reads wrongly.

mir_eval.chord (MIT) is asked for *twelve-bit sets* of Harte labels.  It knows no spelling.  In a
Harte label an extension adds and never replaces, so a replaced tone is taken out by ``*``.

MusicXML 4.0 (W3C Community Final Specification Agreement, kind-value) gives the degrees of its
kinds; those that its schema leaves undefined are listed by name.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

import mir_eval.chord as harte
import pytest
from music21 import harmony
from music21.interval import Interval as Music21Interval
from music21.pitch import Pitch as Music21Pitch

from gripwright import Chord, Degree
from gripwright.theory import QUALITIES
from tests.core.theory.strategies import ROOTS

DATA: Final = Path(__file__).parents[2] / "data"

MUSIC21_SUFFIXES: Final = (
    *("", "m", "7", "M7", "m7", "m7b5", "dim", "dim7", "aug", "6", "m6"),
    *("9", "M9", "m9", "11", "m11", "13", "M13", "m13", "sus4", "7sus4"),
    *("7b9", "7#9", "7#11", "7b9b13", "7#5#9", "6add9", "mM7"),
)
MUSIC21_STACKS_LITERALLY: Final = frozenset({"11", "13", "M13"})

# Our suffix, read as the trade does, and the Harte shorthand for the same tones.
HARTE_LABELS: Final = {
    "": "maj",
    "maj7": "maj7",
    "maj9": "maj9",
    "maj13": "maj9(13)",
    "maj7#11": "maj7(#11)",
    "maj7b5": "maj7(*5,b5)",
    "maj7#5": "maj7(*5,#5)",
    "6": "maj6",
    "6/9": "maj6(9)",
    "m": "min",
    "m7": "min7",
    "m9": "min9",
    "m11": "min11",
    "m13": "min13",
    "11": "9(*3,11)",
    "maj11": "maj9(11)",
    "m6": "min6",
    "m6/9": "min6(9)",
    "m(maj7)": "minmaj7",
    "m7b5": "hdim7",
    "dim": "dim",
    "dim7": "dim7",
    "7": "7",
    "9": "9",
    "13": "9(13)",
    "7b9": "7(b9)",
    "7#9": "7(#9)",
    "7b13": "7(b13)",
    "7#11": "7(#11)",
    "13b9": "7(b9,13)",
    "9#11": "9(#11)",
    "7b9b13": "7(b9,b13)",
    "7b5": "7(*5,b5)",
    "7#5": "aug(b7)",
    "7#5#9": "aug(b7,#9)",
    "7b5b9": "7(*5,b5,b9)",
    "9#5": "9(*5,#5)",
    "7alt": "7(*5,b5,#5,b9,#9)",
    "7sus4": "sus4(b7)",
    "9sus4": "sus4(b7,9)",
    "13sus4": "sus4(b7,9,13)",
    "7sus4b9": "sus4(b7,b9)",
    "sus4": "sus4",
    "sus2": "sus2",
    "aug": "aug",
    "add9": "maj(9)",
    "m(add9)": "min(9)",
    "5": "1(5)",
}
HARTE_LITERAL_LABELS: Final = {"11": "11", "13": "13", "maj13": "maj13", "maj11": "maj9(11)"}

# MusicXML kind: our suffix for it.
MUSICXML_KINDS: Final = {
    "major": "",
    "minor": "m",
    "augmented": "aug",
    "diminished": "dim",
    "dominant": "7",
    "major-seventh": "maj7",
    "minor-seventh": "m7",
    "diminished-seventh": "dim7",
    "augmented-seventh": "7#5",
    "half-diminished": "m7b5",
    "major-minor": "m(maj7)",
    "major-sixth": "6",
    "minor-sixth": "m6",
    "dominant-ninth": "9",
    "major-ninth": "maj9",
    "minor-ninth": "m9",
    "dominant-11th": "11",
    "major-11th": "maj11",
    "minor-11th": "m11",
    "dominant-13th": "13",
    "major-13th": "maj13",
    "minor-13th": "m13",
    "suspended-second": "sus2",
    "suspended-fourth": "sus4",
    "pedal": "no3no5",
    "power": "5",
}
MUSICXML_LITERAL_KINDS: Final = frozenset({"dominant-11th", "dominant-13th", "major-13th"})
MUSICXML_KINDS_WITHOUT_TONES: Final = frozenset(
    {"Neapolitan", "Italian", "French", "German", "Tristan", "other", "none"}
)


def musicxml_table() -> dict[str, str]:
    """Return the degrees column of the committed copy of the kind-value table, by kind."""
    lines = (DATA / "musicxml-kinds.tsv").read_text(encoding="utf-8").splitlines()
    rows = [line.split("\t") for line in lines if line and not line.startswith("#")]
    assert rows[0] == ["kind", "degrees"]
    return {kind: degrees for kind, degrees in rows[1:]}  # noqa: C416 - checks the row width


def music21_name(text: str) -> str:
    """Write a note of ours as music21 does, with a hyphen for a flat."""
    return text[0] + text[1:].replace("b", "-")


def pitch_classes(chord: Chord) -> set[int]:
    """Return the pitch classes of the chord's degrees."""
    return {note.pitch_class for note in chord.notes}


def harte_pitch_classes(root: str, shorthand: str) -> set[int]:
    """Return the pitch classes that mir_eval finds in a Harte label."""
    number, bitmap, _bass = harte.encode(f"{root}:{shorthand}", reduce_extended_chords=True)
    return {(int(number) + place) % 12 for place, on in enumerate(bitmap) if on}


@pytest.mark.parametrize("suffix", MUSIC21_SUFFIXES)
def test_spelled_tones_agree_with_music21(suffix: str) -> None:
    """The spelled tones of a symbol are those that music21 gives, on all 21 roots."""
    for root in ROOTS:
        theirs = harmony.ChordSymbol(music21_name(root) + suffix)
        ours = Chord.parse(root + suffix, literal=suffix in MUSIC21_STACKS_LITERALLY)
        assert music21_name(str(ours.root)) == theirs.root().name
        assert sorted(music21_name(str(note)) for note in ours.notes) == sorted(
            pitch.name for pitch in theirs.pitches
        )


@pytest.mark.parametrize(
    ("suffix", "only_theirs", "only_ours"),
    [("11", {"E"}, set()), ("13", {"F"}, set()), ("M13", {"F"}, set())],
)
def test_the_trades_reading_leaves_out_what_music21_stacks(
    suffix: str, only_theirs: set[str], only_ours: set[str]
) -> None:
    """A trade C11 has no third and a trade C13 and CM13 no eleventh, where music21 has both."""
    theirs = {pitch.name for pitch in harmony.ChordSymbol("C" + suffix).pitches}
    ours = {music21_name(str(note)) for note in Chord.parse("C" + suffix).notes}
    assert theirs - ours == only_theirs
    assert ours - theirs == only_ours


@pytest.mark.parametrize(
    "degree", sorted({degree for quality in QUALITIES.values() for degree in quality.degrees})
)
def test_degrees_of_the_quality_table_agree_with_music21_intervals(degree: Degree) -> None:
    """A degree above a root is the pitch that music21 reaches by the interval of that name."""
    theirs = Music21Interval(str(degree.interval))
    assert theirs.semitones == degree.semitones
    assert theirs.generic.staffDistance == degree.steps
    for root in ROOTS:
        base = Music21Pitch(name=music21_name(root), octave=4)
        chord = Chord.parse(root)
        ours = chord.root + degree.interval
        assert music21_name(str(ours)) == theirs.transposePitch(base, maxAccidental=None).name


@pytest.mark.parametrize("name", sorted(QUALITIES))
def test_tones_of_a_quality_are_its_degrees_above_the_root(name: str) -> None:
    """Every quality of the table spells its notes by music21's intervals from a sharp root."""
    quality = QUALITIES[name]
    chord = Chord(Chord.parse("F#").root, quality)
    base = Music21Pitch(name="F#", octave=3)
    expected = [
        Music21Interval(str(degree.interval)).transposePitch(base, maxAccidental=None).name
        for degree in quality.degrees
    ]
    assert [music21_name(str(note)) for note in chord.notes] == expected


@pytest.mark.parametrize("suffix", HARTE_LABELS)
def test_tones_agree_with_mir_eval(suffix: str) -> None:
    """The pitch classes of a symbol are those of its Harte label, on all 21 roots."""
    for root in ROOTS:
        ours = pitch_classes(Chord.parse(root + suffix))
        assert ours == harte_pitch_classes(root, HARTE_LABELS[suffix])


@pytest.mark.parametrize("suffix", HARTE_LITERAL_LABELS)
def test_literal_tones_agree_with_mir_eval(suffix: str) -> None:
    """The literal stack of a symbol is what mir_eval's own extended shorthand holds."""
    for root in ROOTS:
        ours = pitch_classes(Chord.parse(root + suffix, literal=True))
        assert ours == harte_pitch_classes(root, HARTE_LITERAL_LABELS[suffix])


@pytest.mark.parametrize(
    ("symbol", "label"),
    [("C/G", "C/5"), ("C7/Bb", "C:7/b7"), ("C/E", "C/3"), ("Am7/G", "A:min7/b7")],
)
def test_slash_bass_agrees_with_mir_eval(symbol: str, label: str) -> None:
    """A slash bass lies above the root by the semitones that mir_eval gives."""
    number, _bitmap, semitones = harte.encode(label, reduce_extended_chords=True)
    chord = Chord.parse(symbol)
    assert chord.bass is not None
    assert chord.bass.pitch_class == (int(number) + int(semitones)) % 12


def test_the_musicxml_table_has_33_kinds_each_mapped_or_listed() -> None:
    """Every kind of MusicXML 4.0 is either mapped to a symbol or listed as having no tones."""
    kinds = musicxml_table()
    assert len(kinds) == 33
    assert not MUSICXML_KINDS_WITHOUT_TONES & set(MUSICXML_KINDS)
    assert set(kinds) == MUSICXML_KINDS_WITHOUT_TONES | set(MUSICXML_KINDS)


def test_the_listed_kinds_have_no_tones_in_the_schema() -> None:
    """A kind that is listed, not mapped, has no degrees of its own in the schema's prose."""
    for kind in MUSICXML_KINDS_WITHOUT_TONES:
        assert not musicxml_table()[kind][0].isdigit()


@pytest.mark.parametrize("kind", MUSICXML_KINDS)
def test_degrees_agree_with_the_musicxml_kind(kind: str) -> None:
    """The degrees of a symbol are those of its MusicXML kind, on all 21 roots."""
    expected = musicxml_table()[kind].partition("(")[0].split()
    for root in ROOTS:
        chord = Chord.parse(root + MUSICXML_KINDS[kind], literal=kind in MUSICXML_LITERAL_KINDS)
        assert list(chord.degrees) == expected
