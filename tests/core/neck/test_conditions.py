"""Conditions of a search: what each means, and which values are refused."""

from typing import Any

import pytest

from gripwright import Chord, Hand, Note, Pitch, VoicingTable, find_voicings
from gripwright.errors import ConditionError, RowBoundError
from gripwright.neck.conditions import Conditions
from tests.core.neck.reference import instrument

GUITAR = instrument("guitar")
CMAJ7 = Chord.parse("Cmaj7")


def search(**conditions: Any) -> VoicingTable:
    """Search Cmaj7 on the guitar with a hand that keeps the set small."""
    return find_voicings(CMAJ7, GUITAR, hand=Hand(reach_mm=80.0), **conditions)


def shapes(table: VoicingTable) -> set[tuple[int, ...]]:
    """Return the frets of a table."""
    return {tuple(row) for row in table.frets.tolist()}


def muted_inside(frets: tuple[int, ...]) -> list[int]:
    """Return the muted strings that lie between sounding ones."""
    sounding = [string for string, fret in enumerate(frets) if fret >= 0]
    return [i for i in range(sounding[0], sounding[-1]) if frets[i] < 0]


ALL = shapes(search())


def test_strum_wants_a_finger_beside_each_inner_mute() -> None:
    """A muted string between sounding ones is damped by the finger on a neighbouring string."""
    assert shapes(search(stroke="strum")) == {
        frets
        for frets in ALL
        if all(frets[i - 1] > 0 or frets[i + 1] > 0 for i in muted_inside(frets))
    }


@pytest.mark.parametrize("fingers", [4, 5])
def test_pluck_wants_a_finger_for_each_sounding_string(fingers: int) -> None:
    """The right hand plucks with four fingers, or with five."""
    assert shapes(search(stroke="pluck", pluck_fingers=fingers)) == {
        frets for frets in ALL if sum(fret >= 0 for fret in frets) <= fingers
    }


def test_pluck_fingers_matter_to_pluck_alone() -> None:
    """No other stroke counts the fingers of the right hand."""
    assert shapes(search(pluck_fingers=5)) == ALL
    assert shapes(search(stroke="strum", pluck_fingers=4)) == shapes(search(stroke="strum"))


def test_notes_are_counted_in_strings_and_tones_in_names() -> None:
    """A tone that sounds twice is two notes and one tone."""
    assert shapes(search(min_notes=5)) == {f for f in ALL if sum(x >= 0 for x in f) >= 5}
    assert shapes(search(max_notes=4)) == {f for f in ALL if sum(x >= 0 for x in f) <= 4}
    for voicing in search(min_tones=4):
        assert len(set(voicing.degrees)) == 4


def test_fewer_notes_than_usual_stand_when_asked_for() -> None:
    """Guide tones are two strings: a number asked for stands, the usual three does not."""
    pairs = search(min_notes=2, min_tones=2, max_notes=2)
    assert pairs
    assert {frozenset(voicing.degrees) for voicing in pairs} == {frozenset({"3", "7"})}


def test_a_power_chord_asks_for_its_own_two_tones() -> None:
    """The usual three is lowered where the chord has fewer tones."""
    table = find_voicings(Chord.parse("E5"), GUITAR)
    assert {len(set(voicing.degrees)) for voicing in table[:200]} == {2}
    assert (0, 2, -1, -1, -1, -1) in shapes(table)


def test_the_root_can_be_required_or_kept_out() -> None:
    """Between the two stand all voicings."""
    with_root, without = search(root="required"), search(root="none")
    assert all("1" in voicing.degrees for voicing in with_root)
    assert all("1" not in voicing.degrees for voicing in without)
    assert shapes(with_root) | shapes(without) == ALL


def test_fret_limits_leave_open_strings_alone() -> None:
    """They concern fretted notes: an open string is allowed above the fifth fret."""
    high = shapes(search(lowest_fret=5))
    assert high == {f for f in ALL if all(x >= 5 for x in f if x > 0)}
    assert any(0 in frets for frets in high)
    assert shapes(search(highest_fret=4)) == {f for f in ALL if max(f) <= 4}


def test_strings_are_numbered_from_the_treble_side() -> None:
    """Strings 5, 4, 3, 2 sound, and no other."""
    middle = shapes(search(strings=(5, 4, 3, 2)))
    assert middle == {f for f in ALL if [x >= 0 for x in f] == [False, *[True] * 4, False]}
    assert middle == shapes(search(strings=(2, 3, 4, 5)))
    assert (-1, 3, 5, 4, 5, -1) in middle


def test_flags_mean_what_they_say() -> None:
    """No open string; no muted string between sounding ones; no tone twice."""
    assert shapes(search(no_open=True)) == {f for f in ALL if 0 not in f}
    assert shapes(search(no_inner_mutes=True)) == {f for f in ALL if not muted_inside(f)}
    assert all(
        len(set(voicing.degrees)) == len(voicing.degrees) for voicing in search(no_doubles=True)
    )
    assert shapes(search(no_open=False, no_inner_mutes=False, no_doubles=False)) == ALL


@pytest.mark.parametrize("degree", ["1", "3", "5", "7"])
def test_bass_and_top_are_by_pitch(degree: str) -> None:
    """The lowest and the highest sounding pitch, whichever strings they are on."""
    for voicing in search(bass_degree=degree):
        assert min(zip(voicing.pitches, voicing.degrees, strict=True), key=_midi)[1] == degree
    for voicing in search(top_degree=degree):
        assert max(zip(voicing.pitches, voicing.degrees, strict=True), key=_midi)[1] == degree


def _midi(pair: tuple[Pitch, str]) -> int:
    return pair[0].midi


def test_on_a_ukulele_the_bass_is_not_the_first_string() -> None:
    """Re-entrant stringing: the lowest pitch of open C6 is the C of the third string."""
    ukulele = instrument("ukulele")
    c6 = Chord.parse("C6")
    assert (0, 0, 0, 0) in shapes(find_voicings(c6, ukulele, bass_degree="1"))
    assert (0, 0, 0, 0) not in shapes(find_voicings(c6, ukulele, bass_degree="5"))


def test_a_top_note_is_any_octave_and_a_top_pitch_is_one() -> None:
    """``top_note`` takes a note or a pitch."""
    notes = search(top_note=Note.parse("G"))
    assert {max(p.midi for p in voicing.pitches) % 12 for voicing in notes} == {7}
    pitches = search(top_note=Pitch.parse("G4"))
    assert {max(p.midi for p in voicing.pitches) for voicing in pitches} == {67}
    assert shapes(pitches) < shapes(notes)
    assert Conditions(top_note="G").top_note == Note.parse("G")
    assert Conditions(top_note="G4").top_note == Pitch.parse("G4")
    assert len(search(top_note=Note.parse("C#"))) == 0


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("stroke", "slap"),
        ("pluck_fingers", 3),
        ("pluck_fingers", 6),
        ("min_notes", 0),
        ("max_notes", 0),
        ("min_tones", 0),
        ("root", "maybe"),
        ("lowest_fret", -1),
        ("highest_fret", -1),
        ("max_notes", 17),
        ("min_tones", 13),
        ("min_tones", 3.0),
        ("min_tones", True),
        ("lowest_fret", "5"),
        ("strings", ()),
        ("strings", 5),
        ("strings", (5, "4")),
        ("strings", (7,)),
        ("strings", (0,)),
        ("strings", (1, 1)),
        ("row_bound", 0),
    ],
)
def test_a_bad_value_is_refused_by_name(name: str, value: object) -> None:
    """The error carries the condition, the value and what was expected, and names the condition."""
    with pytest.raises(ConditionError) as caught:
        search(**{name: value})
    assert caught.value.name == name
    assert caught.value.value == value
    assert caught.value.expected
    assert name in str(caught.value)


def test_choices_are_listed_in_the_refusal() -> None:
    """A reader sees what could have been said."""
    with pytest.raises(ConditionError, match=r": expected any or strum or pluck$"):
        search(stroke="slap")
    with pytest.raises(ConditionError, match=r": expected optional or required or none$"):
        search(root="maybe")


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("pluck_fingers", 6, "4 or 5"),
        ("max_notes", 17, "a whole number, 1 to 16"),
        ("min_tones", 0, "a whole number, 1 to 12"),
        ("strings", 5, "string numbers, such as (5, 4, 3, 2)"),
        ("strings", (17,), "different string numbers, 1 (treble side) to 16"),
        ("top_degree", "16", "a degree such as b3, 5 or #11"),
    ],
)
def test_the_range_is_told_in_the_refusal(name: str, value: object, expected: str) -> None:
    """A reader sees which numbers there are."""
    with pytest.raises(ConditionError) as caught:
        Conditions(**{name: value})  # type: ignore[arg-type]
    assert (caught.value.name, caught.value.expected) == (name, expected)


def test_the_ends_of_a_range_belong_to_it() -> None:
    """As few and as many as there can be."""
    ends = Conditions(min_notes=1, max_notes=16, min_tones=12, lowest_fret=0, highest_fret=48)
    assert (ends.min_notes, ends.max_notes, ends.min_tones) == (1, 16, 12)
    assert (ends.lowest_fret, ends.highest_fret) == (0, 48)


def test_an_unknown_condition_is_refused() -> None:
    """A condition that does not exist is a slip of the caller."""
    with pytest.raises(TypeError, match="no_such_condition"):
        search(no_such_condition=True)


def test_more_rows_than_the_bound_are_refused() -> None:
    """The refusal names the bound and says how to narrow; the bound itself is allowed."""
    assert len(search(row_bound=len(ALL))) == len(ALL)
    with pytest.raises(RowBoundError) as caught:
        search(row_bound=len(ALL) - 1)
    assert caught.value.bound == len(ALL) - 1
    assert caught.value.hint
