"""Metres, attacks and patterns drawn at random, for the laws of rhythm."""

from fractions import Fraction

import attrs
from hypothesis import strategies as st

from gripwright.meter import Attack, Meter, RhythmPattern
from gripwright.meter.attack import APPROACH_ROLES, STROKES, Length
from gripwright.meter.meter import UNITS

plain_meters = st.builds(Meter, st.integers(1, 16), st.sampled_from(UNITS))
grouped_meters = st.builds(
    lambda groups, unit: Meter(sum(groups), unit, groups),
    st.lists(st.integers(1, 5), min_size=2, max_size=4),
    st.sampled_from(UNITS),
)
meters = st.one_of(plain_meters, grouped_meters)


@st.composite
def attacks_until(draw: st.DrawFn, onset: Fraction, until: Fraction) -> Attack:
    """An attack at an onset that lasts no longer than to the next."""
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
def patterns(draw: st.DrawFn, among: st.SearchStrategy[Meter] = meters) -> RhythmPattern:
    """A pattern of one bar to four, of one attack or more."""
    meter = draw(among)
    bars = draw(st.integers(1, 4))
    length = bars * meter.length
    grain = draw(st.sampled_from([1, 2, 3, 4, 5, 7, 12]))
    slots = int(length * grain)
    if slots < 1:
        grain, slots = 32, int(length * 32)
    chosen = sorted(draw(st.sets(st.integers(0, slots - 1), min_size=1, max_size=8)))
    onsets = [Fraction(slot, grain) for slot in chosen]
    following = [*onsets[1:], length + onsets[0]]
    attacks = [
        draw(attacks_until(onset, until)) for onset, until in zip(onsets, following, strict=True)
    ]
    return RhythmPattern("drawn", meter, attacks, bars, dynamic=draw(st.integers(1, 127)))


@st.composite
def growing_patterns(draw: st.DrawFn) -> RhythmPattern:
    """A pattern with others for later choruses."""
    first = draw(patterns())
    later = draw(st.lists(patterns(st.just(first.meter)), max_size=3))
    return attrs.evolve(first, later=later)
