"""Orders of voicings: total, stable, and true to their names."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chord, Hand, Instrument, Voicing, VoicingTable, find_voicings, ranking
from gripwright.neck.ranking import RANKINGS, Ranking, near
from tests.core.neck.reference import frets_of, instrument
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


def test_ease_goes_by_the_strain_to_a_millionth() -> None:
    """What is rounded off is too little to feel; of equal strain the grip nearer the nut leads."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR, max_notes=4)
    strain, highest = ranking.ease.keys(table)
    assert strain.tolist() == pytest.approx(table.strain().tolist(), rel=0, abs=1e-6)
    assert highest.tolist() == [max(row) for row in table.frets.tolist()]


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


def grip(symbol: str, shape: str) -> Voicing:
    """Return a shape on the standard guitar as a voicing of a chord."""
    return Voicing(Chord.parse(symbol), GUITAR, frets_of(shape))


def outer_mm(shape: str) -> tuple[float, float]:
    """Return where the hand begins and ends: fret n of 648 mm lies at 648 (1 - 2^(-n/12)) mm."""
    fretted = [fret for fret in frets_of(shape) if fret > 0]
    low, high = (648 * (1 - 2 ** (-fret / 12)) for fret in (min(fretted), max(fretted)))
    return low, high


@pytest.mark.parametrize(
    ("before", "after", "moved", "strangers"),
    [
        # D3 A3 C4 F4 to D3 G3 B3 F4.
        (("Dm7", "x-5-7-5-6-x"), ("G7", "x-5-5-4-6-x"), 2 + 1, 0),
        (("G7", "x-5-5-4-6-x"), ("Dm7", "x-5-7-5-6-x"), 2 + 1, 0),
        # C3 E3 G3 C4 E4 to F2 C3 F3 A3 C4 F4, where a voice enters below; and back.
        (("C", "x-3-2-0-1-0"), ("F", "1-3-3-2-1-1"), 1 + 0 + 2 + 1 + 0, 1),
        (("F", "1-3-3-2-1-1"), ("C", "x-3-2-0-1-0"), 1 + 0 + 2 + 1 + 0, 1),
        # C3 E3 G3 C4 E4 to C4 E4 G4, where two leave: E4 to G4, C4 to E4, G3 to C4.
        (("C", "x-3-2-0-1-0"), ("C", "x-x-x-5-5-3"), 3 + 4 + 5, 2),
    ],
)
def test_near_adds_up_what_moves(
    before: tuple[str, str], after: tuple[str, str], moved: int, strangers: int
) -> None:
    """Semitones of the voices from the top, 6 a stranger, 20 mm of travel or 30 mm of stretch."""
    low, high = outer_mm(before[1])
    next_low, next_high = outer_mm(after[1])
    travel = abs(next_low + next_high - low - high) / 2
    wider = max(0.0, (next_high - next_low) - (high - low))
    table = find_voicings(Chord.parse(after[0]), GUITAR)
    row = table.frets.tolist().index(list(frets_of(after[1])))
    (keys,) = near(grip(*before)).keys(table)
    assert keys[row] == pytest.approx(moved + 6 * strangers + travel / 20 + wider / 30, abs=1e-6)


def test_near_an_open_shape_only_voices_and_stretch_count() -> None:
    """D3 G3 B3 and G2 B2 D3 G3 B3 G4: from the top 8, 4 and 5 semitones, and three strangers."""
    table = find_voicings(Chord.parse("G"), GUITAR)
    rows = table.frets.tolist()
    open_g, whole_g = (rows.index(list(frets_of(s))) for s in ("x-x-0-0-0-x", "3-2-0-0-0-3"))
    (low, high) = outer_mm("3-2-0-0-0-3")
    (keys,) = near(table[open_g]).keys(table)
    assert keys[whole_g] == pytest.approx(17 + 18 + (high - low) / 30, abs=1e-6)
    (keys,) = near(table[whole_g]).keys(table)
    assert keys[open_g] == 17 + 18


def test_near_counts_the_lowest_pitch_that_has_a_number() -> None:
    """C-1, number 0, is a voice: to it 4 semitones from E-1, 5 from C4 to G3, and 3 at the top."""
    low = Instrument.from_text("C-1 G3 E4", frets=5)
    table = find_voicings(Chord.parse("C"), low, hand=Hand(reach_mm=150.0))
    opened, fretted = (table.frets.tolist().index(row) for row in ([0, 0, 0], [4, 5, 3]))
    (keys,) = near(table[fretted]).keys(table)
    assert keys[opened] == 4 + 5 + 3


def test_near_tells_what_it_is_near_to() -> None:
    """Its name is no voicing's own; its sentence names the shape."""
    order = near(grip("Dm7", "x-5-7-5-6-x"))
    assert (order.name, order.summary) == ("near", "Nearest to x-5-7-5-6-x first")


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
