"""Overviews: rhythm patterns in rows, each as a strip of time beside its sentence.

For the whole ladder of practice on one or two pages, and for lists of patterns.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright.meter import RhythmPattern
from gripwright_rhythm.click import Click
from gripwright_rhythm.export.sheet.face import cut, fitted, lines_of, readable
from gripwright_rhythm.export.sheet.foot import Foot
from gripwright_rhythm.export.sheet.page import Page
from gripwright_rhythm.export.sheet.strip import (
    AXIS,
    STANDS_OUT,
    Kind,
    Sounding,
    Strip,
    Tick,
    drawn_strip,
    written_ticks,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright.meter import Meter
    from gripwright.meter.pattern import Cell
    from gripwright_rhythm.export.sheet.colours import Colours
    from gripwright_rhythm.export.sheet.paper import Paper

MOST_BARS: Final = 8
"""Bars that a strip of an overview shows at most."""

LOWEST_ROW: Final = 30.0
HIGHEST_ROW: Final = 46.0
_HEAD: Final = 46.0
_NUMBER: Final = 22.0
_WORDS: Final = 0.34
_APART: Final = 14.0
_SENTENCE: Final = 7.6
_LINE: Final = 9.0
_CAPTION: Final = 6.2
_CAPTIONS: Final = 8.0
_TRACK: Final = 8.0
_HIGHEST_TRACK: Final = 13.0
_ARROW: Final = 8.0
_EMPTY: Final = "yours to choose"


@attrs.frozen
class Example:
    """A pattern that an overview shows.

    Args:
        pattern: The pattern; None where the player chooses.
        click: What clicks, or None for nothing.
        words: What stands over the strip.
    """

    pattern: RhythmPattern | None
    click: Click | None = None
    words: str = ""


@attrs.frozen
class OverviewRow:
    """A row of an overview.

    Args:
        number: Its number, or a few letters.
        sentence: What it is for.
        examples: The patterns beside one another: two have the same width in every row.
    """

    number: str
    sentence: str
    examples: tuple[Example, ...]


def overview_pages(
    rows: Sequence[OverviewRow],
    meter: Meter,
    *,
    title: str,
    note: str,
    paper: Paper,
    colours: Colours,
) -> tuple[Page, ...]:
    """Draw rows of patterns, on as few pages as hold them.

    Args:
        rows: The rows, one or more.
        meter: The metre of all patterns.
        title: What stands at the top.
        note: What stands under it.
        paper: The paper.
        colours: The colours.
    """
    foot = Foot((), paper, frozenset({"long", "short", "approach", "push", "beat", "click"}))
    room = paper.height - 2 * paper.margin - foot.height - _HEAD
    number_of = math.ceil(len(rows) / max(1, int(room // LOWEST_ROW)))
    each = math.ceil(len(rows) / number_of)
    height = min(HIGHEST_ROW, room / each)
    pages = []
    for number in range(number_of):
        count = f"page {number + 1} of {number_of}" if number_of > 1 else ""
        marks = list(_head(title, note, count, paper, colours))
        y = paper.margin + _HEAD
        for row in rows[number * each : (number + 1) * each]:
            marks += _row(row, meter, y=y, height=height, paper=paper, colours=colours)
            y += height
        marks += foot.marks(colours)
        name = ", ".join(filter(None, (readable(title), count)))
        pages.append(Page(paper, colours.ground, tuple(marks), name, note))
    return tuple(pages)


def pattern_strip(pattern: RhythmPattern | None, meter: Meter, click: Click | None) -> Strip:
    """A pattern as a strip: over again, until the clicks come round as well.

    Args:
        pattern: The pattern, or None for bars without one.
        meter: The metre.
        click: What clicks, or None for nothing.

    Example:
        >>> from gripwright.meter import Meter, RhythmPattern
        >>> strip = pattern_strip(RhythmPattern.parse("2'"), Meter(), None)
        >>> [(str(one.start), str(one.end), one.kind) for one in strip.soundings]
        [('1', '2', 'short')]
    """
    own = 1 if pattern is None else pattern.bars
    bars = min(MOST_BARS, math.lcm(own, _click_bars(click)))
    length = bars * meter.length
    soundings: list[Sounding] = []
    if pattern is not None:
        start = Fraction(0)
        while start < length:
            soundings += [
                _sounding(cell, start, length)
                for cell in pattern.changing_cells
                if cell.attack is not None and start + cell.onset < length
            ]
            start += pattern.length
    ticks: list[Tick] = []
    clicks: list[tuple[Fraction, bool]] = []
    for bar in range(bars):
        zero = bar * meter.length
        written = written_ticks(meter, Fraction(0), meter.length)
        ticks += [Tick(zero + tick.time, tick.text) for tick in written]
        if click is not None:
            beats = click.beats_in(meter, bar)
            clicks += [(zero + meter.onset_of(beat), False) for beat in beats]
    return Strip(length, tuple(soundings), tuple(ticks), tuple(clicks))


def _click_bars(click: Click | None) -> int:
    """Bars after which clicks come round."""
    if click is None:
        return 1
    if click.kind == "on-off":
        return click.on + click.off
    return 2 if click.kind == "every-other" else 1


def _sounding(cell: Cell, start: Fraction, length: Fraction) -> Sounding:
    attack = cell.attack
    assert attack is not None  # noqa: S101 - the caller's condition
    kind: Kind = "long"
    if attack.approach is not None:
        kind = "approach"
    elif attack.length == "short":
        kind = "short"
    # A cell that goes on from the end of the pattern has its attack later.
    attacked = cell.onset == attack.onset
    end = min(start + cell.onset + cell.length, length)
    tag = "\u2192" if attack.push and attacked else ""
    return Sounding(start + cell.onset, end, kind, attacked, tag=tag)


def _head(
    title: str, note: str, count: str, paper: Paper, colours: Colours
) -> Iterator[diagram.Mark]:
    x, y = paper.margin, paper.margin
    text = readable(title)
    size = fitted(text, paper.room - 80, 20.0, 9.0, bold=True)
    shown = cut(text, paper.room - 80, size, bold=True)
    yield diagram.Words(x, y + 10, shown, size, colours.ink, "start", bold=True)
    yield diagram.Words(paper.right, y + 10, count, 9.0, colours.faint, "end")
    words = readable(note)
    size = fitted(words, paper.room, 9.0, 6.0)
    yield diagram.Words(x, y + 28, cut(words, paper.room, size), size, colours.ink, "start")


def _row(
    row: OverviewRow, meter: Meter, *, y: float, height: float, paper: Paper, colours: Colours
) -> Iterator[diagram.Mark]:
    x, middle = paper.margin, y + height / 2 - 2.0
    yield diagram.Line(x, y, paper.right, y, 0.3, colours.guide)
    number = fitted(row.number, _NUMBER - 4, 13.0, 5.0, bold=True)
    yield diagram.Words(x, middle, row.number, number, colours.ink, "start", bold=True)
    words = paper.room * _WORDS - _NUMBER - _APART
    most = max(1, int((height - 2.0) // _LINE))
    lines = lines_of(readable(row.sentence), words, _SENTENCE)
    if len(lines) > most:
        lines = [*lines[: most - 1], cut(" ".join(lines[most - 1 :]), words, _SENTENCE)]
    at = middle - (len(lines) - 1) * _LINE / 2
    for line in lines:
        yield diagram.Words(x + _NUMBER, at, line, _SENTENCE, colours.ink, "start")
        at += _LINE
    left = x + paper.room * _WORDS
    share = (paper.right - left + _APART) / max(2, len(row.examples))
    for place, example in enumerate(row.examples):
        yield from _example(
            example,
            meter,
            x=left + place * share,
            y=y,
            width=share - _APART,
            height=height,
            colours=colours,
        )


def _example(
    example: Example,
    meter: Meter,
    *,
    x: float,
    y: float,
    width: float,
    height: float,
    colours: Colours,
) -> Iterator[diagram.Mark]:
    strip = pattern_strip(example.pattern, meter, example.click)
    scale = width / float(strip.length)
    track = min(_HIGHEST_TRACK, max(_TRACK, height - AXIS - _CAPTIONS - STANDS_OUT - 3.0))
    top = y + _CAPTIONS + STANDS_OUT + 0.5
    words = readable(example.words) or ("" if example.pattern else _EMPTY)
    size = fitted(words, width, _CAPTION, 4.5)
    shown = cut(words, width, size)
    yield diagram.Words(x, y + _CAPTIONS / 2 + 0.5, shown, size, colours.faint, "start")
    yield from drawn_strip(strip, x, top, scale=scale, height=track, colours=colours)
    for one in strip.soundings:
        left, room = x + float(one.start) * scale, float(one.end - one.start) * scale
        if one.tag and room > 2 * _ARROW:
            at = left + room / 2
            yield diagram.Words(at, top + track / 2, one.tag, _ARROW, colours.ink, bold=True)
    bars = round(strip.length / meter.length)
    for bar in range(bars + 1):
        at = x + bar * float(meter.length) * scale
        yield diagram.Line(at, top - 1.0, at, top + track, 0.6, colours.ink)
