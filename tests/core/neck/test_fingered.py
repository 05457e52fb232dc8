"""Fingerings of whole tables: the same as one by one."""

import numpy as np
import pytest
from hypothesis import event, example, given
from hypothesis import strategies as st

from gripwright import Chord, Hand, Instrument, find_voicings
from gripwright.errors import ConditionError
from gripwright.neck import fingered
from gripwright.neck.fingered import finger_rows
from gripwright.neck.fingering import fingering_of
from gripwright.neck.presses import Columns
from gripwright.neck.strain import USUAL_WEIGHTS, StrainWeights
from tests.core.neck.reference import instrument
from tests.core.neck.searches import Search, searches
from tests.core.neck.test_fingering import shapes

GUITAR = instrument("guitar")

weights = st.builds(
    StrainWeights,
    reach=st.floats(0, 2),
    natural_gap_mm=st.tuples(*[st.floats(0, 50)] * 4),
    stretch=st.tuples(*[st.floats(0, 5)] * 4),
    squeeze=st.floats(0, 2),
    finger=st.tuples(*[st.floats(0, 20)] * 5),
    extra_finger=st.floats(0, 20),
    barre=st.tuples(*[st.floats(0, 20)] * 5),
    clearing=st.floats(0, 20),
    inner_mute=st.floats(0, 20),
)


def columns_of(rows: list[tuple[int, ...]]) -> Columns:
    """Return shapes as columns."""
    return list(np.array(rows, np.int8).T)


def assert_same(
    columns: Columns, neck: Instrument, hand: Hand | None, used: StrainWeights = USUAL_WEIGHTS
) -> None:
    """Hold every row against the fingering of its shape alone, to the last bit."""
    found = finger_rows(columns, neck, hand, used)
    assert found.fingers.dtype == np.int8
    assert found.strain.dtype == np.float64
    shapes_of_rows = np.stack(columns, axis=1).tolist()
    alone = [fingering_of(tuple(frets), neck, hand, used) for frets in shapes_of_rows]
    assert found.fingers.tolist() == [list(one.fingers) for one in alone]
    assert found.strain.tolist() == [one.strain.total for one in alone]


@given(searches(), weights)
def test_tables_are_fingered_as_shapes_are(search: Search, used: StrainWeights) -> None:
    """On necks fanned, re-entrant or with short strings, by hands of one to five fingers."""
    table = search.find()[:150]
    event("rows: some" if len(table) else "rows: none")
    if len(table):
        assert_same(table.pairs.columns(), search.instrument, search.hand, used)


@given(shapes(), weights)
@example(((-1, 0, 0, 0, -1, -1), GUITAR), USUAL_WEIGHTS)
def test_any_shape_is_fingered_as_alone(
    drawn: tuple[tuple[int, ...], Instrument], used: StrainWeights
) -> None:
    """Also shapes that no search would find."""
    frets, neck = drawn
    assert_same(columns_of([frets]), neck, None, used)


@pytest.mark.parametrize("name", ["guitar", "ukulele", "banjo", "eight-string"])
def test_whole_tables_of_real_instruments(name: str) -> None:
    """Every so many rows of a search, on instruments that people own."""
    neck = instrument(name)
    table = find_voicings(Chord.parse("C9"), neck, min_notes=3, max_notes=5)
    assert_same(table[:: max(1, len(table) // 400)].pairs.columns(), neck, None)


def test_rows_are_alike_however_many_come_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Long tables are worked in parts."""
    columns = find_voicings(Chord.parse("Cmaj7"), GUITAR).pairs.columns()
    whole = finger_rows(columns, GUITAR)
    monkeypatch.setattr(fingered, "_ROWS_AT_ONCE", 1000)
    parts = finger_rows(columns, GUITAR)
    assert parts.fingers.tobytes() == whole.fingers.tobytes()
    assert parts.strain.tobytes() == whole.strain.tobytes()


def test_each_row_is_worked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Open strings around muted ones strain as much in any part of a table."""
    monkeypatch.setattr(fingered, "_ROWS_AT_ONCE", 2)
    rows = [(0, -1, 0, 0, 0, 0), (1, 3, 3, 2, 1, 1), (0, -1, -1, 0, 0, 0), (3, 2, 0, 0, 0, 3)]
    assert_same(columns_of([*rows, *rows, rows[0]]), GUITAR, None)


@pytest.mark.parametrize(("reach_mm", "pressing"), [(115, {1, 4}), (150, {1, 2, 3, 4})])
def test_a_hand_stays_within_its_spread_by_choice(reach_mm: float, pressing: set[int]) -> None:
    """Heavy barres ask for all four fingers; two thirds of 115 mm are too little for the gap."""
    columns = columns_of([(1, -1, 4, 4, 4, -1)])
    hand, heavy = Hand(reach_mm=reach_mm), StrainWeights(barre=(100,) * 5)
    found = finger_rows(columns, GUITAR, hand, heavy)
    assert set(found.fingers[0].tolist()) - {0} == pressing
    assert_same(columns, GUITAR, hand, heavy)


@pytest.mark.parametrize(
    ("frets", "hand", "used"),
    [
        # Barres of six strings, and of five that five fingers part.
        ((5, 5, 5, 5, 5, 5), None, USUAL_WEIGHTS),
        ((5, 5, 5, 5, 5, -1), Hand(fingers=5), StrainWeights(barre=(100,) * 5)),
        # Barres that clear open or lower strings.
        ((-1, 5, 5, 0, -1, -1), None, StrainWeights(extra_finger=1000)),
        ((-1, -1, 5, 5, 0, -1), None, StrainWeights(extra_finger=1000)),
        ((3, 5, 5, 0, 5, 5), None, StrainWeights(extra_finger=1000)),
        ((-1, 5, 5, 3, 3, 3), None, StrainWeights(extra_finger=1000)),
        # Four presses beyond the reach, which need all four fingers.
        ((1, 9, 10, 11, -1, -1), Hand(), USUAL_WEIGHTS),
        ((0, 0, 0, 0, 0, 0), None, USUAL_WEIGHTS),
    ],
)
def test_grips_at_the_limits_are_fingered_as_alone(
    frets: tuple[int, ...], hand: Hand | None, used: StrainWeights
) -> None:
    """Alone, and before and after a row that needs no finger."""
    assert_same(columns_of([frets]), GUITAR, hand, used)
    rest = (0, -1, 0, 0, 0, 0)
    assert_same(columns_of([rest, frets, rest]), GUITAR, hand, used)


def test_the_spread_may_be_reached_exactly() -> None:
    """As by one shape: the gap between frets 1 and 4 is all that the hand spreads."""
    gap_mm = GUITAR.place_mm(2, 4) - GUITAR.place_mm(0, 1)
    hand, heavy = Hand(reach_mm=gap_mm * 1.5), StrainWeights(barre=(100,) * 5)
    columns = columns_of([(1, -1, 4, 4, 4, -1)])
    assert set(finger_rows(columns, GUITAR, hand, heavy).fingers[0].tolist()) == {0, 1, 2, 3, 4}


def test_no_rows_give_no_rows() -> None:
    """An empty table has empty columns."""
    found = finger_rows([np.zeros(0, np.int8)] * 6, GUITAR)
    assert found.fingers.shape == (0, 6)
    assert found.strain.shape == (0,)


@pytest.mark.parametrize(
    ("frets", "hand"), [((1, 2, 3, 4, 5, -1), Hand(fingers=4)), ((6, 5, 4, 3, 2, 1), None)]
)
def test_more_presses_than_fingers_are_refused(frets: tuple[int, ...], hand: Hand | None) -> None:
    """As for one shape."""
    with pytest.raises(ConditionError, match=r"^presses cannot be [56]: expected at most [45]$"):
        finger_rows(columns_of([frets]), GUITAR, hand)
    with pytest.raises(ConditionError, match="at most"):
        fingering_of(frets, GUITAR, hand)
