"""Fingerings of many shapes at once: what `fingering_of` says, as columns.

Rows are grouped by their number of presses. In each group every way to give the presses to fingers
is weighed for all rows together, so that the work grows with the rows but not the steps.
"""

from __future__ import annotations

import functools
from itertools import accumulate, combinations, pairwise, product

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError
from gripwright.neck.fingering import USUAL_HAND
from gripwright.neck.hand import MOST_FINGERS, REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import MOST_STRINGS, Instrument
from gripwright.neck.presses import Columns, press_starts
from gripwright.neck.settle import inner_mutes
from gripwright.neck.strain import USUAL_WEIGHTS, StrainWeights

_ROWS_AT_ONCE = 1 << 15
_NOT_FRETTED = np.int16(np.iinfo(np.int16).max - 1)
_SILENT = np.int8(np.iinfo(np.int8).max)
# The key of a fretted string: its fret, its index, and a low bit where a press starts with it.
_START = np.int16(1)
_STRING_BITS = (MOST_STRINGS - 1).bit_length()
_STRING = np.int16((1 << _STRING_BITS) - 1)

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@attrs.frozen(eq=False)
class FingeredRows:
    """Fingers and strain of many shapes.

    Args:
        fingers: (rows, strings) int8, the finger on each string, 0 where none.
        strain: (rows,) float64, in mm of reach.
    """

    fingers: NDArray[np.int8]
    strain: Floats


def finger_rows(
    columns: Columns,
    instrument: Instrument,
    hand: Hand | None = None,
    weights: StrainWeights = USUAL_WEIGHTS,
) -> FingeredRows:
    """The fingers that press each shape with least strain, and that strain.

    Equal in every row to `gripwright.neck.fingering.fingering_of`.

    Args:
        columns: Frets by string from the bass side, (strings) arrays of (rows,) int8.
        instrument: The instrument.
        hand: The hand; the usual one if not given, with a fifth finger where a row needs it.
        weights: What each part of the strain weighs.

    Raises:
        ConditionError: A row of more presses than the hand has fingers.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> columns = [np.array([fret], np.int8) for fret in (1, 3, 3, 2, 1, 1)]
        >>> finger_rows(columns, guitar).fingers.tolist()
        [[1, 3, 4, 2, 1, 1]]
    """
    rows = len(columns[0])
    fingers = np.zeros((rows, len(columns)), np.int8)
    strain = np.zeros(rows)
    for first in range(0, rows, _ROWS_AT_ONCE):
        part = slice(first, first + _ROWS_AT_ONCE)
        _finger_some(
            [column[part] for column in columns],
            instrument,
            hand,
            weights,
            FingeredRows(fingers[part], strain[part]),
        )
    return FingeredRows(fingers, strain)


@attrs.frozen(eq=False)
class _Presses:
    """The presses of all rows end to end, each row's in order of fret and then string.

    Args:
        places: (fretted strings,) in mm, those of each press side by side.
        first: (presses,) where the strings of each begin in `places`.
        size: (presses,) how many strings each has.
        covered: (presses,) strings from its first to its last, 0 where it is one.
        clearing: (presses,) 1 where it covers several and an open or lower string sounds on its
            treble side.
        begin: (rows,) where the presses of each row begin.
        count: (rows,) how many each row has.
    """

    places: Floats
    first: Ints
    size: Ints
    covered: Floats
    clearing: Floats
    begin: Ints
    count: Ints


@attrs.frozen
class _Way:
    """A way to give presses to fingers.

    Args:
        fingers: The fingers of each press: one, or one for each of its strings.
    """

    fingers: tuple[tuple[int, ...], ...]

    @property
    def all_fingers(self) -> tuple[int, ...]:
        """The fingers in use, in order."""
        return tuple(finger for press in self.fingers for finger in press)


@attrs.frozen
class _Ways:
    """The ways that share presses out alike.

    Args:
        widths: For each press 1 where one finger holds it, else a finger for each string.
        ways: The ways, the lowest fingers first.
    """

    widths: tuple[int, ...]
    ways: tuple[_Way, ...]


def _finger_some(
    columns: Columns,
    instrument: Instrument,
    hand: Hand | None,
    weights: StrainWeights,
    out: FingeredRows,
) -> None:
    """Fill in the fingers and the strain of some rows."""
    keys = _sorted_keys(columns).ravel()
    fretted = np.flatnonzero(keys != _NOT_FRETTED)
    row, key = fretted // len(columns), keys[fretted]
    starts = (key & _START).astype(bool)
    string = (key >> 1) & _STRING
    presses = _presses(columns, row, key, starts, instrument)
    most = int(presses.count.max())
    limit = MOST_FINGERS if hand is None else hand.fingers
    if most > limit:
        raise ConditionError(name="presses", value=most, expected=f"at most {limit}")

    table = _finger_table(hand)
    entries = np.zeros(len(presses.first), np.intp)
    for count in range(1, most + 1):
        rows = np.flatnonzero(presses.count == count)
        begin = presses.begin[rows]
        out.strain[rows], way = _least(presses, begin, count, hand, weights)
        for nth in range(count):
            entries[begin + nth] = table.entry(count, way, nth)
    press = np.cumsum(starts) - 1
    within = np.arange(len(fretted)) - presses.first[press]
    # A press of one finger has that finger in every place of its entry.
    np.minimum(within, MOST_FINGERS - 1, out=within)
    out.fingers.reshape(-1)[row * len(columns) + string] = table.fingers[entries[press] + within]
    out.strain[:] = _fixed_strain(columns, instrument, weights) + out.strain


def _sorted_keys(columns: Columns) -> NDArray[np.int16]:
    """Fretted strings of each row by fret and string; the low bit marks where a press starts."""
    keys = np.empty((len(columns[0]), len(columns)), np.int16)
    for string, (column, start) in enumerate(zip(columns, press_starts(columns), strict=True)):
        place = (column.astype(np.int16) << _STRING_BITS) + np.int16(string)
        keys[:, string] = np.where(column > 0, (place << 1) + start, _NOT_FRETTED)
    keys.sort(axis=1)
    return keys


def _presses(
    columns: Columns,
    row: Ints,
    key: NDArray[np.int16],
    starts: NDArray[np.bool_],
    instrument: Instrument,
) -> _Presses:
    """The presses of rows, from the rows and the keys of their fretted strings.

    In order of fret and string, strings of one press stand side by side.
    """
    first = np.flatnonzero(starts)
    last = np.append(first, len(key))[1:] - 1
    low, high = key[first] >> 1, key[last] >> 1
    fret, string = low >> _STRING_BITS, low & _STRING
    count = np.bincount(row[first], minlength=len(columns[0]))
    several = high > low
    clearing = several & (_lowest_beyond(columns)[row[first], string] < fret)
    return _Presses(
        places=_places(instrument)[key >> 1],
        first=first,
        size=last - first + 1,
        covered=((high - low + 1) * several).astype(np.float64),
        clearing=clearing.astype(np.float64),
        begin=np.cumsum(count) - count,
        count=count,
    )


def _lowest_beyond(columns: Columns) -> NDArray[np.int8]:
    """For each string, the lowest fret that sounds on its treble side."""
    beyond = np.full((len(columns[0]), len(columns)), _SILENT, np.int8)
    lowest = beyond[:, -1].copy()
    for string in range(len(columns) - 1, 0, -1):
        np.minimum(lowest, np.where(columns[string] < 0, _SILENT, columns[string]), out=lowest)
        beyond[:, string - 1] = lowest
    return beyond


@functools.lru_cache(maxsize=16)
def _places(instrument: Instrument) -> Floats:
    """Where each key of a fretted string lies along the neck, in mm."""
    places = np.zeros((instrument.frets + 1) << _STRING_BITS)
    for string in range(len(instrument.strings)):
        for fret in range(1, instrument.frets + 1):
            places[(fret << _STRING_BITS) + string] = instrument.place_mm(string, fret)
    return places


def _fingers_for(count: int, hand: Hand | None) -> int:
    """The fingers that some presses may have."""
    return max(USUAL_HAND.fingers, count) if hand is None else hand.fingers


@functools.lru_cache(maxsize=32)
def _all_ways(count: int, fingers: int) -> tuple[_Ways, ...]:
    """Every way to give some presses to fingers, the fewest fingers first."""
    shared = product(range(1, fingers + 1), repeat=count)
    return tuple(
        _Ways(
            widths,
            tuple(
                _Way(_cut(chosen, widths))
                for chosen in combinations(range(1, fingers + 1), sum(widths))
            ),
        )
        for widths in sorted(shared, key=lambda widths: (sum(widths), widths))
        if sum(widths) <= fingers
    )


def _cut(fingers: tuple[int, ...], widths: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    return tuple(fingers[low:high] for low, high in pairwise(accumulate(widths, initial=0)))


@attrs.frozen(eq=False)
class _FingerTable:
    """The fingers of every way, for each number of presses.

    Args:
        fingers: int8, an entry of `MOST_FINGERS` for each press of each way: the finger on each
            of its strings.
        offsets: Where the entries for each number of presses begin.
    """

    fingers: NDArray[np.int8]
    offsets: tuple[int, ...]

    def entry(self, count: int, way: Ints, nth: int) -> Ints:
        """Where the entry of a press begins, by the way of its row among those of its number."""
        return self.offsets[count] + (way * count + nth) * MOST_FINGERS


@functools.lru_cache(maxsize=16)
def _finger_table(hand: Hand | None) -> _FingerTable:
    fingers: list[int] = []
    offsets = [0]
    for count in range(1, MOST_FINGERS + 1):
        offsets.append(len(fingers))
        for shared in _all_ways(count, _fingers_for(count, hand)):
            for way in shared.ways:
                for press in way.fingers:
                    fingers += [*press, *[press[-1]] * (MOST_FINGERS - len(press))]
    return _FingerTable(np.array(fingers, np.int8), tuple(offsets))


def _least(
    presses: _Presses,
    begin: Ints,
    count: int,
    hand: Hand | None,
    weights: StrainWeights,
) -> tuple[Floats, Ints]:
    """The least strain of rows of equally many presses, and the number of the way that has it."""
    fingers = _fingers_for(count, hand)
    spread_mm = (hand or USUAL_HAND).spread_mm + REACH_TOLERANCE_MM
    sizes = [presses.size[begin + nth] for nth in range(count)]
    least = np.full(len(begin), np.inf)
    best = np.zeros(len(begin), np.intp)
    number = 0
    for shared in _all_ways(count, fingers):
        some = _rows_of(sizes, shared.widths)
        gaps = _gaps(presses, begin[some], shared.widths)
        if sum(shared.widths) == fingers > count:
            kept = functools.reduce(np.logical_and, [np.abs(gap) <= spread_mm for gap in gaps])
            some, gaps = some[kept], [gap[kept] for gap in gaps]
        if len(some):
            barres = [
                (presses.covered[begin[some] + nth], presses.clearing[begin[some] + nth])
                for nth in range(count)
            ]
            strains = np.stack([_strain(way, gaps, barres, weights) for way in shared.ways])
            lowest = strains.min(axis=0)
            better = np.flatnonzero(lowest < least[some])
            least[some[better]] = lowest[better]
            best[some[better]] = number + strains[:, better].argmin(axis=0)
        number += len(shared.ways)
    return least, best


def _rows_of(sizes: list[Ints], widths: tuple[int, ...]) -> Ints:
    """Rows whose presses can be shared out so: a finger for each string gives all strings one."""
    fits = np.ones(len(sizes[0]), bool)
    for size, width in zip(sizes, widths, strict=True):
        if width > 1:
            fits &= size == width
    return np.flatnonzero(fits)


def _gaps(presses: _Presses, begin: Ints, widths: tuple[int, ...]) -> list[Floats]:
    """How far each finger of rows lies above the one before, in mm."""
    places = [
        presses.places[presses.first[begin + nth] + string]
        for nth, width in enumerate(widths)
        for string in range(width)
    ]
    return [far - near for near, far in pairwise(places)]


def _strain(
    way: _Way,
    gaps: list[Floats],
    barres: list[tuple[Floats, Floats]],
    weights: StrainWeights,
) -> Floats:
    """The parts of the strain that depend on which fingers press; summed as `Strain.chosen`."""
    between, lying = np.zeros(len(barres[0][0])), np.zeros(len(barres[0][0]))
    for (low, high), gap in zip(pairwise(way.all_fingers), gaps, strict=True):
        between += weights.gap(low, high, gap)
    for fingers, (covered, clearing) in zip(way.fingers, barres, strict=True):
        if len(fingers) == 1:
            lying += weights.lying(fingers[0], covered, clearing)
    return between + lying + weights.held(way.all_fingers, len(way.fingers))


def _fixed_strain(columns: Columns, instrument: Instrument, weights: StrainWeights) -> Floats:
    """The parts of the strain that any fingers have: reach and inner mutes."""
    near = np.full(len(columns[0]), np.inf)
    far = np.full(len(columns[0]), -np.inf)
    for string, column in enumerate(columns):
        places = [instrument.place_mm(string, fret) for fret in range(1, instrument.frets + 1)]
        np.minimum(near, np.array([np.inf, *places, np.inf])[column], out=near)
        np.maximum(far, np.array([-np.inf, *places, -np.inf])[column], out=far)
    mutes = np.zeros(len(columns[0]), np.int8)
    for mask in inner_mutes(columns):
        mutes += mask
    reach: Floats = np.maximum(far - near, 0.0)
    return weights.reach * reach + weights.inner_mute * mutes
