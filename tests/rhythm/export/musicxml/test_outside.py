"""Written scores against music21 and verovio.

music21 (BSD-3) reads the files: times, pitches, strings and frets, chord symbols, and repeats,
which its expander unfolds. It keeps durations to a denominator of 65535, and reads no release; the
drills here have neither.

verovio (LGPL) reads and draws them. It plays what it has read with repeats unfolded, swing not: its
times are those on paper. It draws no frames.
"""

from __future__ import annotations

from fractions import Fraction
from xml.etree import ElementTree as ET

import pytest
import verovio
from music21 import articulations, converter, harmony
from music21.chord import Chord as ReadChord
from music21.note import Note as ReadNote
from music21.stream import Part, PartStaff

from gripwright import Meter, Score
from gripwright_rhythm.export.musicxml import MusicXmlExporter
from tests.core.tune.test_leadsheet_writer import schema
from tests.rhythm.export.scores import INSTRUMENTS, drill

FORM = "key: Bb\n[A]\n| Cm7 F7 | Bbmaj7 | Ebmaj7@2 Am7b5@4 | D7b9 |"

DRILLS = {
    "long and short": drill(FORM, "1 2.5'", "2 4", choruses=3),
    "off the beat": drill(FORM, "1.5' 3.5", "all", choruses=2, swing=2),
    "anticipations": drill(FORM, "2 4.5>", "2 4", choruses=3),
    "triplets": drill(FORM, "1:1/3 2:2/3 3.5", "all", choruses=2, bass=True, root="held"),
    "compound": drill("metre: 12/8\n" + FORM, "1 2:2/3 4", "all", meter=Meter(12, 8), choruses=2),
    "a pickup": drill("pickup: 1\n| F7 | Bb6 | Gm7 |", "1 3!", "all", choruses=2),
    "ukulele": drill("| C | F G7 |", "1 3.5", "all", on=INSTRUMENTS["ukulele"], choruses=4),
    "bass": drill("| C |", "1", "all", on=INSTRUMENTS["bass"], conditions={"max_notes": 3}),
}

Times = list[tuple[Fraction, Fraction, tuple[int, ...]]]


def expected(score: Score, end: Fraction) -> Times:
    """Onset, length and pitches of each chord, from the first measure that is written."""
    start = score.end - end
    return [
        (
            score.written(event.onset) - start,
            score.written(event.end) - score.written(event.onset),
            tuple(sorted(event.voicing.midi)),
        )
        for event in score.events
    ]


@pytest.mark.parametrize("name", DRILLS)
def test_drills_are_valid(name: str) -> None:
    """W3C MusicXML 4.0."""
    for notation in ("tablature", "slashes"):
        schema().validate(MusicXmlExporter(notation=notation).export(DRILLS[name]).decode())


@pytest.mark.parametrize("name", DRILLS)
def test_music21_reads_the_same_chords(name: str) -> None:
    """Onsets, lengths and pitches on both staves, repeats unfolded and ties joined."""
    score = DRILLS[name]
    read = converter.parseData(MusicXmlExporter().export(score).decode(), format="musicxml")
    for staff in read.getElementsByClass(PartStaff):
        unfolded = staff.expandRepeats().stripTies()
        end = Fraction(unfolded.duration.quarterLength)
        found = [
            (
                Fraction(one.getOffsetInHierarchy(unfolded)),
                Fraction(one.quarterLength),
                tuple(sorted(pitch.midi for pitch in one.pitches)),
            )
            for one in unfolded.recurse().getElementsByClass((ReadChord, ReadNote))
            if not isinstance(one, harmony.Harmony)
        ]
        assert found == expected(score, end)


def test_music21_reads_strings_and_frets() -> None:
    """Of each note of the tablature."""
    score = DRILLS["long and short"]
    data = MusicXmlExporter(repeats=False).export(score).decode()
    staff = converter.parseData(data, format="musicxml").getElementsByClass(PartStaff)[1]
    found = []
    for one in staff.recurse().getElementsByClass(ReadChord):
        marks = [mark for note in one.notes for mark in (*note.articulations, *one.articulations)]
        strings = {
            mark.number for mark in marks if isinstance(mark, articulations.StringIndication)
        }
        frets = {mark.number for mark in marks if isinstance(mark, articulations.FretIndication)}
        if strings:
            found.append((strings, frets))
    wanted = [
        (set(event.voicing.string_set), {fret for fret in event.voicing.frets if fret >= 0})
        for event in score.events
    ]
    assert found == wanted


def test_music21_reads_the_chord_symbols() -> None:
    """Roots at their places, in every chorus."""
    score = DRILLS["long and short"]
    read = converter.parseData(MusicXmlExporter().export(score).decode(), format="musicxml")
    unfolded = read.getElementsByClass(Part)[0].expandRepeats()
    found = [
        (Fraction(one.getOffsetInHierarchy(unfolded)), one.root().name.replace("-", "b"))
        for one in unfolded.recurse().getElementsByClass(harmony.ChordSymbol)
    ]
    assert found == [
        (change.onset, str(change.chord.root)) for change in score.changes if change.chord
    ]


def drawn(data: bytes) -> verovio.toolkit:
    """Return a toolkit that has read a file."""
    toolkit = verovio.toolkit()
    toolkit.setOptions({"breaks": "none", "footer": "none", "header": "none"})
    assert toolkit.loadData(data.decode())
    return toolkit


@pytest.mark.parametrize("name", DRILLS)
def test_verovio_hears_the_same_onsets(name: str) -> None:
    """Where something starts to sound on paper, in quarters, written out in full."""
    score = DRILLS[name]
    toolkit = drawn(MusicXmlExporter(repeats=False, clicks=False).export(score))
    found = {round(step["qstamp"], 3) for step in toolkit.renderToTimemap() if step.get("on")}
    events = [*score.events, *score.bass, *score.root]
    first = min(*(event.onset for event in events), Fraction(0))
    start = score.bar_at(first).onset
    assert found >= {round(float(score.written(event.onset) - start), 3) for event in events}


def test_verovio_draws_what_is_there() -> None:
    """Symbols, frets, ties, staves and the brackets of endings stand in its picture."""
    score = DRILLS["anticipations"]
    svg = drawn(MusicXmlExporter().export(score)).renderToSVG(1)
    root = ET.fromstring(svg)  # noqa: S314 - drawn here
    texts = " ".join(root.itertext())
    for symbol in ("Cm7", "maj7", "play 2 times"):
        assert symbol in texts
    classes = [element.get("class", "") for element in root.iter()]
    assert classes.count("ending systemMilestone") + classes.count("ending") >= 1
    assert sum("tabGrp" in one for one in classes) >= len(score.events) // 2
    assert sum(one.startswith("tie") for one in classes) >= len(score.events) // 2
