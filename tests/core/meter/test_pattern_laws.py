"""Laws of rhythm patterns."""

from fractions import Fraction
from itertools import pairwise

from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Meter, RhythmPattern
from gripwright.laws.drawing import growing_patterns, patterns

shifts = st.fractions(-20, 20, max_denominator=12)


@given(patterns())
@example(RhythmPattern("silent", Meter(), []))
def test_cells_fill_the_pattern_without_gap_or_overlap(pattern: RhythmPattern) -> None:
    """Cells start at 0, each where the one before ends, and end with the pattern."""
    cells = pattern.cells
    assert cells[0].onset == 0
    assert all(one.onset + one.length == other.onset for one, other in pairwise(cells))
    assert cells[-1].onset + cells[-1].length == pattern.length
    assert all(cell.length > 0 for cell in cells)


@given(patterns())
def test_every_attack_starts_a_cell(pattern: RhythmPattern) -> None:
    """An attack sounds from its onset; only one that goes on over the end has a cell before."""
    starts = [
        cell.onset for cell in pattern.cells if cell.attack and cell.onset == cell.attack.onset
    ]
    assert starts == [attack.onset for attack in pattern.attacks]


@given(patterns())
def test_a_short_attack_ends_on_a_pulse_or_at_the_next_attack(pattern: RhythmPattern) -> None:
    """Whichever is first, and never later."""
    onsets = {attack.onset for attack in pattern.attacks} | {pattern.length}
    for cell in pattern.cells:
        if cell.attack is not None and cell.attack.length == "short":
            end = cell.onset + cell.length
            assert end in onsets or end % pattern.meter.length % pattern.meter.pulse == 0
            assert cell.length <= pattern.meter.pulse


@given(growing_patterns())
def test_displacing_by_the_length_returns_the_pattern(pattern: RhythmPattern) -> None:
    """Once round is where it was; later choruses go round their own lengths."""
    assert pattern.displaced(0) == pattern
    assert pattern.displaced(pattern.length).attacks == pattern.attacks
    rounds = Fraction(1)
    for one in (pattern, *pattern.later):
        rounds *= one.bars
    assert pattern.displaced(rounds * pattern.meter.length) == pattern


@given(growing_patterns(), shifts, shifts)
def test_displacements_add(pattern: RhythmPattern, one: Fraction, other: Fraction) -> None:
    """To displace by one and then by another is to displace by their sum."""
    assert pattern.displaced(one).displaced(other) == pattern.displaced(one + other)


@given(patterns(), st.data())
def test_what_follows_keeps_its_attacks(pattern: RhythmPattern, data: st.DataObject) -> None:
    """A pattern after another is the same attacks, later by the length of the first."""
    other = data.draw(patterns(st.just(pattern.meter)))
    # Lengths over the end of a pattern may pass the first attack of the next.
    one, other = pattern.with_length("long"), other.with_length("short")
    whole = one.then(other)
    assert whole.length == one.length + other.length
    kept = len(one.attacks)
    assert whole.attacks[:kept] == one.attacks
    assert whole.displaced(-one.length).attacks[: len(other.attacks)] == other.attacks
