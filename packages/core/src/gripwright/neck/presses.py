"""Presses: which fingers a shape needs, and whether a hand has them.

A press is one finger at one fret on one string or on several. Strings at the same fret share a
press when every string between them is fretted at that fret or higher. The finger comes from
the treble side: a press of three strings or more lies flat over every string on that side, and
where one of those sounds open or at a lower fret, the press is cut into single strings and
neighbouring pairs, counted from the bass side. With all fingers in use, presses that follow each
other in fret order lie at most two thirds of the reach apart. The rules are our own statement of
common practice.
"""

from __future__ import annotations

import functools
from itertools import pairwise

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import MOST_STRINGS, Instrument

Columns = list[NDArray[np.int8]]
"""One array of frets a string, from the bass side; muted is -1."""


@attrs.frozen
class Press:
    """One finger at one fret.

    Args:
        fret: The fret.
        strings: Indices of the strings that it presses, from the bass side.

    Example:
        >>> presses_of((-1, 3, 5, 5, 5, 3))[0]
        Press(fret=3, strings=(1, 5))
    """

    fret: int
    strings: tuple[int, ...]


def presses_of(frets: tuple[int, ...]) -> tuple[Press, ...]:
    """The fewest presses that hold a shape, in order of fret and then from the bass side.

    Args:
        frets: The shape, muted -1, from the bass side.

    Example:
        >>> [press.strings for press in presses_of((1, 3, 3, 2, 1, 1))]
        [(0, 4, 5), (3,), (1, 2)]
    """
    presses: list[Press] = []
    for string, fret in enumerate(frets):
        if fret <= 0:
            continue
        if any(0 <= other < fret for other in frets[string + 1 :]):
            joins = _pairs_with_bass_side(frets, string)
        else:
            joins = _linked(frets, string)
        if joins:
            index = max(i for i, press in enumerate(presses) if press.fret == fret)
            presses[index] = Press(fret, (*presses[index].strings, string))
        else:
            presses.append(Press(fret, (string,)))
    return tuple(sorted(presses, key=lambda press: (press.fret, press.strings)))


def _linked(frets: tuple[int, ...], string: int) -> bool:
    for other in reversed(frets[:string]):
        if other <= frets[string]:
            return other == frets[string]
    return False


def _pairs_with_bass_side(frets: tuple[int, ...], string: int) -> bool:
    run = 0
    while run < string and frets[string - run - 1] == frets[string]:
        run += 1
    return run % 2 == 1


def press_starts(columns: Columns) -> list[NDArray[np.bool_]]:
    """For each string, the rows in which a press has it as its first string.

    Args:
        columns: Frets by string, (strings) arrays of (rows,).

    Returns:
        (strings) boolean arrays of (rows,); their sum over strings is the number of presses.

    Example:
        >>> columns = [np.array([fret], np.int8) for fret in (1, 3, 3, 2, 1, 1)]
        >>> sum(int(start[0]) for start in press_starts(columns))
        3
    """
    fretted = [column > 0 for column in columns]
    starts: list[NDArray[np.bool_]] = []
    paired = np.zeros_like(fretted[0])
    for string, column in enumerate(columns):
        linked = np.zeros_like(fretted[0])
        above = np.ones_like(fretted[0])
        for other in reversed(columns[:string]):
            linked |= above & (other == column)
            above &= other > column
        blocked = np.zeros_like(fretted[0])
        for other in columns[string + 1 :]:
            blocked |= (other >= 0) & (other < column)
        if string:
            paired = blocked & ~paired & (columns[string - 1] == column)
        joins = (blocked & paired) | (linked & ~blocked)
        starts.append(fretted[string] & ~joins)
    return starts


def count_presses(starts: list[NDArray[np.bool_]]) -> NDArray[np.int8]:
    """Presses a row, from `press_starts`.

    Returns:
        (rows,) int8.
    """
    presses = np.zeros(len(starts[0]), np.int8)
    for start in starts:
        presses += start
    return presses


def spread_fits(
    columns: Columns, starts: list[NDArray[np.bool_]], instrument: Instrument, hand: Hand
) -> NDArray[np.bool_]:
    """Rows whose presses, in fret order, each lie near enough to the next.

    A press lies where it holds its first string on the bass side.

    Args:
        columns: Frets by string, (strings) arrays of (rows,).
        starts: The first strings of presses, from `press_starts`.
        instrument: The instrument.
        hand: The hand.

    Returns:
        (rows,) boolean.
    """
    keys = [
        np.where(start, column.astype(np.int16) * MOST_STRINGS + string, np.int16(0))
        for string, (column, start) in enumerate(zip(columns, starts, strict=True))
    ]
    _sort_across(keys)
    near = _near_presses(instrument, hand)
    fits = np.ones(len(columns[0]), bool)
    for low, high in pairwise(keys):
        fits &= near[low, high]
    return fits


def _sort_across(keys: list[NDArray[np.int16]]) -> None:
    """Sort row by row, in place, by exchanges of neighbours."""
    for end in range(len(keys) - 1, 0, -1):
        for index in range(end):
            low = np.minimum(keys[index], keys[index + 1])
            np.maximum(keys[index], keys[index + 1], out=keys[index + 1])
            keys[index] = low


@functools.lru_cache(maxsize=16)
def _near_presses(instrument: Instrument, hand: Hand) -> NDArray[np.bool_]:
    """Whether two keys of presses lie within the spread; key 0 is no press."""
    size = (instrument.frets + 1) * MOST_STRINGS
    places = np.full(size, np.nan)
    for string in range(len(instrument.strings)):
        for fret in range(1, instrument.frets + 1):
            places[fret * MOST_STRINGS + string] = instrument.place_mm(string, fret)
    apart: NDArray[np.float64] = np.abs(places[:, None] - places[None, :])
    return ~(apart > hand.spread_mm + REACH_TOLERANCE_MM)
