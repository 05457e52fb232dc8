"""Spelling as an operation."""

import pytest

from gripwright import ChordSymbolError, Registry
from gripwright_server.operations.spell import SpellRequest, spell


def _no_registry() -> Registry:
    pytest.fail("spelling needs no plugin")


def test_rows_come_in_the_order_of_the_symbols() -> None:
    """One row a symbol, also for one that is given twice."""
    result = spell(SpellRequest(symbols=("G7", "C", "G7")), _no_registry)
    assert [row.symbol for row in result.rows()] == ["G7", "C", "G7"]
    assert (result.count, result.returned) == (3, 3)


def test_row_of_a_slash_chord_keeps_a_foreign_bass_apart() -> None:
    """The notes are those of the degrees; the bass stands beside them."""
    (row,) = spell(SpellRequest(symbols=("C/D",)), _no_registry).rows()
    assert row.notes == ("C", "E", "G")
    assert row.degrees == ("1", "3", "5")
    assert row.bass == "D"


@pytest.mark.parametrize(
    ("symbol", "notes"),
    [
        # Spelling tests computed from the interval arithmetic of the trade's reading.
        ("Cb7", "Cb Eb Gb Bbb"),
        ("Fdim7", "F Ab Cb Ebb"),
        ("F#7#5", "F# A# C## E"),
        ("Bbm7b5", "Bb Db Fb Ab"),
    ],
)
def test_notes_are_spelled_in_ascii(symbol: str, notes: str) -> None:
    """Machine text writes accidentals as b and #."""
    (row,) = spell(SpellRequest(symbols=(symbol,)), _no_registry).rows()
    assert " ".join(row.notes) == notes


def test_readings_are_options() -> None:
    """Each reading that a request can ask for changes the chord."""
    plain = spell(SpellRequest(symbols=("C13", "B", "Cdim")), _no_registry).rows()
    other = spell(
        SpellRequest(symbols=("C13", "B", "Cdim"), literal=True, german=True, dim_is_dim7=True),
        _no_registry,
    ).rows()
    assert [row.notes for row in plain] == [
        ("C", "E", "G", "Bb", "D", "A"),
        ("B", "D#", "F#"),
        ("C", "Eb", "Gb"),
    ]
    assert [row.notes for row in other] == [
        ("C", "E", "G", "Bb", "D", "F", "A"),
        ("Bb", "D", "F"),
        ("C", "Eb", "Gb", "Bbb"),
    ]


def test_warnings_stand_in_the_row_and_on_the_result() -> None:
    """A symbol that leaves something open says so in both places."""
    result = spell(SpellRequest(symbols=("C", "C2")), _no_registry)
    plain, open_symbol = result.rows()
    assert plain.warnings == ()
    assert open_symbol.warnings == result.warnings
    assert "Csus2" in result.warnings[0]


def test_one_unreadable_symbol_fails_the_request() -> None:
    """Nothing is answered in part."""
    with pytest.raises(ChordSymbolError) as caught:
        spell(SpellRequest(symbols=("C", "Cmaj77")), _no_registry)
    assert (caught.value.text, caught.value.position) == ("Cmaj77", 5)
