"""Lead sheets read: every kind, degrees, the form, the melody, and what files get wrong."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest

from gripwright import Chart, Chord
from gripwright.errors import LeadSheetError
from gripwright.tune.leadsheet import LeadSheet, read_leadsheet
from tests.core.tune.leadsheet_files import (
    ATTRIBUTES,
    SAMPLES,
    degree,
    harmony,
    note,
    rest,
    score,
    words,
)

KINDS: Final = Path(__file__).parents[2] / "data" / "musicxml-kinds.tsv"


def kinds() -> list[tuple[str, str]]:
    """The kinds of MusicXML 4.0 with the degrees that its schema's prose gives them."""
    lines = KINDS.read_text(encoding="utf-8").splitlines()[2:]
    return [(kind, degrees) for kind, degrees in (line.split("\t") for line in lines)]


def one(element: str) -> tuple[Chord | None, tuple[str, ...]]:
    """The chord of one harmony element, and the warnings."""
    sheet = read_leadsheet(score(element + rest()))
    return sheet.chart.bars[0].slots[0].symbol, sheet.warnings


def played(sheet: LeadSheet) -> list[str]:
    """The chords in the order in which they are played."""
    return [str(span.symbol or "N.C.") for span in sheet.chart.unfolded().spans]


# Kinds


def test_there_are_33_kinds() -> None:
    """The table is the schema's whole enumeration."""
    assert len(kinds()) == 33


# The trade's 11 and 13 leave out what the literal stack of the schema has (trade's practice).
LEFT_OUT: Final = {
    "dominant-11th": {"3"},
    "dominant-13th": {"11"},
    "major-13th": {"11"},
}


@pytest.mark.parametrize(("kind", "degrees"), [row for row in kinds() if row[1].startswith("1 ")])
def test_kind_has_the_degrees_of_the_schema(kind: str, degrees: str) -> None:
    """MusicXML 4.0, kind-value; but for what the trade leaves out of 11 and 13."""
    if kind == "pedal":
        degrees = "1"
    chord, warnings = one(harmony(kind, root="E", alter=-1))
    assert chord is not None
    assert str(chord.root) == "Eb"
    left_out = set(degrees.split()) - set(chord.degrees)
    assert set(chord.degrees) <= set(degrees.split())
    if kind in LEFT_OUT:
        assert left_out == LEFT_OUT[kind]
    elif kind not in {"major-11th", "minor-13th"}:
        assert not left_out
    assert chord == Chord.parse(str(chord))
    assert not warnings


@pytest.mark.parametrize(
    ("kind", "symbol"),
    [
        ("dominant-11th", "C11"),
        ("major-11th", "Cmaj11"),
        ("minor-11th", "Cm11"),
        ("dominant-13th", "C13"),
        ("major-13th", "Cmaj13"),
        ("minor-13th", "Cm13"),
    ],
)
def test_high_stacks_are_the_trade_symbols(kind: str, symbol: str) -> None:
    """What a program writes for C13 is C13 (common practice)."""
    assert one(harmony(kind))[0] == Chord.parse(symbol)


@pytest.mark.parametrize(
    ("kind", "symbol"),
    [
        ("Neapolitan", "Ab"),
        ("Italian", "Ab7no5"),
        ("French", "Ab7b5"),
        ("German", "Ab7"),
        ("Tristan", "Abm7b5"),
    ],
)
def test_kinds_without_tones_are_read_with_a_warning(kind: str, symbol: str) -> None:
    """The schema does not say their tones; the chord on the root that sounds like them is read."""
    chord, warnings = one(harmony(kind, root="A", alter=-1))
    assert chord == Chord.parse(symbol)
    assert len(warnings) == 1
    assert warnings[0].startswith("bar 1: ")


def test_kind_pedal_is_the_root_alone() -> None:
    """A pedal point is one tone."""
    chord, _ = one(harmony("pedal"))
    assert chord is not None
    assert chord.degrees == ("1",)


def test_kind_none_is_no_chord() -> None:
    """N.C. takes the place of the chord before."""
    sheet = read_leadsheet(score(harmony("major") + rest(), harmony("none") + rest()))
    assert played(sheet) == ["C", "N.C."]


def test_kind_other_is_its_degrees() -> None:
    """All tones are given by degrees."""
    tones = degree(3, 0, "add") + degree(5, 0, "add") + degree(7, 0, "add") + degree(9, 1, "add")
    assert one(harmony("other", more=tones)) == (Chord.parse("C7#9"), ())


def test_kind_other_without_degrees_is_its_text() -> None:
    """What the program shows is all that it says."""
    chord, warnings = one(harmony("other", text="7alt"))
    assert chord == Chord.parse("C7alt")
    assert warnings == ("bar 1: the kind '7alt' is not of MusicXML; read as C7alt",)


@pytest.mark.parametrize(
    ("kind", "symbol"),
    [
        ("maj7", "Cmaj7"),
        ("m7b5", "Cm7b5"),
        ("min7", "Cm7"),
        ("7", "C7"),
        ("min", "Cm"),
        ("maj", "C"),
        ("dominant-seventh", "C7"),
        ("Dominant", "C7"),
        ("MAJOR SEVENTH", "Cmaj7"),
        ("half_diminished", "Cm7b5"),
        ("minor-major", "CmMaj7"),
        ("suspended", "Csus4"),
        ("7sus4", "C7sus4"),
        ("9#11", "C9#11"),
    ],
)
def test_kinds_outside_the_schema_are_read_with_a_warning(kind: str, symbol: str) -> None:
    """Files carry symbols, other spellings and other cases."""
    chord, warnings = one(harmony(kind))
    assert chord == Chord.parse(symbol)
    assert len(warnings) == 1
    assert warnings[0].startswith(f"bar 1: the kind {kind!r} is not of MusicXML; read as ")


def test_kind_without_text_falls_back_on_what_is_shown() -> None:
    """An empty kind with a text attribute is that text."""
    assert one(harmony("", text="m9"))[0] == Chord.parse("Cm9")
    assert one(harmony("weird", text="m9"))[0] == Chord.parse("Cm9")


def test_kind_that_nobody_can_read_keeps_root_and_fifth() -> None:
    """No third is made up."""
    chord, warnings = one(harmony("weird"))
    assert chord == Chord.parse("C5")
    assert warnings == ("bar 1: the kind 'weird' cannot be read; root and fifth alone are kept",)


def test_text_that_says_another_chord_is_a_warning() -> None:
    """The kind counts; the doubt is reported with its bar."""
    sheet = read_leadsheet(
        score(harmony("major") + rest(), harmony("dominant", text="7alt") + rest())
    )
    assert sheet.chart.bars[1].slots[0].symbol == Chord.parse("C7")
    assert sheet.warnings == ("bar 2: the file shows C7alt but says C7, which is read",)


# Degrees, bass and roots


@pytest.mark.parametrize(
    ("kind", "changes", "symbol"),
    [
        ("dominant", [(9, -1, "add")], "C7b9"),
        ("dominant", [(9, -1, "alter")], "C7b9"),
        ("dominant", [(5, 1, "alter"), (9, 1, "add")], "C7#5#9"),
        ("dominant", [(5, 0, "subtract"), (5, -1, "add")], "C7b5"),
        ("dominant", [(5, -1, "add"), (5, 0, "subtract")], "C7b5"),
        ("dominant-13th", [(9, -1, "alter")], "C13b9"),
        ("dominant-13th", [(11, 1, "alter")], "C13#11"),
        ("dominant-13th", [(11, 1, "add")], "C13#11"),
        ("dominant-13th", [(11, 0, "subtract")], "C13"),
        ("dominant-ninth", [(5, 1, "alter")], "C9#5"),
        ("major", [(9, 0, "add")], "Cadd9"),
        ("major", [(2, 0, "add")], "Cadd9"),
        ("major", [(2, 0, "add"), (3, 0, "subtract")], "Csus2"),
        ("major", [(4, 0, "add"), (3, 0, "subtract")], "Csus4"),
        ("major", [(7, 1, "add")], "Cmaj7"),
        ("major", [(7, 0, "add")], "C7"),
        ("minor", [(7, 1, "add")], "CmMaj7"),
        ("minor", [(7, 0, "add")], "Cm7"),
        ("minor", [(9, 0, "add")], "Cm(add9)"),
        ("major-sixth", [(9, 0, "add")], "C6/9"),
        ("minor-seventh", [(5, -1, "alter")], "Cm7b5"),
        ("half-diminished", [(5, 1, "alter")], "Cm7"),
        ("suspended-fourth", [(7, 0, "add")], "C7sus4"),
        ("suspended-fourth", [(7, 0, "add"), (9, 0, "add")], "C9sus4"),
        ("suspended-fourth", [(2, 0, "add")], "Csus24"),
        ("dominant", [(3, 0, "subtract"), (4, 0, "add")], "C7sus4"),
        ("major", [(3, 0, "subtract")], "C5"),
        ("dominant", [(5, 0, "subtract")], "C7no5"),
        ("dominant", [(6, 0, "add")], "C7add13"),
        ("major-seventh", [(11, 1, "add")], "Cmaj7#11"),
        ("diminished", [(7, -1, "add")], "Cdim7"),
        ("diminished", [(7, 1, "add")], "Cdim(maj7)"),
    ],
)
def test_degrees_change_the_chord(
    kind: str, changes: list[tuple[int, int, str]], symbol: str
) -> None:
    """MusicXML 4.0: added degrees stand against a dominant chord, altered ones against the kind."""
    chord, warnings = one(harmony(kind, more="".join(degree(*change) for change in changes)))
    assert chord is not None
    assert chord.degrees == Chord.parse(symbol).degrees
    assert chord == Chord.parse(symbol)
    assert not warnings


def test_degrees_that_cannot_be_read_are_warnings() -> None:
    """The rest of the chord stands."""
    broken = degree(99, 0, "add") + degree(9, -1, "invent") + degree(9, 1, "add")
    chord, warnings = one(harmony("dominant", more=broken))
    assert chord == Chord.parse("C7#9")
    assert warnings == ("bar 1: a degree of a chord symbol that cannot be read is left out",)


def test_bass_and_inversion_are_the_bass() -> None:
    """A slash chord is written either way; the bass counts where both stand."""
    bass = "<bass><bass-step>G</bass-step><bass-alter>-1</bass-alter></bass>"
    assert one(harmony("dominant", more=bass))[0] == Chord.parse("C7/Gb")
    inverted = "<inversion>{}</inversion>"
    for number, name in ((0, "C7"), (1, "C7/E"), (2, "C7/G"), (3, "C7/Bb")):
        assert one(harmony("dominant", more=inverted.format(number)))[0] == Chord.parse(name)
    chord, warnings = one(harmony("major", more=inverted.format(7)))
    assert chord == Chord.parse("C")
    assert warnings == ("bar 1: C has no inversion 7; its root is the bass",)


def test_numeral_roots_are_read_in_their_key() -> None:
    """MusicXML 4.0 writes a root as a scale degree of a key."""
    numeral = (
        "<harmony><numeral><numeral-root>{}</numeral-root>{}</numeral><kind>{}</kind></harmony>"
    )
    assert one(numeral.format(2, "", "minor-seventh"))[0] == Chord.parse("Dm7")
    alter = "<numeral-alter>-1</numeral-alter>"
    assert one(numeral.format(7, alter, "major"))[0] == Chord.parse("Bb")
    key = "<numeral-key><numeral-fifths>-3</numeral-fifths><numeral-mode>minor</numeral-mode>"
    assert one(numeral.format(6, f"{key}</numeral-key>", "major"))[0] == Chord.parse("Ab")


def test_functions_are_left_out_with_a_warning() -> None:
    """A function as free text names no root."""
    element = "<harmony><function>V</function><kind>major</kind></harmony>"
    sheet = read_leadsheet(score(harmony("major") + rest(), element + rest()))
    assert played(sheet) == ["C"]
    assert sheet.warnings == ("bar 2: a chord symbol without a root that can be read is left out",)


def test_chords_stand_where_the_notes_and_offsets_put_them() -> None:
    """A chord before the third quarter, one by offset, and one after a backup."""
    late = "<offset>3</offset>"
    sheet = read_leadsheet(
        score(
            harmony("major")
            + note("C", 5, 4)
            + harmony("minor", root="D")
            + note("D", 5, 4)
            + "<backup><duration>8</duration></backup>"
            + harmony("dominant", root="G", more=late)
            + "<forward><duration>7</duration></forward>"
            + harmony("major", root="F")
            + "<forward><duration>1</duration></forward>"
        )
    )
    slots = [(str(slot.symbol), slot.onset) for slot in sheet.chart.bars[0].slots]
    assert slots == [
        ("C", 0),
        ("G7", Fraction(3, 2)),
        ("Dm", 2),
        ("F", Fraction(7, 2)),
    ]


def test_chords_at_one_place_share_its_time() -> None:
    """Some programs write both chords of a bar before its whole note."""
    sheet = read_leadsheet(score(harmony("major") + harmony("minor", root="D") + rest()))
    slots = [(str(slot.symbol), slot.onset) for slot in sheet.chart.bars[0].slots]
    assert slots == [("C", Fraction(0)), ("Dm", Fraction(2))]
    assert sheet.warnings == ("bar 1: 2 chords stand at one place; they share its time",)


def test_chords_of_a_transposing_part_are_read_at_concert_pitch() -> None:
    """A part for a B flat instrument sounds a major second lower: key, chords and melody."""
    transpose = (
        "<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
        "<key><fifths>2</fifths></key></attributes>"
    )
    sheet = read_leadsheet(score(transpose + harmony("dominant", root="E") + note("F", 5, 8)))
    assert played(sheet) == ["D7"]
    assert str(sheet.chart.key) == "C"
    assert str(sheet.melody[0].pitch) == "Eb5"


# The form


def test_repeats_endings_and_jumps_unfold() -> None:
    """The sample has a pickup, repeats, endings and D.S. al Coda; the walk is written by hand."""
    sheet = read_leadsheet((SAMPLES / "paper-boats.musicxml").read_bytes())
    assert not sheet.warnings
    assert sheet.chart == Chart.parse(
        "title: Paper Boats\nkey: F\nmetre: 4/4\ntempo: 132\nfeel: Medium Swing\npickup: 1\n"
        "| N.C. |\n"
        "[A]\n|: Segno Fmaj7 | Gm7 C7b9 |1. Fmaj7 | Am7b5 D7 :|2. F6 To Coda |\n"
        "[B]\n| Bbmaj7 | Eb7#11 | F6/C@1 D7@3.5 | Gm7 C13 D.S. al Coda |\n"
        "[Coda]\n| 2/4 Db7 | F6/9 |"
    )
    assert " ".join(played(sheet)) == (
        "N.C. Fmaj7 Gm7 C7b9 Fmaj7 Am7b5 D7 Fmaj7 Gm7 C7b9 F6 Bbmaj7 Eb7#11 F6/C D7 Gm7 C13 "
        "Fmaj7 Gm7 C7b9 F6 Db7 F6/9"
    )


def test_melody_of_the_sample_is_exact() -> None:
    """Pitches, onsets and tied durations, as the sample was written down by hand."""
    sheet = read_leadsheet((SAMPLES / "paper-boats.musicxml").read_bytes())
    found = [(str(n.pitch), n.bar, n.onset, n.duration) for n in sheet.melody[:6]]
    half = Fraction(1, 2)
    third = Fraction(1, 3)
    assert found == [
        ("C5", 0, 0, half),
        ("D5", 0, half, half),
        ("E5", 1, 0, 6),
        ("Bb4", 2, 2, third),
        ("A4", 2, 2 + third, third),
        ("G4", 2, 2 + 2 * third, third),
    ]


def test_melody_is_played_as_the_form_is() -> None:
    """A repeated bar sounds its notes again."""
    repeat = '<barline location="right"><repeat direction="backward"/></barline>'
    sheet = read_leadsheet(score(harmony("major") + note("C", 5, 8) + repeat))
    onsets = [(n.onset, n.bar) for n in sheet.played_melody()]
    assert onsets == [(Fraction(0), 0), (Fraction(4), 1)]


def test_melody_is_the_top_voice() -> None:
    """Inner voices, lower staves, grace and cue notes are no melody."""
    sheet = read_leadsheet(
        score(
            harmony("major")
            + "<note><grace/><pitch><step>B</step><octave>5</octave></pitch></note>"
            + note("C", 5, 4, "<voice>1</voice>")
            + "<note><chord/><pitch><step>G</step><octave>5</octave></pitch>"
            "<duration>4</duration><voice>1</voice></note>"
            + note("E", 5, 4, "<voice>1</voice>")
            + "<backup><duration>8</duration></backup>"
            + note("C", 6, 8, "<voice>2</voice>")
            + "<backup><duration>8</duration></backup>"
            + note("C", 7, 8, "<voice>1</voice><staff>2</staff>")
        )
    )
    assert [str(n.pitch) for n in sheet.melody] == ["G5", "E5"]


def test_timewise_scores_are_read_as_partwise_ones() -> None:
    """The same bars, sorted the other way."""
    bars = [harmony("major") + rest(), harmony("dominant", root="G") + rest()]
    measures = "".join(
        f'<measure number="{number}"><part id="P1">{ATTRIBUTES if number == 1 else ""}{bar}'
        "</part></measure>"
        for number, bar in enumerate(bars, 1)
    )
    timewise = f"<score-timewise>{measures}</score-timewise>"
    assert read_leadsheet(timewise.encode()) == read_leadsheet(score(*bars))


def test_signs_of_the_first_part_hold_for_the_chords_of_another() -> None:
    """Rehearsal marks and tempo stand above the score, chords may stand in the piano."""
    part = '<part id="{}"><measure number="1">{}</measure></part>'
    mark = "<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>"
    first = part.format("P1", ATTRIBUTES + mark + note("E", 5, 8))
    second = part.format("P2", ATTRIBUTES + harmony("major") + rest())
    sheet = read_leadsheet(f"<score-partwise>{first}{second}</score-partwise>".encode())
    assert sheet.chart.sections[0].name == "A"
    assert [str(n.pitch) for n in sheet.melody] == ["E5"]


def test_repeat_without_start_goes_back_over_sections() -> None:
    """MusicXML counts from the start of the tune, past rehearsal marks."""
    mark = "<direction><direction-type><rehearsal>{}</rehearsal></direction-type></direction>"
    end = '<barline location="right"><repeat direction="backward"/></barline>'
    sheet = read_leadsheet(
        score(
            mark.format("A") + harmony("major") + rest(),
            mark.format("B") + harmony("minor", root="D") + rest() + end,
            harmony("dominant", root="G") + rest() + end,
        )
    )
    assert played(sheet) == ["C", "Dm", "C", "Dm", "G7", "G7"]


@pytest.mark.parametrize(
    "marks",
    [
        # By sound alone, by words alone, and by signs without either.
        (
            '<direction><direction-type><segno/></direction-type><sound segno="s"/></direction>',
            '<direction><direction-type><coda/></direction-type><sound tocoda="c"/></direction>',
            '<sound dalsegno="s"/>',
            '<sound coda="c"/>',
        ),
        (words("Segno"), words("To Coda"), words("D.S. al Coda"), words("Coda")),
        (words("𝄋"), words("to 𝄌"), words("Dal Segno al Coda"), words("CODA")),
        (
            "<direction><direction-type><segno/></direction-type></direction>",
            "<direction><direction-type><coda/></direction-type></direction>",
            words("D. S. al Coda"),
            "<direction><direction-type><coda/></direction-type></direction>",
        ),
    ],
)
def test_jumps_are_read_from_sounds_words_and_signs(marks: tuple[str, str, str, str]) -> None:
    """All four ways of writing D.S. al Coda unfold alike."""
    segno, to_coda, jump, coda = marks
    sheet = read_leadsheet(
        score(
            harmony("major") + rest(),
            segno + harmony("minor", root="D") + rest(),
            harmony("minor", root="E") + to_coda + rest(),
            harmony("dominant", root="G") + rest() + jump,
            coda + harmony("major", root="F") + rest(),
        )
    )
    assert played(sheet) == ["C", "Dm", "Em", "G7", "Dm", "Em", "F"]
    assert not sheet.warnings


def test_fine_ends_the_tune_after_a_jump() -> None:
    """D.C. al Fine by words."""
    sheet = read_leadsheet(
        score(
            harmony("major") + rest() + words("Fine"),
            harmony("dominant", root="G") + rest() + words("D.C. al Fine"),
        )
    )
    assert played(sheet) == ["C", "G7", "C"]


def test_signs_that_lead_nowhere_are_left_out_with_a_warning() -> None:
    """A jump without its target, an ending without its repeat, a repeat without its end."""
    sheet = read_leadsheet(
        score(
            '<barline location="left"><ending number="1" type="start"/></barline>'
            + harmony("major")
            + rest(),
            harmony("dominant", root="G") + rest() + words("D.S. al Coda"),
        )
    )
    assert played(sheet) == ["C", "G7"]
    assert sheet.warnings
    assert all(warning.startswith(("bar 1: ", "bar 2: ")) for warning in sheet.warnings)


def test_bars_of_other_lengths_have_their_own_metre() -> None:
    """A bar split by a repeat is two short ones, which do not count as bars in the file."""
    data = score(harmony("major") + rest(), rest(2), harmony("minor", root="D") + rest(6))
    data = data.replace(b'<measure number="2">', b'<measure number="X1" implicit="yes">')
    data = data.replace(b'<measure number="3">', b'<measure number="3" implicit="yes">')
    sheet = read_leadsheet(data)
    assert [bar.length for bar in sheet.chart.written] == [4, 1, 3]
    assert not sheet.warnings


def test_keys_metres_and_tempi_change() -> None:
    """Each change that stays starts a section; 6/8 at 80 dotted quarters is 80 beats."""
    change = (
        "<attributes><key><fifths>-3</fifths><mode>minor</mode></key>"
        "<time><beats>6</beats><beat-type>8</beat-type></time></attributes>"
        "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/>"
        "<per-minute>c. 80</per-minute></metronome></direction-type></direction>"
    )
    sheet = read_leadsheet(
        score(
            harmony("major") + rest(),
            change + harmony("minor") + rest(6),
            harmony("minor", root="F") + rest(6),
        )
    )
    second = sheet.chart.sections[1].settings
    assert (str(second.key), str(second.meter), second.tempo_bpm) == ("Cm", "6/8", 80)


def test_bars_repeated_by_a_sign_are_filled() -> None:
    """A repeat sign over bars without chords repeats those before it."""
    start = '<attributes><measure-style><measure-repeat type="start">2</measure-repeat>'
    stop = '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>'
    sheet = read_leadsheet(
        score(
            harmony("major") + rest(),
            harmony("dominant", root="G") + rest(),
            f"{start}</measure-style></attributes>{rest()}",
            rest(),
            stop + harmony("major", root="F") + rest(),
        )
    )
    assert played(sheet) == ["C", "G7", "C", "G7", "F"]


def test_numbers_that_are_none_do_not_stop_the_reading() -> None:
    """Durations, octaves, fifths and metres of nonsense are passed over."""
    nonsense = (
        "<attributes><divisions>0</divisions><key><fifths>99</fifths></key>"
        "<time><beats>1000</beats><beat-type>7</beat-type></time></attributes>"
        "<note><pitch><step>H</step><octave>4</octave></pitch><duration>1e9</duration></note>"
        "<note><pitch><step>C</step><octave>-4</octave></pitch><duration>x</duration></note>"
        '<sound tempo="1e999"/><backup><duration>99999999999</duration></backup>'
    )
    sheet = read_leadsheet(score(harmony("major") + rest(), nonsense + harmony("minor") + rest()))
    assert played(sheet) == ["C", "Cm"]
    assert all(warning.startswith("bar 2: ") for warning in sheet.warnings)
    assert len(sheet.warnings) == 3


def test_a_score_without_chords_is_refused() -> None:
    """A melody alone is no lead sheet."""
    with pytest.raises(LeadSheetError, match="no chord symbols"):
        read_leadsheet(score(note("C", 5, 8)))
