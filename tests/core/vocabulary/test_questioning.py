"""Questions to grips: worked tables pass, each kind of fault is named, and other names found."""

import pytest

from gripwright import Chord, ConditionError, Note, find_voicings
from gripwright.vocabulary import grip_for, question, serves
from tests.core.neck.reference import frets_of, rows
from tests.core.vocabulary.players import GUITAR, grip


@pytest.mark.parametrize(
    "row", rows("voicings.tsv"), ids=lambda row: f"{row['chord']} {row['frets']}"
)
def test_worked_voicings_express_their_chords(row: dict[str, str]) -> None:
    """Every row of voicings.tsv (common practice) is admitted for its symbol."""
    assert question(grip(row["chord"], row["frets"])) is None


@pytest.mark.parametrize(
    "row", rows("first-grips.tsv"), ids=lambda row: f"{row['chord']} {row['frets']}"
)
def test_first_grips_express_their_chords(row: dict[str, str]) -> None:
    """So is every row of first-grips.tsv (common practice)."""
    assert question(grip(row["chord"], row["frets"])) is None


@pytest.mark.parametrize(
    "row", rows("equivalences.tsv"), ids=lambda row: f"{row['shape']}+{row['semitones_up']}"
)
def test_a_grip_serves_what_the_table_of_equivalences_says(row: dict[str, str]) -> None:
    """Where the missing tones are not essential, the grip is offered under the other quality."""
    up = int(row["semitones_up"])
    chord = Chord.parse(f"C{row['shape']}")
    target = Chord(Note("C"), Chord.parse(f"C{row['serves_as']}").quality)
    missing = set(row["missing"].split())
    essential = any({*group} <= missing for group in target.essential)
    full = find_voicings(chord, GUITAR, no_open=True).where(
        tones=len({degree.pitch_class for degree in chord.degrees})
    )
    offered = {
        ((other.chord.root.pitch_class - chord.root.pitch_class) % 12, other.chord.quality.name)
        for other in serves(grip_for(chord, GUITAR, full[0].frets))
    }
    assert ((up, target.quality.name) in offered) == (not essential)


def test_a_wrong_symbol_is_questioned_with_better_ones() -> None:
    """The seventh of C7 entered as Cmaj7: what is missing, what is foreign, what it could be."""
    asked = question(grip("Cmaj7", "x-3-5-3-5-x"))
    assert asked is not None
    assert asked.missing == (("7",),)
    assert [str(note) for note in asked.foreign] == ["Bb"]
    assert asked.could_be[0].symbol == "C7"
    assert "could be C7" in asked.sentence


def test_each_name_that_a_question_offers_is_unquestioned() -> None:
    """What a question proposes stands up to being asked itself."""
    for shape in ("x-3-5-3-5-x", "3-x-3-4-3-x", "x-2-3-2-3-x", "x-x-0-2-3-2"):
        asked = question(grip("Ebm(maj7)", shape))
        assert asked is not None
        for name in asked.could_be:
            assert question(grip(name.symbol, shape)) is None, name.symbol


def test_a_tension_is_admitted_and_an_avoided_tone_is_not() -> None:
    """The ninth colours Dm7; the flat ninth hides it (common practice)."""
    assert question(grip("Dm7", "x-5-3-5-5-x")) is None
    asked = question(grip("Dm7", "x-5-7-5-4-x"))
    assert asked is not None
    assert [str(note) for note in asked.foreign] == ["Eb"]


def test_the_note_after_the_slash_must_be_lowest() -> None:
    """C/E with C lowest is asked about; with E lowest it is not."""
    asked = question(grip("C/E", "x-3-2-0-1-0"))
    assert asked is not None
    assert str(asked.wrong_bass) == "C"
    assert "the lowest note is C and not E" in asked.sentence
    assert question(grip("C/E", "0-3-2-0-1-0")) is None
    assert question(grip("F/G", "3-x-3-2-1-1")) is None


def test_a_grip_without_a_name_says_so() -> None:
    """No chord of the table has four semitones side by side."""
    asked = question(grip("C", "8-4-0-8-x-x"))
    assert asked is not None
    assert asked.could_be == ()
    assert "no chord of the table has its tones" in asked.sentence


def test_the_own_chord_comes_first_and_once() -> None:
    """A grip is offered under its own chord first, and under no sound twice."""
    offered = [str(other.chord) for other in serves(grip("C6", "x-3-5-2-5-x"))]
    assert offered[0] == "C6"
    assert "Am7" in offered
    assert len(set(offered)) == len(offered)


@pytest.mark.parametrize("shape", ["x-3-5", "x-3-5-4-5-99", "x-x-x-x-x-x"])
def test_frets_that_are_none_are_refused(shape: str) -> None:
    """Too few strings, a fret beyond the neck, and silence."""
    with pytest.raises(ConditionError, match="frets"):
        grip_for(Chord.parse("C"), GUITAR, frets_of(shape))
