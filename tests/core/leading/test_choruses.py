"""Further lines: the surcharge for grips that earlier lines used, and a line for each chorus."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chart, Voicing
from gripwright.leading import Line, LineWeights, choruses, lead
from tests.core.leading.scalar_model import Layered
from tests.core.leading.tunes import GUITAR, chords, tables

TURNAROUND = "Cmaj7 A7b9 Dm7 G13"


def frets(line: Line) -> list[tuple[int, ...]]:
    """Return the shapes of a line."""
    return [step.voicing.frets for step in line.steps]


def surcharge_of(voicing: Voicing, used: Sequence[Line], each: int) -> int:
    """Return what a grip pays: once for each line that has it anywhere."""
    return each * sum(voicing.frets in frets(line) for line in used)


@settings(max_examples=40)
@given(
    symbols=st.lists(st.sampled_from(["C", "F", "G7", "Am", "Dm7"]), min_size=1, max_size=4),
    candidates=st.integers(1, 5),
    earlier=st.integers(0, 3),
    surcharge=st.sampled_from([0, 0.5, 2.5, 6, 20]),
    loop=st.booleans(),
)
def test_each_further_line_is_the_cheapest_of_all_under_the_surcharge(
    *, symbols: list[str], candidates: int, earlier: int, surcharge: float, loop: bool
) -> None:
    """Every line is looked at, and each part of the cost is as said."""
    tune, weights = chords(" ".join(symbols)), LineWeights()
    used: list[Line] = []
    each = round(surcharge * 1000)
    for _ in range(earlier + 1):
        layers = Layered(
            tables(tune, GUITAR, candidates),
            weights,
            extra=lambda own: surcharge_of(own, used, each),
        )
        line = lead(tune, GUITAR, candidates=candidates, used=used, surcharge=surcharge, loop=loop)
        assert line.cost == layers.tried(loop=loop)
        assert [step.cost.surcharge for step in line.steps] == [
            surcharge_of(step.voicing, used, each) for step in line.steps
        ]
        used.append(line)


def test_a_grip_pays_for_each_line_that_used_it() -> None:
    """Once for each line that has it, however often that line plays it."""
    (one,) = lead(chords("C"), GUITAR, candidates=1).steps
    line = lead(chords("F C"), GUITAR, candidates=1, used=[Line((one,)), Line((one, one))])
    assert [step.cost.surcharge for step in line.steps] == [0, 12_000]


def test_the_first_chorus_is_the_cheapest_line() -> None:
    """Without a seed, in the order in which they are found."""
    tune = chords(TURNAROUND)
    found = choruses(tune, GUITAR, 4, candidates=60)
    used: list[Line] = []
    for line in found:
        assert line == lead(tune, GUITAR, candidates=60, used=used)
        used.append(line)


def test_choruses_differ() -> None:
    """Each from each."""
    found = choruses(Chart.parse("| Dm7 | G7 | Cmaj7 | % |"), GUITAR, 5)
    assert len({tuple(frets(line)) for line in found}) == 5


def test_a_seed_orders_the_same_lines_the_same_way() -> None:
    """Equal seeds give equal choruses; among ten seeds not all orders are the same."""
    tune = chords("Dm7 G7")
    plain = choruses(tune, GUITAR, 4, candidates=40)
    orders = set()
    for seed in range(10):
        found = choruses(tune, GUITAR, 4, seed=seed, candidates=40)
        assert found == choruses(tune, GUITAR, 4, seed=seed, candidates=40)
        assert sorted(map(frets, found)) == sorted(map(frets, plain))
        orders.add(tuple(plain.index(line) for line in found))
    assert len(orders) > 3


def test_settings_go_to_every_chorus() -> None:
    """Loop, string set and surcharge."""
    found = choruses(
        chords("Dm7 G7"), GUITAR, 3, loop=True, strings=(4, 3, 2, 1), surcharge=0, candidates=30
    )
    assert all(line.loop for line in found)
    for shape in (shape for line in found for shape in frets(line)):
        assert shape[:2] == (-1, -1)
        assert min(shape[2:]) >= 0
    # Nothing is paid for what was used, so that nothing changes.
    assert len({tuple(frets(line)) for line in found}) == 1


@pytest.mark.parametrize("count", [1, 3])
def test_as_many_choruses_as_asked(count: int) -> None:
    """One and more."""
    assert len(choruses(chords("C"), GUITAR, count, candidates=5)) == count
