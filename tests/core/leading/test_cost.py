"""What a step costs, part by part, against the definition one pair at a time."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, ConditionError, Instrument, find_voicings
from gripwright.leading import LineWeights, StepCost
from gripwright.leading.cost import (
    TOP_LINES,
    Candidates,
    TopLine,
    motion_costs,
    step_costs,
    top_costs,
    travel_costs,
)
from tests.core.leading.scalar_model import ease_costs, step_cost, top_cost, travel_cost
from tests.core.leading.scalar_model import uncrossed_motion as motion
from tests.core.leading.tunes import FANNED, GUITAR
from tests.core.neck.reference import frets_of, instrument

BANJO = instrument("banjo")
WEIGHTS = LineWeights(motion=1.3, stranger=3, travel=0.07, top=0.4, ease=0.21)


def candidates_of(symbol: str, own: Instrument, every: int, weights: LineWeights) -> Candidates:
    """Return every so many voicings of a chord, of any number of notes."""
    return Candidates.of(find_voicings(Chord.parse(symbol), own)[::every], weights)


@pytest.mark.parametrize("top", TOP_LINES)
@pytest.mark.parametrize(
    ("own", "one", "other", "every"),
    [
        (GUITAR, "Dm9", "G13", 331),
        (GUITAR, "E", "A7", 97),
        (FANNED, "Fmaj7", "Bm7b5", 131),
        # G on a banjo is held without a finger: such grips have no place on the neck.
        (BANJO, "G", "C", 23),
    ],
)
def test_steps_cost_what_the_definition_says(
    own: Instrument, one: str, other: str, every: int, top: TopLine
) -> None:
    """Each part and their sum, for every pair of some dozens of voicings."""
    ones, others = (candidates_of(symbol, own, every, WEIGHTS) for symbol in (one, other))
    assert min(len(ones), len(others)) > 20
    assert len(ones.voices) > 1
    motions, ways = motion_costs(ones, others, WEIGHTS), travel_costs(ones, others)
    tops, whole = top_costs(ones, others, top, WEIGHTS), step_costs(ones, others, top, WEIGHTS)
    for row, before in enumerate(ones.table):
        for column, here in enumerate(others.table):
            cost = step_cost(before, here, 0, top, WEIGHTS)
            place = row, column
            assert motions[place] == cost.motion
            assert ways[place] == cost.travel
            assert tops[place] == cost.top
            assert whole[place] == cost.total
    assert others.ease.tolist() == ease_costs(others.table, WEIGHTS)


def test_open_grips_are_reached_for_nothing() -> None:
    """The case above has them on both sides."""
    ones = candidates_of("G", BANJO, 23, WEIGHTS)
    assert not ones.placed.all()
    assert ones.placed.any()


def only(shape: str, symbol: str, weights: LineWeights) -> Candidates:
    """Return one grip as the only candidate."""
    table = find_voicings(Chord.parse(symbol), GUITAR)
    same = (table.frets == np.array(frets_of(shape), np.int8)).all(axis=1)
    return Candidates.of(table[np.flatnonzero(same)], weights)


def test_one_finger_down_a_fret_moves_one_voice_by_a_semitone() -> None:
    """x-3-5-4-5-x to x-3-5-3-5-x, by hand: B3 falls to Bb3, nothing else moves."""
    weights = LineWeights()
    here, there = only("x-3-5-4-5-x", "Cmaj7", weights), only("x-3-5-3-5-x", "C7", weights)
    assert motion_costs(here, there, weights).item() == 1000
    assert travel_costs(here, there).item() == 0
    assert top_costs(here, there, "smooth", weights).item() == 0
    assert step_costs(here, there, "smooth", weights).item() == 1000


@pytest.mark.parametrize(
    ("top", "up", "down", "still"),
    [
        ("free", 0, 0, 0),
        ("smooth", 2, 2, 0),
        ("held", 8, 8, 0),
        ("rising", 2, 14, 4),
        ("falling", 14, 2, 4),
    ],
)
def test_the_top_line_pays_by_its_way(top: TopLine, up: int, down: int, still: int) -> None:
    """A whole step up, a whole step down and no step, in semitones, by hand.

    x-3-5-4-5-x has E4 on top, x-5-7-5-7-x F#4.
    """
    weights = LineWeights()
    low, high = only("x-3-5-4-5-x", "Cmaj7", weights), only("x-5-7-5-7-x", "D7", weights)
    found = [top_costs(*way, top, weights).item() for way in ((low, high), (high, low), (low, low))]
    assert found == [1000 * up, 1000 * down, 1000 * still]


def test_travel_is_the_way_of_the_middle_of_the_hand() -> None:
    """x-3-5-4-5-x to x-5-7-5-7-x on 648 mm: 28.85 mm, by the rule of the twelfth root of two."""
    weights = LineWeights(travel=1)
    low, high = only("x-3-5-4-5-x", "Cmaj7", weights), only("x-5-7-5-7-x", "D7", weights)
    at = [648 * (1 - 2 ** (-fret / 12)) for fret in (3, 5, 7)]
    way = (at[1] + at[2] - at[0] - at[1]) / 2
    assert travel_costs(low, high).item() == pytest.approx(1000 * way, abs=1)


@given(st.sampled_from(["motion", "travel", "top", "ease"]), st.floats(0, 100))
def test_weights_from_0_to_100_are_kept(name: str, value: float) -> None:
    """As floating-point numbers, whatever they were."""
    kept = getattr(LineWeights(**{name: value}), name)  # type: ignore[arg-type]
    assert kept == value
    assert isinstance(kept, float)


@pytest.mark.parametrize("name", ["motion", "stranger", "travel", "top", "ease"])
@pytest.mark.parametrize("value", [-1, 101, float("nan"), float("inf")])
def test_other_weights_are_refused_by_name(name: str, value: float) -> None:
    """Below nothing, above a hundred, no number."""
    with pytest.raises(ConditionError) as caught:
        LineWeights(**{name: value})  # type: ignore[arg-type]
    assert caught.value.name == name


def test_a_weight_of_nothing_takes_its_part_out() -> None:
    """Each weight is that of its own part and of no other."""
    one, other = "Dm9", "G13"
    parts: dict[str, Callable[[LineWeights], int]] = {
        "motion": lambda weights: _sum_of(one, other, weights).motion,
        "travel": lambda weights: _sum_of(one, other, weights).travel,
        "top": lambda weights: _sum_of(one, other, weights).top,
        "ease": lambda weights: _sum_of(one, other, weights).ease,
    }
    usual = {name: part(LineWeights()) for name, part in parts.items()}
    assert all(usual.values())
    for name in parts:
        without = LineWeights(**{name: 0})
        assert {own: part(without) for own, part in parts.items()} == {**usual, name: 0}


def _sum_of(one: str, other: str, weights: LineWeights) -> StepCost:
    ones, others = (candidates_of(symbol, GUITAR, 600, weights) for symbol in (one, other))
    return StepCost(
        int(motion_costs(ones, others, weights).sum()),
        int(travel_costs(ones, others).sum()),
        int(top_costs(ones, others, "smooth", weights).sum()),
        int(np.abs(others.ease).sum()),
    )


def test_scalar_parts_are_not_all_zero() -> None:
    """The definition that the arrays are held to has something to say."""
    before, here = find_voicings(Chord.parse("Dm9"), GUITAR)[0:900:899]
    assert motion(before.midi, here.midi, 4) > 0
    assert travel_cost(before, here, WEIGHTS) > 0
    assert top_cost(before, here, "held", WEIGHTS) > 0
