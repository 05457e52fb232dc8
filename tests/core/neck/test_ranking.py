"""Orders of voicings: total, stable, and true to their names."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chord, VoicingTable, find_voicings, ranking
from gripwright.neck.ranking import RANKINGS, Ranking, near
from tests.core.neck.reference import instrument
from tests.core.neck.searches import Search, searches

GUITAR = instrument("guitar")
ORDERS = tuple(RANKINGS.values())
by_order = pytest.mark.parametrize("order", ORDERS, ids=lambda order: order.name)


def shuffled(table: VoicingTable, seed: int) -> VoicingTable:
    """Return the rows of a table in another order."""
    return table[np.random.default_rng(seed).permutation(len(table))]


def test_orders_stand_under_their_names() -> None:
    """Each is known by its own name and says in a sentence what it does."""
    assert set(RANKINGS) == {"teaching", "ease", "position", "top", "notes"}
    assert all(order.name == name and order.summary for name, order in RANKINGS.items())
    assert RANKINGS["teaching"] is ranking.teaching


@by_order
@settings(max_examples=20)
@given(search=searches(), seed=st.integers(0, 9))
def test_an_order_does_not_depend_on_the_order_before(
    order: Ranking, search: Search, seed: int
) -> None:
    """Shuffled rows come back in the same order, and none is lost."""
    table = search.find()
    ordered = table.order_by(order)
    assert shuffled(table, seed).order_by(order).frets.tolist() == ordered.frets.tolist()
    assert sorted(ordered.frets.tolist()) == table.frets.tolist()


@by_order
@settings(max_examples=20)
@given(search=searches())
def test_keys_rise_and_equal_rows_stand_by_frets(order: Ranking, search: Search) -> None:
    """The order is by its keys, and where they are equal by frets from the bass side."""
    ordered = search.find().order_by(order)
    keys = zip(*(column.tolist() for column in order.keys(ordered)), strict=True)
    rows = list(zip(keys, ordered.frets.tolist(), strict=True))
    assert rows == sorted(rows)


@by_order
def test_an_order_of_part_of_a_table_is_part_of_its_order(order: Ranking) -> None:
    """Whether rows are put aside before or after ordering makes no difference."""
    table = find_voicings(Chord.parse("G7"), GUITAR)
    before = table.where(bass_degree="1").order_by(order)
    after = table.order_by(order).where(bass_degree="1")
    assert before.frets.tolist() == after.frets.tolist()


@settings(max_examples=20)
@given(search=searches())
def test_each_order_keeps_its_word(search: Search) -> None:
    """Position rises along the neck, top by the top note, notes by the number of strings."""
    table = search.find()
    lowest = [
        min((fret for fret in voicing.frets if fret > 0), default=0)
        for voicing in table.order_by(ranking.position)
    ]
    tops = [max(voicing.midi) for voicing in table.order_by(ranking.top)]
    counts = [len(voicing.midi) for voicing in table.order_by(ranking.notes)]
    assert (lowest, tops, counts) == (sorted(lowest), sorted(tops), sorted(counts))


def test_ease_puts_an_open_grip_before_a_stretch() -> None:
    """Of two voicings the one with shorter reach, fewer presses and no mutes inside comes first."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR).order_by(ranking.ease)
    at = {voicing.shape: row for row, voicing in enumerate(table)}
    assert at["x-3-2-0-0-0"] < at["x-3-5-4-5-x"] < at["x-3-5-x-5-7"]


@settings(max_examples=25)
@given(search=searches(bare=True), data=st.data())
def test_nearest_to_a_voicing_is_itself_or_what_a_smaller_hand_holds(
    search: Search, data: st.DataObject
) -> None:
    """A voicing comes before every other that is not easier to reach; the order is total."""
    table = search.find()
    if not len(table):
        return
    here = table[data.draw(st.integers(0, len(table) - 1))]
    order = near(here)
    ordered = table.order_by(order)
    assert shuffled(table, 1).order_by(order).frets.tolist() == ordered.frets.tolist()
    for voicing in ordered:
        if voicing.frets == here.frets:
            break
        assert voicing.reach_mm <= here.reach_mm + 1e-6
    else:
        pytest.fail("the voicing itself is not in the order")


@pytest.mark.parametrize("symbol", ["C", "G7", "Dm7", "Cmaj7", "C13"])
def test_a_voicing_is_among_the_first_near_itself(symbol: str) -> None:
    """Each of the first thirty of the teaching order stands in the first six near itself."""
    table = find_voicings(Chord.parse(symbol), GUITAR)
    for voicing in table.order_by(ranking.teaching)[:30]:
        nearest = [other.frets for other in table.order_by(near(voicing))[:6]]
        assert voicing.frets in nearest


def test_near_measures_motion() -> None:
    """From Dm7 on the inner strings the next G7 is the one whose voices move a step or stay."""
    here = next(v for v in find_voicings(Chord.parse("Dm7"), GUITAR) if v.shape == "x-5-7-5-6-x")
    g7 = find_voicings(Chord.parse("G7"), GUITAR).order_by(near(here))
    first = g7[0]
    moved = [abs(a - b) for a, b in zip(sorted(here.midi), sorted(first.midi), strict=True)]
    assert sum(moved) <= 4
    assert max(moved) <= 2
    assert {order.name for order in ORDERS} & {near(here).name} == set()


def test_near_an_open_shape_measures_no_travel() -> None:
    """A voicing without a fretted string has no place of the hand to travel from."""
    open_g = next(v for v in find_voicings(Chord.parse("G"), GUITAR) if v.shape == "x-x-0-0-0-x")
    table = find_voicings(Chord.parse("G"), GUITAR).order_by(near(open_g))
    assert table[0].shape == "x-x-0-0-0-x"
    assert len(table) == len(find_voicings(Chord.parse("G"), GUITAR))


def test_an_open_shape_is_near_to_wherever_the_hand_is() -> None:
    """Its key is a number, too: nothing is fretted, so that the hand need not travel."""
    table = find_voicings(Chord.parse("G"), GUITAR)
    here = next(v for v in table if v.shape == "3-2-0-0-0-3")
    (keys,) = near(here).keys(table)
    assert np.isfinite(keys).all()
    assert (table.columns["highest_fret"] == 0).any()
