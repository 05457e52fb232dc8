"""Written lead sheets against the W3C schema and music21.

The schema is MusicXML 4.0 (W3C Community Final Specification Agreement), as the package
``musicxml`` carries it, under ``xmlschema``, which fetches nothing here.

music21 (BSD-3) reads the written chords. It agrees on root, bass and tones but for two ways of its
own, whose chords are listed by name: it stacks 13 literally, and reads an added degree 7 without
alteration as a major seventh, where the schema (degree-alter) makes it minor.
"""

from __future__ import annotations

import functools
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Final

import pytest
import xmlschema
from hypothesis import given, settings
from music21 import converter, harmony
from music21.stream import Score

from gripwright import Chart, Chord
from gripwright.laws.drawing import charts
from gripwright.theory import QUALITIES
from gripwright.tune.leadsheet import read_leadsheet
from gripwright.tune.leadsheet_writer import write_leadsheet
from tests.core.tune.leadsheet_files import SAMPLES

TUNE: Final = (
    "title: Test & <Tune>\nkey: Bbm\nmetre: 3/4\ntempo: 90\nfeel: waltz\npickup: 1\n| N.C. |\n"
    "[A]\n|: Segno Bbm7 / Eb7b9 | C7alt@2.5 | % |1. F7 :|2. Db6/9/F To Coda |\n"
    "[B]\nkey: Db\nmetre: 6/8\ntempo: 60\n| Gbmaj7#11 Fine | Cm7b5 F7 | |: Bbm :| open\n"
    "| 3+2/8 Ab13 | F5 D.S. al Coda |\n[Coda]\n| Bbm6 |"
)


@functools.cache
def schema() -> xmlschema.XMLSchema10:
    """The schema, compiled once, from local files alone."""
    xsd = Path(str(files("musicxml"))) / "generate_classes" / "musicxml_4_0.xsd"
    own = Path(str(files("xmlschema"))) / "schemas"
    return xmlschema.XMLSchema10(
        str(xsd),
        locations={
            "http://www.w3.org/1999/xlink": str(own / "XLINK" / "xlink.xsd"),
            "http://www.w3.org/XML/1998/namespace": str(own / "XML" / "xml.xsd"),
        },
        allow="local",
        use_location_hints=False,
    )


def read_by_music21(data: bytes) -> Score:
    """The score as music21 reads it."""
    score = converter.parseData(data.decode(), format="musicxml")
    assert isinstance(score, Score)
    return score


def test_the_schema_refuses_what_is_wrong() -> None:
    """The check can fail: a kind of no schema is refused."""
    data = write_leadsheet(Chart.parse("| C |")).decode()
    assert schema().is_valid(data)
    assert not schema().is_valid(data.replace(">major<", ">maj<"))


def test_a_tune_with_everything_is_valid() -> None:
    """Signs, metres, keys, tempi and text that XML must escape."""
    schema().validate(write_leadsheet(Chart.parse(TUNE)).decode())


def test_the_samples_are_valid() -> None:
    """What the reader is tried with is MusicXML."""
    for sample in SAMPLES.iterdir():
        schema().validate(sample.read_text(encoding="utf-8"))


@settings(max_examples=20)
@given(charts(most_bars=3))
def test_every_written_chart_is_valid(chart: Chart[Chord]) -> None:
    """W3C MusicXML 4.0."""
    schema().validate(write_leadsheet(chart).decode())


def test_the_tune_with_everything_reads_back() -> None:
    """Sections, settings, signs and chords, written and read; ``%`` is written out."""
    chart = Chart.parse(TUNE.replace("%", "C7alt@2.5").replace("& <Tune>", "Tune"))
    assert str(read_leadsheet(write_leadsheet(chart)).chart) == str(chart)


# music21 stacks thirds literally below 13, and takes an added seventh for a major one.
MUSIC21_DIFFERS: Final = frozenset(
    {"13", "maj13", "7sus4", "9sus4", "13sus4", "7sus4b9", "13sus4b9"}
)


@pytest.mark.parametrize("suffix", [name for name in QUALITIES if name not in MUSIC21_DIFFERS])
def test_music21_reads_the_same_chord(suffix: str) -> None:
    """Root, bass and the pitch classes of all tones."""
    chord = Chord.parse(f"Eb{suffix}/G")
    score = read_by_music21(write_leadsheet(Chart.parse(f"| {chord} |")))
    read = score.recurse().getElementsByClass(harmony.ChordSymbol).first()
    assert read is not None
    assert read.root().name == "E-"
    assert read.bass().name == "G"
    classes = {pitch.pitchClass for pitch in read.pitches}
    assert classes == {note.pitch_class for note in chord.notes} | {7}


def test_music21_reads_the_same_places() -> None:
    """Offsets in the bar, bars, repeats, tempo, key and metre."""
    chart = Chart.parse("key: Eb\ntempo: 96\n|: Ebmaj7 Cm7@3.5 | Fm7@2 Bb7@4 :| N.C. |")
    score = read_by_music21(write_leadsheet(chart))
    found = [
        (symbol.root().name, Fraction(symbol.getOffsetInHierarchy(score)))
        for symbol in score.recurse().getElementsByClass(harmony.ChordSymbol)
        if not isinstance(symbol, harmony.NoChord)
    ]
    assert found == [("E-", 0), ("C", Fraction(5, 2)), ("F", 5), ("B-", 7)]
    assert len(list(score.recurse().getElementsByClass("Measure"))) == 3
    assert len(list(score.recurse().getElementsByClass(harmony.NoChord))) == 1
    assert score.recurse().getElementsByClass("MetronomeMark").first().number == 96
    assert score.recurse().getElementsByClass("KeySignature").first().sharps == -3
    # Written once, repeated once: five bars are played.
    assert len(list(score.expandRepeats().recurse().getElementsByClass("Measure"))) == 5


def test_bytes_are_the_same_in_every_run() -> None:
    """No date, no random id: the whole file of one bar, as it was first written."""
    expected = (SAMPLES.parent / "leadsheet-one-bar.musicxml").read_bytes()
    assert write_leadsheet(Chart.parse("key: F\n| Gm7 C13b9 |")) == expected


@pytest.mark.parametrize(
    "text",
    [
        "|: Dm7 | G7 |1. Em7 | A7 :|2. Cmaj7 | % |",
        "|: Dm7 |1. Em7 | A7 :|2. Fm7 | Bb7 :|3. C6 | % | G7 |",
        "[A]\n|: Dm7 | G7 |1,3. Em7 | A7 | % :|2,4. Cmaj7 | C6 :|\n[B]\n| Fm7 | Bb7 |",
    ],
)
def test_an_ending_of_several_bars_reaches_to_where_it_repeats(text: str) -> None:
    """Its bracket closes at the repeat; read back, the form is played in the same order."""
    chart = Chart.parse(text)
    data = write_leadsheet(chart)
    sheet = read_leadsheet(data)
    assert sheet.warnings == ()
    assert [span.symbol for span in sheet.chart.unfolded().spans] == [
        span.symbol for span in chart.unfolded().spans
    ]
    assert [bar.index for bar in sheet.chart.unfolded().bars] == [
        bar.index for bar in chart.unfolded().bars
    ]
    schema().validate(data.decode())


def test_music21_plays_endings_of_several_bars() -> None:
    """Eight bars as played, of six as written."""
    data = write_leadsheet(Chart.parse("|: Dm7 | G7 |1. Em7 | A7 :|2. Cmaj7 | C6 |"))
    played = read_by_music21(data).expandRepeats()
    roots = [symbol.root().name for symbol in played.recurse().getElementsByClass("ChordSymbol")]
    assert roots == ["D", "G", "E", "A", "D", "G", "C", "C"]
