"""The rows of a table, against the voicings that they stand for."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

import gripwright
from gripwright import Chord, Registry, Voicing, find_voicings, load_registry
from gripwright_server.operations.voicing_row import VoicingRow, voicing_rows

REGISTRY: Registry = load_registry()


def _fingers_of(voicing: Voicing) -> tuple[int | None, ...]:
    """The finger on each string of a voicing."""
    on = {string: press.finger for press in voicing.fingering().presses for string in press.strings}
    return tuple(on.get(string) for string in range(len(voicing.frets)))


def _row_of(voicing: Voicing) -> VoicingRow:
    """The row of one voicing by its own properties, one after the other."""
    return VoicingRow(
        id=voicing.id,
        frets=tuple(None if fret < 0 else fret for fret in voicing.frets),
        pitches=tuple(map(str, voicing.pitches)),
        degrees=tuple(map(str, voicing.degrees)),
        reach_mm=round(voicing.reach_mm, 1),
        presses=voicing.presses,
        fingers=_fingers_of(voicing),
        notes=len(voicing.pitches),
        open_strings=sum(fret == 0 for fret in voicing.frets),
        bass_degree=str(voicing.bass_degree),
        top_degree=str(voicing.top_degree),
        inversion=voicing.inversion,
        string_set=voicing.string_set,
        families=voicing.families,
        added=tuple(map(str, voicing.added)),
        left_out=tuple(map(str, voicing.left_out)),
    )


@given(
    symbol=st.sampled_from(["C", "C/D", "Bbm7b5", "G7alt", "F#13", "Ebmaj7/D"]),
    name=st.sampled_from(["guitar", "banjo", "ukulele", "bass-five", "guitar-dadgad"]),
    order=st.sampled_from(["teaching", "top"]),
    start=st.integers(0, 3000),
)
def test_rows_are_those_of_the_voicings(symbol: str, name: str, order: str, start: int) -> None:
    """What is kept from row to row changes nothing in any row."""
    table = find_voicings(Chord.parse(symbol), REGISTRY.instruments[name])
    ordered = table.order_by(gripwright.ranking.RANKINGS[order])
    part = ordered[start % max(1, len(table)) :][:40]
    for row, voicing in itertools.zip_longest(voicing_rows(part), part):
        assert row == _row_of(voicing)


def test_rows_go_on_from_block_to_block() -> None:
    """A table longer than a block gives every row once, in order."""
    table = find_voicings(Chord.parse("Cmaj7"), REGISTRY.instruments["guitar"])[:2500]
    assert [row.id for row in voicing_rows(table)] == [voicing.id for voicing in table]


def test_bass_and_top_of_a_reentrant_instrument_go_by_pitch() -> None:
    """Bass and top are those that sound lowest and highest, whatever string they are on."""
    table = find_voicings(Chord.parse("Am7"), REGISTRY.instruments["ukulele"])
    row = next(row for row in voicing_rows(table) if row.id == "ukulele:0-0-0-0")
    assert row.pitches == ("G4", "C4", "E4", "A4")
    assert (row.bass_degree, row.top_degree) == ("b3", "1")
    assert (row.notes, row.open_strings, row.left_out) == (4, 4, ())


def test_no_voicing_no_row() -> None:
    """An empty table has no rows."""
    table = find_voicings(Chord.parse("C"), REGISTRY.instruments["guitar"])
    assert list(voicing_rows(table[:0])) == []
