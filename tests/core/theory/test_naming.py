"""Naming: worked cases. Where nothing else is said, the names are common practice."""

from __future__ import annotations

import pickle

import pytest

from gripwright import Chord, Note, Pitch, name_notes
from gripwright.errors import ConditionError
from gripwright.theory.naming import ChordName, intervals_above_bass
from tests.core.theory.naming_model import notes_of, pitches_of


def named(text: str, symbol: str, *, bass: str | None = None) -> ChordName:
    """Return the name of some notes that has this symbol."""
    stated = None if bass is None else Note.parse(bass)
    (found,) = (name for name in name_notes(notes_of(text), bass=stated) if name.symbol == symbol)
    return found


def symbols(notes: list[Note] | list[Pitch], bass: str | None = None) -> list[str]:
    """Return the symbols of all names, in order."""
    stated = None if bass is None else Note.parse(bass)
    return [name.symbol for name in name_notes(notes, bass=stated, spelled=False)]


def test_grip_of_em7_is_also_cmaj9_without_its_root() -> None:
    """One grip, two lives: both stand at the top of the list."""
    names = name_notes(pitches_of("E3 B3 D4 G4"), spelled=False)
    first, second, third, *_ = names
    assert (first.symbol, first.rooted, first.left_out) == ("Em7", True, ())
    assert first.degrees == ("1", "5", "b7", "b3")
    assert second.symbol == "G6/E"
    assert (third.symbol, third.rooted, third.left_out) == ("Cmaj9", False, ("1",))
    assert third.degrees == ("3", "7", "9", "5")


def test_abm6_as_g7b9b13_has_b_and_never_cb() -> None:
    """Each chord spells the notes anew, whatever they were written as."""
    name = named("Ab Cb Eb F", "G7b9b13")
    assert list(map(str, name.notes)) == ["Ab", "B", "Eb", "F"]
    assert name.degrees == ("b9", "3", "b13", "b7")
    assert name.left_out == ("1", "5")
    assert not name.rooted
    assert list(map(str, named("Ab Cb Eb F", "Abm6").notes)) == ["Ab", "Cb", "Eb", "F"]


@pytest.mark.parametrize(
    ("pitches", "first"),
    [
        ("C3 E3 G3", "C"),
        ("E3 G3 C4", "C/E"),
        ("G3 C4 E4", "C/G"),
        ("G4 C4 E4 C5", "C"),
        ("A2 C3 E3 G3", "Am7"),
        ("C3 E3 G3 A3", "C6"),
        ("B2 F3 A3 D4", "Bm7b5"),
        ("D3 F3 A3 B3", "Dm6"),
        ("B2 F3 Ab3 D4", "Bdim7"),
        ("C3 Eb3 F#3 A3", "Cdim7"),
        ("C3 Bb3 E4 A4", "C13"),
        ("C3 E3 Bb3 D#4", "C7#9"),
        ("C3 G3", "C5"),
        ("C3 G3 Bb3 F4", "C7sus4"),
        ("C3 E3 A3 D4 G4", "C6/9"),
        ("C3 E3 G#3", "Caug"),
    ],
)
def test_root_position_and_slash_come_from_the_lowest_pitch(pitches: str, first: str) -> None:
    """The lowest pitch decides between chords of the same notes, and stands after the slash."""
    assert symbols(pitches_of(pitches))[0] == first


def test_the_lowest_pitch_need_not_be_the_first() -> None:
    """A re-entrant instrument's first string may sound above its second."""
    assert symbols(pitches_of("G4 C4 E4"))[0] == "C"


def test_rootless_name_has_no_slash() -> None:
    """Where the root does not sound, whoever plays it plays below: E is no bass of Cmaj9."""
    assert "Cmaj9" in symbols(pitches_of("E3 B3 D4 G4"))
    assert "Cmaj9/E" not in symbols(pitches_of("E3 B3 D4 G4"))


def test_notes_without_octaves_leave_the_bass_open() -> None:
    """No slash is written, but of two full names the one on the first note comes first."""
    assert symbols(notes_of("A C E G"))[:2] == ["Am7", "C6"]
    assert symbols(notes_of("C E G A"))[:2] == ["C6", "Am7"]
    assert not [name for name in name_notes(notes_of("E G C")) if name.chord.bass]


def test_stated_bass_can_be_the_root_that_the_notes_lack() -> None:
    """A bass player's C under the grip of Em7 makes Cmaj9 whole."""
    first = name_notes(pitches_of("E3 B3 D4 G4"), bass=Note.parse("C"), spelled=False)[0]
    assert (first.symbol, first.rooted, first.left_out) == ("Cmaj9", True, ())
    assert first.degrees == ("3", "7", "9", "5")


def test_stated_bass_can_be_foreign() -> None:
    """C over D stays C/D; it is also D9sus4 without its fifth."""
    names = {name.symbol: name for name in name_notes(notes_of("C E G"), bass=Note.parse("D"))}
    assert next(iter(names)) == "C/D"
    assert names["C/D"].chord.foreign_bass
    assert names["C/D"].rooted
    assert names["D9sus4"].left_out == ("5",)
    assert names["D9sus4"].rooted
    assert not names["Cadd9/D"].chord.foreign_bass
    assert names["Cadd9/D"].left_out == ()


def test_stated_bass_stands_after_the_slash_of_a_rootless_chord() -> None:
    """What is stated is said: a bass player on the fifth of a rootless chord."""
    name = named("E B D", "Cmaj9/G", bass="G")
    assert not name.rooted
    assert name.left_out == ("1",)


def test_slash_of_a_chord_tone_is_spelled_for_the_chord() -> None:
    """A stated Db under A major is its third, C#; a foreign bass keeps its spelling."""
    name = named("A E", "A/C#", bass="Db")
    assert name.left_out == ()
    assert named("C E G", "C/F#", bass="F#").chord.bass == Note.parse("F#")
    assert named("C E G", "C/Gb", bass="Gb").chord.bass == Note.parse("Gb")


@pytest.mark.parametrize(
    ("notes", "first"),
    [
        ("F# A# C#", "F#"),
        ("Gb Bb Db", "Gb"),
        ("Cb Eb Gb", "Cb"),
        ("B# D## F##", "B#"),
        ("E# G# B D", "E#dim7"),
        ("F Ab Cb Ebb", "Fdim7"),
        ("D# F# A#", "D#m"),
        ("Bbb Db Fb", "Bbb"),
    ],
)
def test_root_agrees_with_the_spelling_of_the_notes(notes: str, first: str) -> None:
    """Whoever writes Gb Bb Db hears of Gb, not of F#."""
    assert name_notes(notes_of(notes))[0].symbol == first


@pytest.mark.parametrize(
    ("pitches", "first"),
    [
        ("C#3 F3 G#3", "Db"),
        ("Db3 E3 Ab3", "C#m"),
        ("A#3 D4 F4", "Bb"),
        ("C3 Eb3 Gb3 A3", "Cdim7"),
        ("F3 G#3 B3 D4", "Fdim7"),
        ("G#3 B3 D#4", "G#m"),
        ("G#3 C4 D#4 F#4", "Ab7"),
    ],
)
def test_notes_off_a_neck_get_the_root_with_the_fewest_accidentals(
    pitches: str, first: str
) -> None:
    """What frets sound has no spelling of its own, and natural roots stay natural."""
    assert symbols(pitches_of(pitches))[0] == first


@pytest.mark.parametrize(("bass", "first"), [("F#", "F#"), ("Gb", "Gb"), ("A#", "F#/A#")])
def test_root_agrees_with_the_spelling_of_a_stated_bass(bass: str, first: str) -> None:
    """A bass is always written by somebody, also under notes off a neck."""
    assert symbols(pitches_of("A#3 C#4 F#4"), bass)[0] == first


def test_triple_accidentals_are_never_written_where_another_root_avoids_them() -> None:
    """Cb alone could be the root of Cbdim7, which would have a Bbbb."""
    found = symbols_on(name_notes([Note.parse("Cb")]), "dim7")
    assert "Bdim7" in found
    assert "Cbdim7" not in found


def symbols_on(names: tuple[ChordName, ...], quality: str) -> set[str]:
    """Return the symbols of the names of one quality."""
    return {name.symbol for name in names if name.chord.quality.name == quality}


def test_name_without_an_essential_tone_says_so_and_comes_late() -> None:
    """C E G lacks the seventh of Cmaj7, and only the root of Am7."""
    names = {name.symbol: name for name in name_notes(pitches_of("C3 E3 G3"))}
    assert names["Cmaj7"].essential_left_out == ("7",)
    assert names["Cmaj9"].essential_left_out == ("7", "9")
    assert names["Am7"].essential_left_out == ()
    order = list(names)
    assert order.index("C") < order.index("Am7") < order.index("Cmaj7") < order.index("Cmaj9")


def test_of_an_essential_group_one_tone_is_enough() -> None:
    """C7alt with b9 and #5 lacks neither of its groups."""
    names = {name.symbol: name for name in name_notes(pitches_of("C3 E3 G#3 Bb3 Db4"))}
    assert names["C7alt"].left_out == ("b5", "#9")
    assert names["C7alt"].essential_left_out == ()
    less = {name.symbol: name for name in name_notes(pitches_of("C3 E3 Bb3 Db4"))}
    assert less["C7alt"].essential_left_out == ("b5", "#5")


@pytest.mark.parametrize(
    ("pitches", "earlier", "later"),
    [
        # Root and fifth are left to the bass player; a ninth or an eleventh is not.
        ("C3 C#3 G3", "A7#9", "Eb13"),
        ("C3 D3 E3 A3", "Bbmaj9#11", "Fmaj13"),
        ("C3 F#3 G#3 A3 B3", "Ab7b9#9/C", "D13#11"),
        # Without its root alone, a chord stands where its quality does.
        ("C3 D#3 F#3", "Ab7", "Ebm6/C"),
        ("C3 F3 G#3", "Dbmaj7", "Ab6/C"),
    ],
)
def test_rootless_name_that_lacks_more_than_its_fifth_comes_later(
    pitches: str, earlier: str, later: str
) -> None:
    """Nothing but root and fifth left out is as good as a root that sounds."""
    order = symbols(pitches_of(pitches))
    assert order.index(earlier) < order.index(later)


@pytest.mark.parametrize(
    ("notes", "first"), [("Gb A# Db", "Gb"), ("F# Bb C#", "F#"), ("C D# G A#", "Cm7")]
)
def test_notes_spelled_for_no_one_chord_get_a_root_of_their_own(notes: str, first: str) -> None:
    """Where no root agrees with every note, the chord is still that of the notes."""
    assert name_notes(notes_of(notes))[0].symbol == first


@pytest.mark.parametrize("note", ["C#", "Db", "G#", "Ab", "D#"])
def test_one_note_is_spelling_enough(note: str) -> None:
    """Whoever writes C# alone means no Db, though Db major has fewer accidentals."""
    assert named(note, note).notes == (Note.parse(note),)


@pytest.mark.parametrize(
    ("pitches", "quality", "order"),
    [
        ("C3 Eb3 Gb3 A3", "dim7", ["Cdim7", "D#dim7/C", "F#dim7/C", "Adim7/C"]),
        ("C3 E3 G#3", "aug", ["Caug", "Abaug/C", "Eaug/B#"]),
    ],
)
def test_symmetric_chord_is_named_on_each_tone_the_plainest_spelling_first(
    pitches: str, quality: str, order: list[str]
) -> None:
    """The bass is the first root; then fewer accidentals, then the nearer root, lead."""
    names = name_notes(pitches_of(pitches), spelled=False)
    found = [name.symbol for name in names if name.chord.quality.name == quality]
    assert found[: len(order)] == order


def test_literal_stack_comes_after_the_trades_reading() -> None:
    """13 with the 11 in it is listed, behind the 13 without."""
    order = symbols(pitches_of("C3 Bb3 E4 A4"))
    assert order.index("C13") < order.index("C13(literal)")


def test_literal_stack_comes_after_every_reading_that_fits_as_well() -> None:
    """Cmaj13 with its eleventh, whole and on its root, is no better a name than Dm13 over C."""
    order = [name.symbol for name in name_notes(pitches_of("C3 E3 G3 B3 D4 F4 A4"))]
    assert order == ["Dm13/C", "Fmaj13#11/C", "Cmaj13(literal)", "G13(literal)/C"]


def test_notes_given_twice_get_their_degree_twice() -> None:
    """Degrees stand in the order of the notes, one for each."""
    first = name_notes(pitches_of("C3 G3 C4 E4"))[0]
    assert first.degrees == ("1", "5", "1", "3")
    assert list(map(str, first.notes)) == ["C", "G", "C", "E"]


@pytest.mark.parametrize("text", ["C C# D", "E F Gb", "C Db D Eb E", "C C# D D# E F F# G"])
def test_chromatic_clusters_have_no_name(text: str) -> None:
    """No chord of the table holds three neighbouring semitones."""
    assert name_notes(notes_of(text)) == ()


def test_no_notes_are_refused() -> None:
    """Nothing has no name."""
    refusal = r"^notes cannot be \(\): expected one note or more$"
    with pytest.raises(ConditionError, match=refusal) as refused:
        name_notes([])
    assert (refused.value.name, refused.value.value) == ("notes", ())
    with pytest.raises(ConditionError, match=refusal):
        intervals_above_bass([])


def test_names_can_be_pickled() -> None:
    """A name is a value."""
    names = name_notes(pitches_of("C3 E3 G3"))
    assert pickle.loads(pickle.dumps(names)) == names
    assert names[0].chord == Chord.parse("C")


@pytest.mark.parametrize(
    ("text", "bass", "spelled", "expected"),
    [
        ("C Db D", None, True, "m2 M2"),
        ("C C# D F#", None, True, "A1 M2 A4"),
        ("C C# D F#", None, False, "m2 M2 d5"),
        ("C Cb", None, True, "d8"),
        ("C Cb", None, False, "M7"),
        ("C B# Dbb", None, True, ""),
        ("C4 Db3 D5", None, True, "M7 A15"),
        ("C4 C#3 D5", None, False, "M7 m16"),
        ("C3 C4 D4", None, True, "M9"),
        ("C Db D", "E", True, "m6 d7 m7"),
        ("C4 Db4 D4", "E", False, "m6 M6 m7"),
    ],
)
def test_intervals_are_told_from_the_lowest_note(
    text: str, bass: str | None, expected: str, *, spelled: bool
) -> None:
    """What has no name still has intervals: spelled ones, or plain ones off a neck."""
    notes = [Pitch.parse(w) if w[-1].isdigit() else Note.parse(w) for w in text.split()]
    stated = None if bass is None else Note.parse(bass)
    found = intervals_above_bass(notes, bass=stated, spelled=spelled)
    assert " ".join(map(str, found)) == expected
