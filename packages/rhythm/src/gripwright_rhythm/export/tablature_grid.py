"""The columns of a tablature: one step of time is as wide everywhere, so that length is seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import ceil, lcm
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.tablature_bar import TabBar, TabChord

LEAST_COLUMNS_A_BEAT: Final = 4
"""Columns of a beat at least: its number, the half between, and room to read."""

ROUNDED_COLUMNS_A_BEAT: Final = 8
"""Columns of a beat where ends fall between columns: enough to tell short from long."""


@attrs.frozen
class TabGrid:
    """How time becomes columns.

    Args:
        per_quarter: Columns of a quarter.
        exact: Whether every start and end falls on a column; else they go to the nearest one.
    """

    per_quarter: int
    exact: bool

    def column(self, time: Fraction) -> int:
        """The column nearest to a time.

        Args:
            time: Quarters from the start of the bar.
        """
        return (2 * time.numerator * self.per_quarter + time.denominator) // (2 * time.denominator)


def grid_of(bars: Sequence[TabBar], room: int) -> TabGrid:
    """The narrowest columns on which everything can be read.

    Each attack has room for its fret and a sign after it, each beat four columns. Where starts
    and ends would need more than a line for a bar, ends go to the nearest column, and starts too
    where those alone would.

    Args:
        bars: The bars.
        room: Columns that a line has for bars.

    Raises:
        ConditionError: A beat that no line holds.
    """
    places = [place for bar in bars for place in (bar.length, *(time for time, _ in bar.beats))]
    starts = [*places, *(time for bar in bars for time in _starts(bar))]
    times = [*starts, *(time for bar in bars for time in _ends(bar))]
    longest = max(bar.length for bar in bars)
    pulse = max(bar.meter.pulse for bar in bars)
    beat = min(bar.meter.pulse for bar in bars)
    least = max([LEAST_COLUMNS_A_BEAT / beat, *(need for bar in bars for need in _needs(bar))])
    seen = max([least, *(need for bar in bars for need in _lengths(bar))])
    fine = max(seen, ROUNDED_COLUMNS_A_BEAT / beat)
    # Bars are broken at beats, or times fall between columns: whichever leaves more to be read.
    for span, line in ((longest, room), (pulse, room // 2)):
        for on_columns, wide, exact in (
            (times, seen, True),
            (times, least, True),
            (starts, fine, False),
            (starts, least, False),
        ):
            columns = _multiple(lcm(*(time.denominator for time in on_columns)), wide)
            if columns * span < line:
                return TabGrid(columns, exact)
    columns = _multiple(lcm(*(time.denominator for time in places)), least)
    if columns * pulse >= room:
        raise ConditionError(
            name="attacks",
            value=f"so close together that a quarter needs {columns} columns",
            expected=f"attacks so far apart that a line of {room} columns holds a beat",
        )
    return TabGrid(columns, exact=False)


def _multiple(base: int, least: Fraction) -> int:
    return base * ceil(least / base)


def _starts(bar: TabBar) -> Iterator[Fraction]:
    yield from (chord.onset for chord in bar.chords)
    yield from (note.onset for notes in (bar.bass, bar.root) for note in notes)
    yield from bar.clicks
    yield from (time for time, _ in bar.symbols)


def _ends(bar: TabBar) -> Iterator[Fraction]:
    yield from (chord.end for chord in bar.chords)
    yield from (end for chord in bar.chords for end in chord.ends)
    yield from (note.end for notes in (bar.bass, bar.root) for note in notes)


def _needs(bar: TabBar) -> Iterator[Fraction]:
    """Columns of a quarter that each attack needs for what is written at it."""
    chords = [chord for chord in bar.chords if chord.starts]
    digits = [_digits(chord) for chord in chords]
    yield from _room([chord.onset for chord in chords], digits, bar.length)
    for notes in (bar.bass, bar.root):
        begun = [note for note in notes if note.starts]
        yield from _room(
            [note.onset for note in begun], [len(note.name) for note in begun], bar.length
        )


def _lengths(bar: TabBar) -> Iterator[Fraction]:
    """Columns of a quarter with which no fret is wider than its chord is long."""
    for chord in bar.chords:
        if chord.starts:
            yield _digits(chord) / (chord.end - chord.onset)


def _digits(chord: TabChord) -> int:
    return max((len(str(fret)) for fret in chord.frets if fret >= 0), default=1)


def _room(onsets: Sequence[Fraction], signs: Iterable[int], end: Fraction) -> Iterator[Fraction]:
    following = [*onsets, end][1:]
    for onset, after, width in zip(onsets, following, signs, strict=True):
        # Of two at one place the second has the room.
        if after > onset:
            yield (width + 1) / (after - onset)
