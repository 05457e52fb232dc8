"""Rows: which bars of a passage stand beside one another, and what is written over them.

Four bars stand in a row, and a section starts a row of its own, where the page has room for that
(common practice). A pickup stands before the bars of the first row; bars that only some choruses
have, and the ending, stand after the last.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import attrs

from gripwright_rhythm.export.sheet.card import cards_of
from gripwright_rhythm.export.sheet.drawn_bar import DrawnBar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from fractions import Fraction

    from gripwright_rhythm.export.sheet.passage import Other, Passage

APART: Final = 12.0
"""Points between bars that do not follow one another."""

_ACROSS: Final = 4
MOST_CARDS: Final = 4
"""Chords that a quarter of a row holds."""

GOOD_CARDS: Final = 3
"""Chords that a quarter of a row shows well."""

_QUARTERS_A_BAR: Final = 8


@attrs.frozen
class Cell:
    """A bar at its place in a row.

    Args:
        bar: The bar.
        label: What is written over it.
        apart: Whether it does not follow the bar before it.
        repeats: Whether a repeat starts with it.
        times: How often what ends with it is played.
        double: Whether a double line ends it.
        final: Whether it is the last of all.
        place: Its number in the form, from 1 after a pickup; 0 where it is none of the form.
    """

    bar: DrawnBar
    label: str = ""
    apart: bool = False
    repeats: bool = False
    times: int = 1
    double: bool = False
    final: bool = False
    place: int = 0

    @property
    def counted(self) -> bool:
        """Whether it is a whole bar of its row."""
        return self.place > 0 or (self.bar.number > 0 and not self.bar.pickup)


Row = tuple[Cell, ...]
"""Bars beside one another."""


def length_of(row: Row) -> Fraction:
    """Quarters in a row."""
    return sum((cell.bar.length for cell in row), start=0 * row[0].bar.length)


def gaps_of(row: Row) -> int:
    """Gaps between bars of a row that do not follow one another."""
    return sum(cell.apart for cell in row[1:])


def bars_across(bars: Iterable[DrawnBar], cards: int) -> int:
    """Bars that a row holds: four, and fewer where a bar has many chords or lasts long.

    Args:
        bars: The bars.
        cards: Chords for which a quarter of a row is wide enough.
    """
    least = 1
    for bar in bars:
        least = max(
            least,
            math.ceil(len(cards_of(bar)) / cards),
            math.ceil(bar.length / _QUARTERS_A_BAR),
        )
    return max(1, _ACROSS // least)


def rows_of(passage: Passage, across: int, *, by_section: bool) -> list[Row]:
    """Place the bars of a passage.

    Args:
        passage: The passage.
        across: Bars of a row, 1 or more.
        by_section: Whether a section starts a row of its own.
    """
    rows: list[list[Cell]] = [[]]
    counted = 0
    for cell in _cells(passage):
        starts = by_section and cell.bar.section is not None and counted > 0 and cell.place > 0
        if starts or (cell.counted and counted >= across):
            rows.append([])
            counted = 0
        rows[-1].append(cell)
        counted += cell.counted
    return [tuple(_labelled(row)) for row in rows if row]


def _labelled(row: Sequence[Cell]) -> Iterator[Cell]:
    """The cells of a row, with the sections and metres that start inside it."""
    before: Cell | None = None
    for cell in row:
        words = []
        if before is not None and cell.bar.section and cell.place and before.counted:
            words.append(f"[{cell.bar.section}]")
        if before is not None and cell.bar.meter != before.bar.meter:
            words.append(str(cell.bar.meter))
        yield attrs.evolve(cell, label="  ".join(filter(None, (*words, cell.label))))
        before = cell


def _cells(passage: Passage) -> list[Cell]:
    many = len(passage.choruses) > 1
    cells = []
    for bar in passage.lead_ins:
        label = "count-in" if bar is passage.lead_ins[0] else ""
        cells.append(Cell(bar, label=label))
    first = next((bar for bar in passage.bars if not bar.pickup), passage.bars[0])
    place = 0
    for bar in passage.bars:
        place += not bar.pickup
        last = bar is passage.bars[-1]
        cells.append(
            Cell(
                bar,
                place=0 if bar.pickup else place,
                repeats=many and bar is first,
                times=len(passage.choruses) if many and last else 1,
                double=last and not many and passage.ending is not None,
                final=last and not many and passage.ending is None,
            )
        )
    last_of_all = passage.choruses[-1]
    cells += [
        Cell(other.bar, label=_label(other, last_of_all), apart=True, double=True)
        for other in passage.others
    ]
    if passage.ending is not None:
        cells.append(Cell(passage.ending, label="ending", apart=many, final=True))
    return cells


def _label(other: Other, last: int) -> str:
    bar = f"bar {other.place}" if other.place else "pickup"
    if other.choruses == (last,):
        return f"{bar}, last chorus"
    return f"{bar}, {chorus_words(other.choruses)}"


def chorus_words(numbers: Sequence[int]) -> str:
    """Choruses by their numbers, such as "choruses 2 to 4".

    Example:
        >>> chorus_words([3]), chorus_words([2, 3, 4]), chorus_words([1, 3])
        ('chorus 3', 'choruses 2 to 4', 'choruses 1, 3')
    """
    if len(numbers) == 1:
        return f"chorus {numbers[0]}"
    if len(numbers) == numbers[-1] - numbers[0] + 1:
        return f"choruses {numbers[0]} to {numbers[-1]}"
    return f"choruses {', '.join(map(str, numbers))}"
