"""Laws that every pattern of every family keeps, in any metre."""

from itertools import pairwise

from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Meter, RhythmPattern
from gripwright.laws.drawing import meters
from gripwright_rhythm.families import families
from tests.rhythm.few import few

seeds = st.integers()
LONGEST, SHORTEST, MOST_BEATS = Meter(64, 1), Meter(1, 32), Meter(64, 32)


def patterns_in(meter: Meter, seed: int) -> list[RhythmPattern]:
    """Every pattern of every family that knows the metre."""
    return [
        pattern
        for family in families()
        if meter in family.meters
        # Pairs of many places are many: those of the usual metres stand for them.
        if family.name != "pairs" or meter.pulses < 5
        for pattern in family.patterns(meter, seed=seed)
    ]


@few
@given(meters(), seeds)
@example(LONGEST, 0)
@example(SHORTEST, 0)
@example(MOST_BEATS, 0)
def test_every_pattern_fills_its_bars_exactly(meter: Meter, seed: int) -> None:
    """The cells of a pattern, of each chorus too, follow one another and add up to its bars."""
    for pattern in patterns_in(meter, seed):
        for chorus in (pattern, *pattern.later):
            cells = chorus.cells
            assert cells[0].onset == 0
            assert all(one.onset + one.length == other.onset for one, other in pairwise(cells))
            assert sum(cell.length for cell in cells) == chorus.bars * meter.length
            assert meter.matches(chorus.meter)


@few
@given(meters(), seeds)
def test_equal_arguments_give_equal_patterns(meter: Meter, seed: int) -> None:
    """Nothing but the metre and the seed counts."""
    assert patterns_in(meter, seed) == patterns_in(Meter(*meter_fields(meter)), seed)


def meter_fields(meter: Meter) -> tuple[int, int, tuple[int, ...]]:
    """What a metre is made of."""
    return meter.count, meter.unit, meter.groups


@few
@given(meters(), seeds)
@example(LONGEST, 0)
@example(MOST_BEATS, 0)
def test_names_differ_within_a_metre(meter: Meter, seed: int) -> None:
    """A name says which pattern is meant, over all families."""
    names = [pattern.name for pattern in patterns_in(meter, seed)]
    assert len(set(names)) == len(names)


@few
@given(meters(), seeds)
@example(MOST_BEATS, 0)
def test_text_reads_back_equal(meter: Meter, seed: int) -> None:
    """A pattern can be written by hand as it is shown."""
    for pattern in patterns_in(meter, seed):
        back = RhythmPattern.parse(str(pattern), pattern.meter)
        assert (back.attacks, back.bars) == (pattern.attacks, pattern.bars)


@few
@given(meters(), seeds)
def test_displacing_by_the_length_returns_the_pattern(meter: Meter, seed: int) -> None:
    """Once round is where it was."""
    for pattern in patterns_in(meter, seed):
        assert pattern.displaced(pattern.length) == pattern


def test_pairs_of_the_most_places() -> None:
    """The metre of most beats has every pair of its 128 places."""
    (family,) = (family for family in families() if family.name == "pairs")
    found = list(family.patterns(MOST_BEATS, seed=0))
    assert len({pattern.name for pattern in found}) == len(found) == 128 * 127 // 2


def test_listed_metres_are_known_ones() -> None:
    """A family has patterns for every metre that it lists."""
    for family in families():
        listed = list(family.meters)
        assert listed
        assert all(meter in family.meters for meter in listed)
        assert all(list(family.patterns(meter, seed=0)) for meter in listed)
