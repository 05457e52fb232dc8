"""Figures: the notes and rests that write exact durations, tied where it takes several.

A duration is divided where it would hide a beat that is stronger than the one it starts on, and a
rest also where it would hide an equal one (common practice). Cells whose times are no halves of
halves are tuplets, 3 in the time of 2, 5 of 4 and so on; what no tuplet of reasonable size can
show keeps its exact duration under the nearest value.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import gcd
from typing import Final, Literal

import attrs

from gripwright_rhythm.export.musicxml.grid import INSIDE, Grid
from gripwright_rhythm.export.musicxml.note_value import (
    SHORTEST,
    NoteValue,
    longest_within,
    value_of,
)

MOST_IN_TUPLET: Final = 15
"""The largest odd number of notes in the time of a power of two that is written as a tuplet."""

Edge = Literal["start", "stop"]


@attrs.frozen
class Stretch:
    """What one voice does for a while: it sounds, or it rests.

    Args:
        start: Divisions from the start of the bar.
        end: Divisions from the start of the bar to its end.
        rest: Whether it rests.
    """

    start: int
    end: int
    rest: bool


@attrs.frozen
class Figure:
    """One written note or rest.

    Args:
        start: Divisions from the start of the bar.
        end: Divisions from the start of the bar to its end.
        index: The index of the stretch that it is part of.
        value: Its value; None for a rest of a whole bar.
        edge: Whether a tuplet starts or stops with it.
    """

    start: int
    end: int
    index: int
    value: NoteValue | None
    edge: Edge | None = None


@attrs.frozen
class _Zone:
    """A part of a bar that is written in one way.

    Args:
        start: Divisions from the start of the bar; it may lie before it.
        end: Divisions to its end.
        actual: Notes of its tuplet; 0 where it is too fine to be written.
        normal: In the time of how many.
    """

    start: int
    end: int
    actual: int
    normal: int


def figures_of(grid: Grid, stretches: Sequence[Stretch]) -> tuple[Figure, ...]:
    """Write what a voice does in a bar.

    Args:
        grid: The grid of the bar.
        stretches: What it does, without a gap.

    Returns:
        The notes and rests, which last exactly what the stretches last.

    Example:
        >>> from gripwright.meter import Meter
        >>> beat = Grid(Meter(4, 4), 0, 8, 2)
        >>> voice = [Stretch(0, 3, rest=False), Stretch(3, 8, rest=False)]
        >>> for figure in figures_of(beat, voice):
        ...     print(figure.index, figure.end - figure.start, figure.value.type, figure.value.dots)
        0 3 quarter 1
        1 1 eighth 0
        1 4 half 0
    """
    if len(stretches) == 1 and stretches[0].rest:
        return (Figure(0, grid.length, 0, None),)
    zones = tuple(_zones(grid, {place for one in stretches for place in (one.start, one.end)}))
    figures: list[Figure] = []
    for index, stretch in enumerate(stretches):
        place = stretch.start
        for zone in zones:
            if zone.end <= place or stretch.end <= zone.start:
                continue
            if place < zone.start:
                figures += _plain(grid, index, attrs.evolve(stretch, start=place, end=zone.start))
            place = max(zone.start, stretch.start)
            end = min(zone.end, stretch.end)
            figures += _in_zone(grid, index, place, end, zone)
            place = end
        if place < stretch.end:
            figures += _plain(grid, index, attrs.evolve(stretch, start=place))
    return tuple(_with_edges(figures, zones))


def _zones(grid: Grid, cuts: Iterable[int]) -> Iterator[_Zone]:
    """The parts of the bar that are no halves of halves, in order."""
    by_cell: dict[tuple[int, int], set[int]] = {}
    for cut in cuts:
        by_cell.setdefault(grid.cell_of(cut), set()).add(cut)
    for (start, end), inside in sorted(by_cell.items()):
        yield from _zones_in(start, end, inside - {start}, grid.divisions)


def _zones_in(start: int, end: int, cuts: set[int], divisions: int) -> Iterator[_Zone]:
    parts = _parts(start, end, cuts)
    odd, finest = _odd_part(parts), Fraction(end - start, 4 * divisions * parts)
    if odd == 1 and finest >= SHORTEST:
        return
    middle = (start + end) // 2
    if middle in cuts and 2 * middle == start + end:
        # A tuplet is no longer than it must be.
        yield from _zones_in(start, middle, {cut for cut in cuts if cut < middle}, divisions)
        yield from _zones_in(middle, end, {cut for cut in cuts if cut > middle}, divisions)
        return
    normal = 1 << (odd.bit_length() - 1)
    if odd > MOST_IN_TUPLET or finest * odd / normal < SHORTEST:
        yield _Zone(start, end, 0, 1)
    else:
        yield _Zone(start, end, odd, normal)


def _parts(start: int, end: int, cuts: set[int]) -> int:
    """The fewest equal parts between two places that have all cuts at their ends."""
    return (end - start) // gcd(end - start, *(cut - start for cut in cuts))


def _odd_part(number: int) -> int:
    return number // (number & -number)


def _in_zone(grid: Grid, index: int, start: int, end: int, zone: _Zone) -> Iterator[Figure]:
    whole = 4 * grid.divisions
    if zone.actual == 0:
        value = value_of(longest_within(Fraction(end - start, whole)))
        yield Figure(start, end, index, value)
        return
    while start < end:
        written = Fraction((end - start) * zone.actual, whole * zone.normal)
        value = value_of(written)
        if value is None:
            written = longest_within(written)
            value = value_of(written)
        if value is None:
            raise AssertionError(f"no value for {written}")
        lasts = int(written * whole * zone.normal / zone.actual)
        tuplet = attrs.evolve(value, actual=zone.actual, normal=zone.normal)
        yield Figure(start, start + lasts, index, tuplet)
        start += lasts


def _plain(grid: Grid, index: int, stretch: Stretch) -> Iterator[Figure]:
    """Divide what needs no tuplet."""
    start, end = stretch.start, stretch.end
    dots = not stretch.rest or grid.meter.compound
    value = value_of(Fraction(end - start, 4 * grid.divisions), dots=dots)
    inside = _places_inside(grid, stretch)
    strongest = min((level for _, level in inside), default=None)
    hidden = strongest is not None and _hides(grid.level(start), strongest, rest=stretch.rest)
    if value is not None and not hidden:
        yield Figure(start, end, index, value)
        return
    middle = _best_cut(grid, stretch, [place for place, level in inside if level == strongest])
    yield from _plain(grid, index, attrs.evolve(stretch, end=middle))
    yield from _plain(grid, index, attrs.evolve(stretch, start=middle))


def _hides(own: int, strongest: int, *, rest: bool) -> bool:
    """Whether what starts at one level may not cross a place of another."""
    return strongest <= own if rest else strongest < min(own, INSIDE)


def _places_inside(grid: Grid, stretch: Stretch) -> list[tuple[int, int]]:
    """Places strictly inside a stretch at which it can be divided, with their levels."""
    places = [(place, grid.level(place)) for place in grid.cells_inside(stretch.start, stretch.end)]
    if places:
        return places
    # Within one cell: halves of halves.
    start, end = grid.cell_of(stretch.start)
    step = end - start
    while step % 2 == 0 and not places:
        step //= 2
        first = start + ((stretch.start - start) // step + 1) * step
        places = [(place, grid.level(place)) for place in range(first, stretch.end, step)]
    return places


def _best_cut(grid: Grid, stretch: Stretch, places: list[int]) -> int:
    """The last of equal places before which one value will do, else the first."""
    whole = 4 * grid.divisions
    for place in reversed(places):
        if value_of(Fraction(place - stretch.start, whole), dots=not stretch.rest) is not None:
            return place
    return places[0]


def _with_edges(figures: list[Figure], zones: tuple[_Zone, ...]) -> Iterator[Figure]:
    edges: dict[int, Edge] = {}
    for zone in zones:
        if zone.actual:
            inside = [
                number
                for number, figure in enumerate(figures)
                if zone.start <= figure.start < zone.end
            ]
            if len(inside) > 1:
                edges[inside[0]], edges[inside[-1]] = "start", "stop"
    for number, figure in enumerate(figures):
        yield attrs.evolve(figure, edge=edges[number]) if number in edges else figure
