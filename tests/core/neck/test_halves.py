"""Halves of a neck against their definition: every way to hold some strings, one by one."""

from itertools import product
from math import inf

import attrs
import numpy as np
import pytest

from gripwright import Hand, Instrument
from gripwright.errors import RowBoundError
from gripwright.neck import halves
from gripwright.neck.conditions import Conditions
from gripwright.neck.halves import Enumeration, string_options
from tests.core.neck.enumerator import TOLERANCE_MM

FIVE = Instrument.from_text("D3 G3 B3 E4 D3", frets=7, scale_mm=648.0)
ROOT = 7
G7 = 0b10010010001
"""The tones of G7 above their root: 0, 4, 7 and 10 semitones."""

WAYS = Enumeration(
    FIVE,
    tuple(string_options(FIVE, string, ROOT, G7, Conditions()) for string in range(5)),
    ROOT,
    Hand(reach_mm=70.0),
    most_notes=3,
    row_bound=1000,
)


@pytest.mark.parametrize("at_once", [65_536, 1, 10])
@pytest.mark.parametrize("strings", [range(0), range(2), range(1, 4), range(5)], ids=str)
def test_a_half_is_every_way_within_the_reach_and_the_notes(
    strings: range, at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In order of frets, each with what it sounds and where it lies; of no strings, one way."""
    monkeypatch.setattr(halves, "_BLOCK", at_once)
    expected = []
    for frets in product(*(WAYS.options[string] for string in strings)):
        held = list(zip(strings, frets, strict=True))
        places = [FIVE.place_mm(string, fret) for string, fret in held if fret > 0]
        pitches = [FIVE.sounding(string, fret) for string, fret in held if fret >= 0]
        near, far = min(places, default=inf), max(places, default=-inf)
        if far - near > 70.0 + TOLERANCE_MM or len(pitches) > 3:
            continue
        mask = sum(1 << tone for tone in {(pitch - ROOT) % 12 for pitch in pitches})
        low, high = min(pitches, default=1000), max(pitches, default=-1000)
        expected.append((frets, near, far, mask, len(pitches), low, high))
    half = WAYS.half(strings)
    found = [
        (tuple(half.frets[:, row].tolist()), *(column[row] for column in columns))
        for columns in [attrs.astuple(half)[1:]]
        for row in range(len(half))
    ]
    assert found == expected
    assert {column.shape[-1] for column in attrs.astuple(half)} == {len(expected)}


@pytest.mark.parametrize("strings", [range(0), range(5)], ids=str)
def test_columns_are_as_narrow_as_they_say(strings: range) -> None:
    """A byte a fret, so that millions of rows have room."""
    half = WAYS.half(strings)
    assert half.frets.dtype == half.notes.dtype == np.int8
    assert half.mask.dtype == half.low.dtype == half.high.dtype == np.int16
    assert half.nearest.dtype == half.farthest.dtype == np.float64


@pytest.mark.parametrize("at_once", [65_536, 1, 10])
def test_as_many_rows_as_the_bound_are_allowed_and_no_more(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows are counted over all portions."""
    monkeypatch.setattr(halves, "_BLOCK", at_once)
    rows = len(WAYS.half(range(4)))
    assert len(attrs.evolve(WAYS, row_bound=rows).half(range(4))) == rows
    with pytest.raises(RowBoundError) as caught:
        attrs.evolve(WAYS, row_bound=rows - 1).half(range(4))
    assert caught.value.bound == rows - 1
