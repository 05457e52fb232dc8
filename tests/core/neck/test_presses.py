"""Presses agree with a second statement of the rule, shape by shape and in columns."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Hand, Instrument
from gripwright.neck.presses import count_presses, press_starts, presses_of, spread_fits
from tests.core.neck.enumerator import TOLERANCE_MM, presses

GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22, scale_mm=648.0)
FANNED = (680.0, 672.0, 664.0, 656.0, 648.0, 640.0)

SHAPES = st.lists(st.integers(-1, 5), min_size=1, max_size=6).map(tuple)
SIX = st.tuples(*[st.integers(-1, 9)] * 6)


def columns_of(shapes: list[tuple[int, ...]]) -> list[np.ndarray[tuple[int], np.dtype[np.int8]]]:
    """One array of frets a string."""
    return [np.array(column, np.int8) for column in zip(*shapes, strict=True)]


@given(SHAPES)
@example((1, 3, 3, 2, 1, 1))
@example((1, 1, 1, 1, 1, 0))
@example((2, 2, 2, 0))
@example((2, 5, 2, 2, 1))
@example((3, -1, 3))
def test_presses_are_those_of_the_definition(frets: tuple[int, ...]) -> None:
    """The order of fret and string included."""
    assert [(press.fret, press.strings) for press in presses_of(frets)] == presses(frets)


@given(st.lists(SIX, min_size=1, max_size=8))
@example([(3,), (0,), (-1,)])
@example([(2, 2), (2, 0)])
def test_columns_count_the_presses_of_their_rows(shapes: list[tuple[int, ...]]) -> None:
    """And mark the first string of each."""
    starts = press_starts(columns_of(shapes))
    for row, frets in enumerate(shapes):
        first = sorted(strings[0] for _, strings in presses(frets))
        assert [string for string, start in enumerate(starts) if start[row]] == first
    assert count_presses(starts).tolist() == [len(presses(frets)) for frets in shapes]
    assert count_presses(starts).dtype == np.int8


@given(st.lists(SIX, min_size=1, max_size=8), st.sampled_from([60.0, 90.0, 115.0, 240.0]))
@example([(1, -1, -1, -1, -1, 3)], 115.0)
@example([(12, 11, 10, 9, 5, 1)], 240.0)
def test_spread_is_measured_between_neighbouring_presses(
    shapes: list[tuple[int, ...]], reach_mm: float
) -> None:
    """In the order of fret, each where it holds its first string; strings of several lengths."""
    hand = Hand(reach_mm=reach_mm)
    columns = columns_of(shapes)
    for scales in ((648.0,) * 6, FANNED):
        neck = Instrument(
            "neck",
            "neck",
            tuple(
                type(string)(string.open, scale)
                for string, scale in zip(GUITAR.strings, scales, strict=True)
            ),
            frets=22,
            align_fret=7.0,
        )
        fits = spread_fits(columns, press_starts(columns), neck, hand)
        for row, frets in enumerate(shapes):
            places = [neck.place_mm(strings[0], fret) for fret, strings in presses(frets)]
            near = [
                abs(here - there) <= reach_mm * 2 / 3 + TOLERANCE_MM
                for here, there in pairwise(places)
            ]
            assert bool(fits[row]) == all(near)


@pytest.mark.parametrize(("more", "fits"), [(-1e-6, False), (0.0, True), (1e-6, True)])
def test_spread_at_its_bound(more: float, fits: bool) -> None:  # noqa: FBT001 - a table of cases
    """The distance itself still fits, with the tolerance of the design and no more."""
    apart = GUITAR.place_mm(5, 3) - GUITAR.place_mm(0, 1)
    columns = columns_of([(1, -1, -1, -1, -1, 3)])
    hand = Hand(reach_mm=(apart + more) * 3 / 2)
    assert spread_fits(columns, press_starts(columns), GUITAR, hand).tolist() == [fits]
