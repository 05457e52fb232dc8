"""The search against a general constraint solver, and against grips that players know.

Outside references: python-constraint2 (BSD), which is given the definition of "playable" as
constraints and knows nothing else; and tables of worked voicings and first grips, which are common
practice, with computed pitches.
"""

import pytest

from gripwright import Chord, Hand, Instrument, VoicingTable, find_voicings
from tests.core.neck.enumerator import neck_of, tones_of
from tests.core.neck.reference import CMAJ7, frets_of, instrument, rows
from tests.core.neck.solver_model import Model

WORKED = rows("voicings.tsv")
FIRST_GRIPS = rows("first-grips.tsv")

# A hand large enough for every worked voicing: F-C-A-E on frets 1-3-2-5 asks for 126 mm.
LARGE_HAND = Hand(reach_mm=130.0)


def shapes(table: VoicingTable) -> list[tuple[int, ...]]:
    """Return the frets of a table, row by row."""
    return [tuple(row) for row in table.frets.tolist()]


@pytest.mark.parametrize(("reach", "count"), [(105.0, 8_478), (110.0, 10_616), (115.0, 11_566)])
def test_cmaj7_on_the_guitar_is_the_solver_s_set(reach: float, count: int) -> None:
    """Cmaj7, six strings, 22 frets, 648 mm, four fingers: the same shapes, as many as published."""
    guitar = instrument("guitar")
    solved = Model(CMAJ7, neck_of(guitar), reach_mm=reach).solve()
    table = find_voicings(Chord.parse("Cmaj7"), guitar, hand=Hand(reach_mm=reach))
    assert len(solved) == count
    assert len(table) == count
    assert shapes(table) == sorted(solved)


@pytest.mark.parametrize(
    ("symbol", "name", "frets", "hand"),
    [
        ("F#m7b5", "ukulele", None, Hand()),
        ("F#m7b5", "ukulele", None, Hand(fingers=3, reach_mm=70.0)),
        ("G7", "seven-string", 9, Hand(reach_mm=105.0)),
        ("C/D", "banjo", 14, Hand(reach_mm=90.0)),
        ("G/F#", "banjo", 14, Hand(fingers=5, reach_mm=125.0)),
        ("Bbm6", "baritone-b", 12, Hand(reach_mm=120.0)),
        ("D/F#", "guitar-dadgad", 12, Hand()),
        ("A5", "guitar-drop-d", 14, Hand(fingers=2, reach_mm=150.0)),
        ("Ab13", "mandolin", None, Hand(fingers=5)),
        ("Ebdim7", "tenor", None, Hand(reach_mm=140.0)),
        ("E7alt", "guitar", 9, Hand(fingers=3)),
    ],
)
def test_other_chords_and_instruments_are_the_solver_s_sets(
    symbol: str, name: str, frets: int | None, hand: Hand
) -> None:
    """Other strings, late strings, foreign basses and hands: the same shapes again."""
    own = instrument(name, frets=frets)
    chord = Chord.parse(symbol)
    solved = Model(tones_of(chord), neck_of(own), hand.fingers, hand.reach_mm).solve()
    assert solved
    assert shapes(find_voicings(chord, own, hand=hand)) == sorted(solved)


def test_fanned_frets_are_the_solver_s_set() -> None:
    """A neck whose strings run from 660 to 635 mm, aligned at the seventh fret."""
    own = fanned_guitar()
    hand = Hand(reach_mm=100.0)
    chord = Chord.parse("Am9")
    solved = Model(tones_of(chord), neck_of(own), hand.fingers, hand.reach_mm).solve()
    assert solved
    assert shapes(find_voicings(chord, own, hand=hand)) == sorted(solved)


def fanned_guitar() -> Instrument:
    """Return a standard guitar whose frets fan out."""
    plain = instrument("guitar", frets=12)
    return Instrument(
        id="fanned",
        name="fanned",
        strings=tuple(
            type(string)(string.open, scale_mm=660.0 - 5 * index)
            for index, string in enumerate(plain.strings)
        ),
        frets=12,
        align_fret=7.0,
    )


@pytest.mark.parametrize("row", WORKED, ids=lambda row: f"{row['chord']} {row['frets']}")
def test_worked_voicings_are_found(row: dict[str, str]) -> None:
    """A worked voicing stands in the set, with the pitches and degrees that the table gives."""
    frets = frets_of(row["frets"])
    sounding = tuple(len(frets) - i for i, fret in enumerate(frets) if fret >= 0)
    table = find_voicings(
        Chord.parse(row["chord"]),
        instrument("guitar"),
        hand=LARGE_HAND,
        strings=sounding,
        min_notes=2,
        min_tones=2,
    )
    found = {voicing.frets: voicing for voicing in table}
    assert frets in found
    assert " ".join(str(pitch) for pitch in found[frets].pitches) == row["notes"]
    assert " ".join(found[frets].degrees) == row["degrees"]


@pytest.mark.parametrize("row", FIRST_GRIPS, ids=lambda row: f"{row['chord']} {row['frets']}")
def test_first_grips_are_found_by_an_ordinary_hand(row: dict[str, str]) -> None:
    """A grip that teachers show first needs no condition to be found."""
    table = find_voicings(Chord.parse(row["chord"]), instrument("guitar"))
    assert frets_of(row["frets"]) in shapes(table)
