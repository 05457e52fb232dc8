"""What stands in a MusicXML file, sign by sign."""

from __future__ import annotations

from fractions import Fraction
from xml.etree import ElementTree as ET

import attrs
import pytest

from gripwright import Chart, Chord, Instrument, Meter, RhythmPattern, Score, Voicing, lead
from gripwright.errors import ConditionError
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill
from gripwright_rhythm.export.musicxml import MusicXmlExporter
from gripwright_rhythm.export.musicxml.notation import Notation
from tests.rhythm.export.musicxml.reading import heard, named, part_of, played
from tests.rhythm.export.scores import GUITAR, INSTRUMENTS, chord, drill, one_bar


def read(score: Score, exporter: MusicXmlExporter | None = None) -> ET.Element:
    """Return the chords' part, as the exporter writes it, the usual one if not given."""
    return part_of((exporter or MusicXmlExporter()).export(score))


def texts(part: ET.Element, path: str) -> list[str]:
    """Return the texts of all elements at a path."""
    return [element.text or "" for element in part.findall(path)]


def repeats(part: ET.Element) -> list[tuple[str, str]]:
    """Return for each measure with a sign of repetition its number and the sign."""
    found = []
    for measure in part:
        for element in measure.iterfind("barline/*"):
            sign = {
                "repeat": f"{element.get('direction')} {element.get('times', '')}".strip(),
                "ending": f"[{element.get('number')} {element.get('type')}",
            }.get(element.tag)
            if sign:
                found.append((measure.attrib["number"], sign))
    return found


def test_each_chord_of_the_chart_has_a_symbol_with_its_grip() -> None:
    """At its place, in its words; the grip is drawn where it changes, and only there."""
    score = drill("| Dm7 G7 | G7 |", "1 3", count_in=0)
    symbols = named(read(score))
    assert [(one.onset, one.root, one.kind) for one in symbols] == [
        (Fraction(0), "D", "m7"),
        (Fraction(2), "G", "7"),
        (Fraction(4), "G", "7"),
    ]
    grips = [event.voicing for event in (score.events[0], score.events[1])]
    for symbol, grip in zip(symbols, grips, strict=False):
        assert symbol.frame == tuple(
            (len(grip.frets) - string, fret) for string, fret in enumerate(grip.frets) if fret >= 0
        )
    assert symbols[2].frame is None
    assert all(one.frame is None for one in named(read(score, MusicXmlExporter(frames=False))))


def test_a_frame_says_fingers_and_barres() -> None:
    """Fret 5 on four strings: the index lies over all of them, from the fifth fret on."""
    barre = Voicing(Chord.parse("Am7"), GUITAR, (5, -1, 5, 5, 5, -1))
    frame = read(one_bar([attrs.evolve(chord(0, 4), voicing=barre)])).find(".//frame")
    assert frame is not None
    assert frame.findtext("first-fret") == "5"
    assert texts(frame, "frame-note/string") == ["6", "4", "3", "2"]
    fingering = barre.fingering()
    assert texts(frame, "frame-note/fingering") == [str(one) for one in fingering.fingers if one]
    assert [one.attrib["type"] for one in frame.findall("frame-note/barre")] == [
        edge for _ in fingering.barres for edge in ("start", "stop")
    ]


def test_an_approach_is_named_and_an_anticipation_is_not() -> None:
    """An anticipated chord is named where it is due; its grip is drawn there."""
    score = drill("| Dm7 | G7 |", "1 4(above) | 1 4.5>", count_in=0, ending=False)
    names = [f"{one.root}{one.kind}@{one.onset}" for one in named(read(score))]
    assert names[:2] == ["Dm7@0", "Ab7@3"]
    assert names[2] == "G7@4"
    assert len(names) == len(score.changes) + sum(event.approach for event in score.events)


def test_choruses_alike_are_written_once() -> None:
    """With a repeat that says how often, and words that say it to the player."""
    part = read(drill("| Dm7 | G7 |", "1 3", choruses=4))
    assert len(part) == 2
    assert repeats(part) == [("1", "forward"), ("2", "backward 4")]
    assert any("play 4 times" in text for text in texts(part, ".//words"))
    assert len(played(part)) == 8


def test_the_last_chorus_has_an_ending_where_it_differs() -> None:
    """Brackets over what the passes do not share, then the bar that is aimed at."""
    chart = "| Dm7 | G7 | Cmaj7 | A7 |"
    score = drill(chart, "1 4.5>", choruses=3, ending=False)
    part = read(score)
    assert repeats(part) == [
        ("1", "forward"),
        ("4", "[1, 2 start"),
        ("4", "[1, 2 stop"),
        ("4", "backward 3"),
        ("5", "[3 start"),
        ("5", "[3 discontinue"),
    ]
    assert len(played(part)) == 12
    assert repeats(read(score, MusicXmlExporter(repeats=False))) == []


def test_choruses_in_other_keys_or_tempos_are_written_out() -> None:
    """A repeat would say that they are the same."""
    part = read(drill("| Dm7 | G7 |", "1", choruses=3, tempo_step=10))
    assert repeats(part) == []
    assert texts(part, ".//per-minute") == ["60", "70", "80"]
    lines = [lead(Chart.parse(f"key: {key}\n| {key} |"), GUITAR) for key in ("C", "F")]
    score = make_drill(lines, RhythmPattern.parse("1"), Click(), choruses=2)
    assert texts(read(score), ".//fifths") == ["0", "-1"]


def test_a_pickup_is_a_measure_that_does_not_count() -> None:
    """It stands before the repeat where later choruses leave it out."""
    part = read(drill("pickup: 1\n| G7 | C | C |", "1 3", choruses=3))
    assert [(one.get("number"), one.get("implicit")) for one in part][:2] == [
        ("X1", "yes"),
        ("1", None),
    ]


def test_the_count_in_is_words_or_bars() -> None:
    """Left out, it is said; written, its bars hold the clicks and count for nothing."""
    score = drill("| Dm7 |", "1", count_in=2)
    assert any("count-in: 2 bars" in text for text in texts(read(score), ".//words"))
    part = read(score, MusicXmlExporter(count_in=True))
    assert [one.get("number") for one in part] == ["X1", "X2", "1"]
    assert not any("count-in" in text for text in texts(part, ".//words"))


def test_swing_is_written_straight_and_said() -> None:
    """The and of a beat is an eighth; the ratio is a sound."""
    score = drill("| Dm7 |", "1 1.5", swing=Fraction(3, 2), count_in=0)
    part = read(score)
    assert texts(part, ".//swing/*") == ["3", "2", "eighth"]
    assert texts(part, "measure/attributes/divisions") == ["2"]
    assert any("Swing 3:2" in text for text in texts(part, ".//words"))
    eighths = drill("metre: 7/8\n| Dm7 |", "1 1.5", meter=Meter(7, 8), swing=2, count_in=0)
    assert texts(read(eighths), ".//swing/swing-type") == ["16th"]


def test_swing_of_other_notes_is_refused() -> None:
    """MusicXML knows swung eighths and sixteenths (swing-type-value)."""
    score = drill("metre: 2/2\n| Dm7 |", "1 1.5", meter=Meter(2, 2), swing=2)
    with pytest.raises(ConditionError, match=r"swing.*2/2.*MusicXML"):
        MusicXmlExporter().export(score)


def test_times_too_fine_are_refused() -> None:
    """Beyond 31 bits in a bar."""
    primes = (100_003, 100_019)
    events = [chord(Fraction(1, primes[0]), Fraction(1, primes[1]) + 1)]
    with pytest.raises(ConditionError, match=r"divisions.*31 bits"):
        MusicXmlExporter().export(one_bar(events))


def test_sevenths_of_a_beat_are_exact() -> None:
    """A duration is what sounds, whatever note shows it."""
    part = read(one_bar([chord(Fraction(1, 7), Fraction(11, 7))]))
    assert [(one.onset, one.end) for one in heard(part)] == [(Fraction(1, 7), Fraction(11, 7))]
    assert texts(part, ".//actual-notes")[0] == "7"


def test_a_compound_pulse_is_a_dotted_note() -> None:
    """Sixty dotted quarters are ninety quarters a minute."""
    part = read(drill("metre: 6/8\n| Dm7 |", "1", meter=Meter(6, 8)))
    assert texts(part, ".//beat-unit") == ["quarter"]
    assert len(part.findall(".//beat-unit-dot")) == 1
    sound = part.find(".//sound")
    assert sound is not None
    assert sound.attrib == {"tempo": "90"}


def test_a_staccato_fraction_is_a_release() -> None:
    """A quarter with a dot that is let go early, rather than a quintuplet."""
    score = drill("| Dm7 |", "1'", staccato=Fraction(7, 10), count_in=0)
    part = read(score)
    assert part.find(".//time-modification") is None
    assert part.find(".//staccato") is not None
    assert [(one.onset, one.end) for one in heard(part)] == [(Fraction(0), Fraction(7, 10))]


def test_dynamics_are_said_where_they_change() -> None:
    """An accent is no change."""
    events = [
        chord(0, 1, dynamic=80),
        chord(1, 2, dynamic=100, accent=True),
        chord(2, 3, dynamic=80),
        chord(3, 4, dynamic=49),
    ]
    part = read(one_bar(events))
    assert [one.tag for one in part.findall(".//dynamics/*")] == ["mf", "p"]
    assert len(part.findall("measure/note[staff='1']/notations/articulations/accent")) == 1


def test_sections_are_rehearsal_marks() -> None:
    """Where they start."""
    assert texts(read(drill("[A]\n| Dm7 |\n[B]\n| G7 |", "1")), ".//rehearsal") == ["A", "B"]


def test_a_metre_that_changes_is_said_again_after_a_repeat() -> None:
    """The first bar of a repeat is reached from the last one too."""
    chart = "[A]\n| Dm7 |\n[B]\nmetre: 3/4\n| G7 |"
    score = drill(chart, "1", choruses=2, count_in=1)
    assert texts(read(score, MusicXmlExporter(count_in=True)), ".//beats") == ["4", "4", "3"]


@pytest.mark.parametrize(
    ("name", "clef"),
    [
        ("guitar", ("G", "-1")),
        ("baritone-a", ("G", "-1")),
        ("twelve-string", ("G", "-1")),
        ("tenor", ("G", "-1")),
        ("bass", ("F", "-1")),
        ("bass-six", ("F", "-1")),
        ("ukulele", ("G", "")),
        ("mandolin", ("G", "")),
    ],
)
def test_clefs_suit_the_instrument(name: str, clef: tuple[str, str]) -> None:
    """Common practice."""
    own = INSTRUMENTS[name]
    part = read(one_bar([], instrument=own))
    found = part.find("measure/attributes/clef")
    assert found is not None
    assert (found.findtext("sign"), found.findtext("clef-octave-change", "")) == clef


@pytest.mark.parametrize("capo", [0, 3])
def test_a_tablature_is_tuned_as_the_instrument(capo: int) -> None:
    """Lines from below are strings from the bass side; a capo raises what the lines say."""
    own = INSTRUMENTS["guitar-drop-d"].with_capo(capo)
    details = read(one_bar([], instrument=own)).find("measure/attributes/staff-details")
    assert details is not None
    steps = [
        one.findtext("tuning-step", "") + one.findtext("tuning-octave", "")
        for one in details.findall("staff-tuning")
    ]
    assert steps == ["D2", "A2", "D3", "G3", "B3", "E4"]
    assert details.findtext("capo", "0") == str(capo)


@pytest.mark.parametrize(
    ("notation", "signs", "heads"),
    [
        ("tablature", ["G", "TAB"], 8),
        ("notes", ["G"], 4),
        ("slashes", ["G"], 1),
    ],
)
def test_a_notation_is_chosen(notation: Notation, signs: list[str], heads: int) -> None:
    """Notes with tablature, notes alone, or one slash a chord."""
    part = part_of(MusicXmlExporter(notation=notation).export(one_bar([chord(0, 4)])))
    assert texts(part, "measure/attributes/clef/sign") == signs
    assert len(part.findall("measure/note")) == heads
    assert len(part.findall(".//notehead[.='slash']")) == (notation == "slashes")


def test_an_unknown_notation_is_refused() -> None:
    """With those that there are."""
    with pytest.raises(ConditionError, match="tablature, notes or slashes"):
        MusicXmlExporter(notation="neumes")  # type: ignore[arg-type]


def test_what_xml_must_escape_is_read_back() -> None:
    """Title, words and an instrument's name."""
    own = attrs.evolve(Instrument.from_text("E2 A2 D3 G3 B3 E4"), name="five & a <half>")
    score = one_bar([], instrument=own, title='Tune & "Title" <1>\x00', rhythm="1 < 2")
    root = ET.fromstring(MusicXmlExporter().export(score))  # noqa: S314 - our own
    assert root.findtext("work/work-title") == 'Tune & "Title" <1>'
    assert root.findtext("part-list/score-part/part-name") == "five & a <half>"
    assert root.findtext(".//miscellaneous-field[@name='rhythm']") == "1 < 2"


def test_accidentals_hold_in_their_bar() -> None:
    """Signs of the key and of the bar are not said again; a tied note says none."""
    score = drill("key: F\n| Gm7 C7 | F6 |", "1 2 3", count_in=0)
    part = read(score)
    signature = {"B": -1}
    for measure in part:
        heard_here: dict[tuple[str, str], int] = {}
        for note in measure.findall("note[pitch][staff='1']"):
            place = note.findtext("pitch/step", ""), note.findtext("pitch/octave", "")
            alter = int(note.findtext("pitch/alter", "0"))
            usual = heard_here.get(place, signature.get(place[0], 0))
            assert (note.find("accidental") is not None) == (alter != usual)
            heard_here[place] = alter


def test_grips_that_the_player_places_have_frames() -> None:
    """Without a pattern each chord has its frame where its grip is new."""
    line = lead(Chart.parse("| Dm7 | G7 | G7 |"), INSTRUMENTS["guitar"], max_notes=4)
    root = read(make_drill(line, None))
    frames = [one.find("frame") is not None for one in root.findall(".//harmony")]
    same = line.steps[1].voicing == line.steps[2].voicing
    assert frames == [True, True, not same]
