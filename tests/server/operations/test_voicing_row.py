"""The rows of a table, against the voicings that they stand for."""

from hypothesis import given
from hypothesis import strategies as st

import gripwright
from gripwright import Chord, Registry, Voicing, find_voicings, load_registry
from gripwright_server.http.encoding import row_encoder
from gripwright_server.operations.voicing_memory import BLOCK
from gripwright_server.operations.voicing_row import VoicingRow
from gripwright_server.operations.voicing_rows import VoicingRows

REGISTRY: Registry = load_registry()

encoded = row_encoder(VoicingRow)


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
    symbol=st.sampled_from(["C", "C/D", "Bbm7b5", "G7alt", "F#13", "Ebmaj7/D", "B#dim7"]),
    name=st.sampled_from(["guitar", "banjo", "ukulele", "bass-five", "guitar-dadgad", "bass"]),
    order=st.sampled_from(["teaching", "top"]),
    start=st.integers(0, 6000),
)
def test_rows_are_those_of_the_voicings(symbol: str, name: str, order: str, start: int) -> None:
    """What is kept from row to row changes nothing in any row, nor in its text."""
    table = find_voicings(Chord.parse(symbol), REGISTRY.instruments[name])
    ordered = table.order_by(gripwright.ranking.RANKINGS[order])
    start %= max(1, len(table))
    rows = VoicingRows(ordered)
    texts = list(rows.texts(start, start + 40))
    values = list(rows.values(start, start + 40))
    assert values == [_row_of(voicing) for voicing in ordered[start : start + 40]]
    assert texts == [encoded(row) for row in values]


def test_rows_go_on_from_block_to_block() -> None:
    """A table longer than a block gives every row once, in order."""
    table = find_voicings(Chord.parse("Cmaj7"), REGISTRY.instruments["guitar"])
    assert len(table) > 2 * BLOCK
    rows = VoicingRows(table)
    assert [row.id for row in rows.values()] == [voicing.id for voicing in table]
    assert list(rows.texts()) == [encoded(row) for row in rows.values()]


def test_pages_in_any_order_are_the_same() -> None:
    """What was let go is learnt again: more tables and blocks than are kept, each read twice."""
    symbols = ("C", "Dm7", "E7", "Fmaj7", "G9", "Am6", "Bm7b5", "Ab", "Gm11", "F13")
    tables = [find_voicings(Chord.parse(text), REGISTRY.instruments["guitar"]) for text in symbols]
    sources = [VoicingRows(table) for table in tables]
    for start in (9000, 0, 4090, 9000):
        for table, rows in zip(tables, sources, strict=True):
            expected = [voicing.id for voicing in table[start : start + 12]]
            assert [row.id for row in rows.values(start, start + 12)] == expected


def test_bass_and_top_of_a_reentrant_instrument_go_by_pitch() -> None:
    """Bass and top are those that sound lowest and highest, whatever string they are on."""
    table = find_voicings(Chord.parse("Am7"), REGISTRY.instruments["ukulele"])
    row = next(row for row in VoicingRows(table).values() if row.id == "ukulele:0-0-0-0")
    assert row.pitches == ("G4", "C4", "E4", "A4")
    assert (row.bass_degree, row.top_degree) == ("b3", "1")
    assert (row.notes, row.open_strings, row.left_out) == (4, 4, ())


def test_no_voicing_no_row() -> None:
    """An empty table has no rows."""
    table = find_voicings(Chord.parse("C"), REGISTRY.instruments["guitar"])
    assert list(VoicingRows(table[:0]).values()) == []
    assert list(VoicingRows(table[:0]).texts()) == []
