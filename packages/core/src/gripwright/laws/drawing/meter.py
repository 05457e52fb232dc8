"""Metres, hits, attacks and rhythm patterns to draw from."""

from __future__ import annotations

from fractions import Fraction

import attrs
from hypothesis import strategies as st

from gripwright.meter import Attack, Hit, Meter, RhythmPattern
from gripwright.meter.attack import APPROACH_ROLES, STROKES, Length
from gripwright.meter.meter import UNITS

_GRAINS = (1, 2, 3, 4, 5, 7, 12)


def meters(*, most_units: int = 16) -> st.SearchStrategy[Meter]:
    """Metres, plain and written as sums.

    Args:
        most_units: Units of a plain one at most, 1 to 64.

    Example:
        >>> from hypothesis import find
        >>> find(meters(), lambda meter: meter.count == 5 and meter.unit == 8).length
        Fraction(5, 2)
    """
    units = st.sampled_from(UNITS)
    plain = st.builds(Meter, st.integers(1, most_units), units)
    groups = st.lists(st.integers(1, 5), min_size=2, max_size=4)
    return st.one_of(plain, st.builds(_summed, groups, units))


def hits() -> st.SearchStrategy[Hit]:
    """Hits of a bar: long or of an exact length, some of them pushes.

    Example:
        >>> from hypothesis import find
        >>> find(hits(), lambda hit: hit.push).push
        True
    """
    onsets = st.fractions(0, 4, max_denominator=12)
    durations = st.none() | st.fractions(Fraction(1, 12), 4, max_denominator=12)
    return st.builds(Hit, onsets, durations, st.booleans())


@st.composite
def attacks(
    draw: st.DrawFn, onset: Fraction = Fraction(0), until: Fraction = Fraction(4)
) -> Attack:
    """Attacks at an onset that last no longer than to the next.

    Args:
        draw: Given by Hypothesis.
        onset: Quarters from the start of the pattern.
        until: Where the next attack stands.

    Example:
        >>> from hypothesis import find
        >>> found = find(attacks(Fraction(1), Fraction(2)), lambda one: one.onset == 1)
        >>> print(found.onset)
        1
    """
    gap = until - onset
    parts = draw(st.integers(1, 8))
    lengths: list[Length] = ["long", "short", gap * Fraction(parts, 8)]
    length = draw(st.sampled_from(lengths))
    push = draw(st.booleans())
    return Attack(
        onset,
        length,
        push,
        None if push else draw(st.sampled_from([None, *APPROACH_ROLES])),
        ring_over=draw(st.booleans()),
        accent=draw(st.booleans()),
        stroke=draw(st.sampled_from([None, *STROKES])),
    )


@st.composite
def patterns(draw: st.DrawFn, among: st.SearchStrategy[Meter] | None = None) -> RhythmPattern:
    """Patterns of one bar to four, of one attack or more, on beats and off them.

    Args:
        draw: Given by Hypothesis.
        among: Gives the metre; any if not given.

    Example:
        >>> from hypothesis import find
        >>> find(patterns(), lambda pattern: len(pattern.attacks) == 3).bars
        1
    """
    meter = draw(meters() if among is None else among)
    bars = draw(st.integers(1, 4))
    length = bars * meter.length
    grain = draw(st.sampled_from(_GRAINS))
    slots = int(length * grain)
    if slots < 1:
        grain, slots = 32, int(length * 32)
    chosen = sorted(draw(st.sets(st.integers(0, slots - 1), min_size=1, max_size=8)))
    onsets = [Fraction(slot, grain) for slot in chosen]
    following = [*onsets[1:], length + onsets[0]]
    drawn = [draw(attacks(onset, until)) for onset, until in zip(onsets, following, strict=True)]
    return RhythmPattern("drawn", meter, drawn, bars, dynamic=draw(st.integers(1, 127)))


@st.composite
def growing_patterns(draw: st.DrawFn) -> RhythmPattern:
    """Patterns with others for later choruses.

    Args:
        draw: Given by Hypothesis.

    Example:
        >>> from hypothesis.strategies import SearchStrategy
        >>> isinstance(growing_patterns(), SearchStrategy)
        True
    """
    first = draw(patterns())
    later = draw(st.lists(patterns(st.just(first.meter)), max_size=3))
    return attrs.evolve(first, later=later)


def _summed(groups: list[int], unit: int) -> Meter:
    return Meter(sum(groups), unit, groups)
