"""Tables of voicings: rows, columns, filters, orders and slices."""

from collections.abc import Iterable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Hand, Voicing, VoicingTable, find_voicings, ranking
from gripwright.errors import ConditionError
from gripwright.neck.diagram import table_html
from gripwright.neck.strain import StrainWeights
from tests.core.neck.reference import instrument
from tests.core.neck.searches import Search, searches

ORDERS = ("teaching", "ease", "position", "top", "notes")
CMAJ7 = find_voicings(Chord.parse("Cmaj7"), instrument("guitar"), hand=Hand(reach_mm=80.0))

# Rows enough to look at one by one.
MANY = 150

by_order = pytest.mark.parametrize("order", ORDERS)


def frets(voicings: Iterable[Voicing]) -> list[tuple[int, ...]]:
    """Return the frets of voicings, one by one."""
    return [voicing.frets for voicing in voicings]


def test_frets_are_an_array_of_rows() -> None:
    """One row a voicing, one column a string, a byte each, muted as -1."""
    assert isinstance(CMAJ7.frets, np.ndarray)
    assert CMAJ7.frets.dtype == np.int8
    assert CMAJ7.frets.shape == (len(CMAJ7), 6)
    assert CMAJ7.frets.min() == -1


def test_rows_are_voicings_of_python_numbers() -> None:
    """A row holds plain integers and strings, fit for JSON."""
    voicing = next(row for row in CMAJ7 if row.shape == "x-3-2-0-0-0")
    assert isinstance(voicing, Voicing)
    assert voicing.frets == (-1, 3, 2, 0, 0, 0)
    assert {type(fret) for fret in voicing.frets} == {int}
    assert [str(pitch) for pitch in voicing.pitches] == ["C3", "E3", "G3", "B3", "E4"]
    assert voicing.degrees == ("1", "3", "5", "7", "3")
    assert voicing.id == "guitar:x-3-2-0-0-0"
    assert voicing.presses == 2
    # 648 mm * (2^(-2/12) - 2^(-3/12))
    assert voicing.reach_mm == pytest.approx(32.4, abs=0.05)
    assert type(voicing.reach_mm) is float
    assert type(voicing.presses) is int


@given(searches(), st.data())
def test_a_table_is_a_sequence(search: Search, data: st.DataObject) -> None:
    """Length, iteration, places from both ends and slices agree with those of a list."""
    table = search.find()
    rows = list(table)
    assert len(rows) == len(table)
    assert frets(rows) == [tuple(row) for row in table.frets.tolist()]
    cut = data.draw(st.slices(len(rows)))
    assert frets(table[cut]) == frets(rows[cut])
    assert isinstance(table[cut], VoicingTable)
    if rows:
        place = data.draw(st.integers(-len(rows), len(rows) - 1))
        assert table[place] == rows[place]


def test_places_beyond_the_table_are_refused() -> None:
    """As in any sequence."""
    for place in (len(CMAJ7), -len(CMAJ7) - 1):
        with pytest.raises(IndexError):
            CMAJ7[place]


def counted(voicing: Voicing) -> dict[str, float | str]:
    """Return what each column should say of a voicing, worked out from its frets and degrees."""
    fretted = [fret for fret in voicing.frets if fret > 0]
    strings = [string for string, fret in enumerate(voicing.frets) if fret >= 0]
    return {
        "reach_mm": voicing.reach_mm,
        "presses": voicing.presses,
        "notes": len(strings),
        "tones": len({pitch % 12 for pitch in midi(voicing)}),
        "open_strings": voicing.frets.count(0),
        "inner_mutes": strings[-1] - strings[0] + 1 - len(strings),
        "lowest_fret": min(fretted, default=0),
        "highest_fret": max(fretted, default=0),
        "bass_midi": min(midi(voicing)),
        "top_midi": max(midi(voicing)),
        "bass_degree": degree_at(voicing, min(midi(voicing))),
        "top_degree": degree_at(voicing, max(midi(voicing))),
    }


@given(searches())
def test_columns_say_what_the_rows_say(search: Search) -> None:
    """Each column holds the voicings' own values, row by row, and there is no other column."""
    table = search.find()[:MANY]
    rows = [counted(row) for row in table]
    for name, column in table.columns.items():
        assert isinstance(column, np.ndarray)
        assert column.shape == (len(table),)
        values = [row[name] for row in rows]
        if name == "reach_mm":
            assert column.tolist() == pytest.approx(values, abs=1e-9)
        else:
            assert column.tolist() == values


def test_open_strings_alone_have_no_frets() -> None:
    """G on its three open strings: reach, presses and both outer frets are 0."""
    table = find_voicings(Chord.parse("G"), instrument("guitar"))
    (row,) = (row for row, voicing in enumerate(table) if voicing.shape == "x-x-0-0-0-x")
    for name in ("reach_mm", "presses", "lowest_fret", "highest_fret"):
        assert table.columns[name][row] == 0
    assert table.columns["open_strings"][row] == 3


@given(searches(), st.sampled_from(["reach_mm", "tones", "top_midi", "bass_degree"]))
def test_where_takes_a_value_several_or_a_function(search: Search, name: str) -> None:
    """Each way of asking is the same filter written in Python."""
    table = search.find()[:MANY]
    values = [counted(row)[name] for row in table]
    if not values:
        return
    wanted = {values[0], values[-1]}
    if name != "reach_mm":
        assert frets(table.where(**{name: values[0]})) == [
            row.frets for row, value in zip(table, values, strict=True) if value == values[0]
        ]
        assert frets(table.where(**{name: wanted})) == [
            row.frets for row, value in zip(table, values, strict=True) if value in wanted
        ]
    else:
        assert frets(table.where(reach_mm=lambda reach: reach < 50.0)) == [
            row.frets for row in table if row.reach_mm < 50.0
        ]


def test_a_function_must_give_a_boolean_a_row() -> None:
    """Anything else is refused under the name of its column."""
    for wrong in (lambda notes: notes + 1, lambda notes: (notes > 3)[1:]):
        with pytest.raises(ConditionError) as caught:
            CMAJ7.where(notes=wrong)
        assert (caught.value.name, caught.value.value) == ("notes", wrong)
        assert str(caught.value).endswith(": expected a function that gives one boolean a row")


@given(searches())
def test_where_by_a_column_is_the_filter_in_python(search: Search) -> None:
    """The rows whose column has the value, in the order in which they stood."""
    table = search.find()
    for fingers in range(6):
        kept = table.where(presses=fingers)
        assert frets(kept) == [row.frets for row in table if row.presses == fingers]


@given(searches())
def test_where_by_outer_degree_is_the_filter_in_python(search: Search) -> None:
    """``top_degree`` and ``bass_degree`` name the degrees of the outer pitches."""
    table = search.find()[:MANY]
    rows = [counted(row) for row in table]
    for degree in sorted(search.tones.names.values()):
        for name in ("top_degree", "bass_degree"):
            assert frets(table.where(**{name: degree})) == [
                tuple(shape)
                for shape, row in zip(table.frets.tolist(), rows, strict=True)
                if row[name] == degree
            ]


def midi(voicing: Voicing) -> list[int]:
    """Return the MIDI numbers of a voicing."""
    return [pitch.midi for pitch in voicing.pitches]


def degree_at(voicing: Voicing, pitch: int) -> str:
    """Return the degree that sounds at a pitch."""
    return voicing.degrees[midi(voicing).index(pitch)]


def test_filters_chain() -> None:
    """One filter of two columns is two filters of one, in either order."""
    both = CMAJ7.where(presses=3, top_degree="7")
    assert both
    assert frets(both) == frets(CMAJ7.where(presses=3).where(top_degree="7"))
    assert frets(both) == frets(CMAJ7.where(top_degree="7").where(presses=3))


def test_where_finds_what_a_search_with_the_condition_finds() -> None:
    """Asked before or after, the answer is the same."""
    chord, guitar, hand = Chord.parse("Cmaj7"), instrument("guitar"), Hand(reach_mm=80.0)
    assert frets(CMAJ7.where(top_degree="5")) == frets(
        find_voicings(chord, guitar, hand=hand, top_degree="5")
    )
    assert frets(CMAJ7.where(bass_degree="1")) == frets(
        find_voicings(chord, guitar, hand=hand, bass_degree="1")
    )


def test_an_unknown_column_is_refused_with_the_nearest() -> None:
    """The error is a `LookupError` that names the columns near it."""
    with pytest.raises(LookupError, match=r"column 'reach'.*reach_mm"):
        CMAJ7.where(reach=3)


def test_columns_have_the_types_that_are_told() -> None:
    """And one that is asked for twice is worked out once."""
    kinds = {name: column.dtype.name for name, column in CMAJ7.columns.items()}
    assert kinds.pop("reach_mm") == "float64"
    assert {kinds.pop("bass_midi"), kinds.pop("top_midi")} == {"int16"}
    assert {kinds.pop(name)[:3] for name in ("bass_degree", "top_degree")} == {"str"}
    assert set(kinds.values()) == {"int8"}
    assert CMAJ7.column("reach_mm") is CMAJ7.column("reach_mm")
    assert find_voicings(Chord.parse("C"), instrument("guitar")).presses.dtype == np.int8


def test_fingers_and_strain_are_those_of_the_hand_and_the_weights() -> None:
    """As of each row alone; too few fingers are refused."""
    table = CMAJ7.where(presses=3)[:20]
    hand, heavy = Hand(fingers=3), StrainWeights(extra_finger=1000, reach=2)
    alone = [row.fingering(hand, heavy) for row in table]
    assert table.fingers(hand, heavy).tolist() == [list(one.fingers) for one in alone]
    assert table.strain(heavy, hand).tolist() == [one.strain.total for one in alone]
    assert table.strain(heavy).tolist() != table.strain().tolist()
    heavy = StrainWeights(extra_finger=0, barre=(100,) * 5)
    barred = CMAJ7[[row.shape for row in CMAJ7].index("x-x-5-5-5-7") :][:1]
    assert set(barred.fingers(Hand(), heavy)[0].tolist()) == {0, 1, 2, 3, 4}
    for work in (table.fingers, table.strain):
        with pytest.raises(ConditionError, match="at most 2"):
            work(hand=Hand(fingers=2))


def test_notebooks_show_the_first_rows() -> None:
    """The rich form of a table is a table of diagrams, whose caption counts all rows."""
    assert CMAJ7._repr_html_() == table_html(CMAJ7, len(CMAJ7))


@by_order
def test_an_order_keeps_every_row(order: str) -> None:
    """Nothing is lost and nothing doubled."""
    assert sorted(frets(CMAJ7.order_by(getattr(ranking, order)))) == frets(CMAJ7)


@by_order
@pytest.mark.parametrize("before", ORDERS)
def test_an_order_is_total(order: str, before: str) -> None:
    """However the rows stood before, they end in one order: there are no ties."""
    assert frets(
        CMAJ7.order_by(getattr(ranking, before)).order_by(getattr(ranking, order))
    ) == frets(CMAJ7.order_by(getattr(ranking, order)))
    assert frets(CMAJ7[::-1].order_by(getattr(ranking, order))) == frets(
        CMAJ7.order_by(getattr(ranking, order))
    )


@by_order
def test_filters_and_orders_may_change_places(order: str) -> None:
    """An order looks at a row alone, not at its company."""
    assert frets(CMAJ7.where(presses=2).order_by(getattr(ranking, order))) == frets(
        CMAJ7.order_by(getattr(ranking, order)).where(presses=2)
    )


@given(searches(), st.sampled_from(ORDERS))
def test_columns_follow_their_rows(search: Search, order: str) -> None:
    """After an order and a slice each row still stands beside its own columns."""
    table = search.find()
    before = {row.frets: (row.reach_mm, row.presses) for row in table}
    after = table.order_by(getattr(ranking, order))[1:20]
    for row, reach, count in zip(
        after, after.columns["reach_mm"], after.columns["presses"], strict=True
    ):
        assert before[row.frets] == (row.reach_mm, row.presses)
        assert row.presses == count
        assert row.reach_mm == pytest.approx(float(reach), abs=0.051)


def test_the_order_by_top_goes_by_the_highest_pitch() -> None:
    """Along the order by top the highest pitch never turns back."""
    tops = [max(midi(row)) for row in CMAJ7.order_by(ranking.top)]
    assert tops in (sorted(tops), sorted(tops, reverse=True))


def test_the_order_by_notes_goes_by_sounding_strings() -> None:
    """Along the order by notes the number of sounding strings never turns back."""
    counts = [len(row.pitches) for row in CMAJ7.order_by(ranking.notes)]
    assert counts in (sorted(counts), sorted(counts, reverse=True))


def test_an_empty_table_is_one_all_the_same() -> None:
    """It has columns, slices, filters and orders, and no rows."""
    empty = CMAJ7[:0]
    assert len(empty) == 0
    assert not empty
    assert list(empty) == []
    assert empty.frets.shape == (0, 6)
    assert len(empty.where(presses=3).order_by(ranking.ease)[:5]) == 0
    assert set(empty.columns) == set(CMAJ7.columns)


@pytest.mark.parametrize("row", [CMAJ7[0], CMAJ7[-1]])
def test_a_row_of_a_table_is_a_value(row: Voicing) -> None:
    """The same row twice is equal and hashes alike."""
    again = find_voicings(Chord.parse("Cmaj7"), instrument("guitar"), strings=sounding(row))
    assert {row, *(other for other in again if other.frets == row.frets)} == {row}


def sounding(voicing: Voicing) -> tuple[int, ...]:
    """Return the player's numbers of the strings that sound."""
    count = len(voicing.frets)
    return tuple(count - string for string, fret in enumerate(voicing.frets) if fret >= 0)
