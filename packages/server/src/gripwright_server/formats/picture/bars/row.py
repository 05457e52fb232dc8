"""A row of bars: from top to bottom words, brackets of endings, chords, grips and rhythm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright.neck.diagram.picture import Line, Words, size_within
from gripwright.tune.bar import OPEN, PLAIN
from gripwright_server.formats.picture.bars.barline import bar_line
from gripwright_server.formats.picture.bars.content import contents, inset
from gripwright_server.formats.picture.bars.rhythm import has_rhythm
from gripwright_server.formats.picture.bars.space import Space

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.neck.diagram.palette import Theme
    from gripwright.neck.diagram.picture import Mark
    from gripwright.tune.bar import Bar
    from gripwright_server.formats.picture.bars.rows import PlacedBar, Row

_WORDS: Final = 18.0
_BRACKET: Final = 19.0
_SYMBOLS: Final = 42.0
_GRIPPED: Final = 20.0
_RHYTHM: Final = 20.0
_WORD_SIZE: Final = 12.5


@attrs.frozen
class _Lanes:
    """How high each lane of a row is; 0 where the row has nothing for it."""

    words: float
    bracket: float
    gripped: float
    rhythm: float

    @classmethod
    def of(cls, row: Row) -> _Lanes:
        signs = [bar.written.bar for bar in row]
        return cls(
            words=_WORDS * any(_before(bar) or _after(bar) for bar in signs),
            bracket=_BRACKET * any(bar.bracket is not None for bar in row),
            gripped=_GRIPPED * any(bar.gripped is not None for bar in row),
            rhythm=_RHYTHM * any(has_rhythm(bar.written) for bar in row),
        )


def row_height(row: Row) -> float:
    """How high a row is.

    Args:
        row: The row.

    Example:
        >>> from gripwright import Chart
        >>> from gripwright_server.formats.picture.bars.rows import rows_of
        >>> (row,) = rows_of(Chart.parse("| Dm7 G7 | Cmaj7 |").written, None, 4)
        >>> row_height(row)
        42.0
    """
    lanes = _Lanes.of(row)
    return _SYMBOLS + lanes.words + lanes.bracket + lanes.gripped + lanes.rhythm


def drawn_row(row: Row, x: float, y: float, width: float, theme: Theme) -> Iterator[Mark]:
    """Draw a row.

    Args:
        row: The row.
        x: Its left edge.
        y: Its upper edge.
        width: The width of a usual bar.
        theme: The colours.

    Example:
        >>> from gripwright import Chart
        >>> from gripwright_server.formats.picture.bars.rows import rows_of
        >>> (row,) = rows_of(Chart.parse("| Dm7 G7 | Cmaj7 |").written, None, 4)
        >>> from gripwright.neck.diagram import THEMES, Words
        >>> marks = drawn_row(row, 0.0, 0.0, 160.0, THEMES["light"])
        >>> [mark.text for mark in marks if isinstance(mark, Words)]
        ['4', '4', 'Dm7', 'G7', 'Cmaj7']
    """
    lanes = _Lanes.of(row)
    top = y + lanes.words + lanes.bracket
    bottom = y + row_height(row)
    symbol_y = top + _SYMBOLS / 2
    before = None
    for bar in row:
        left = x + bar.column * width
        right = left + bar.width * width
        yield from bar_line(before, bar, left, top=top, bottom=bottom, theme=theme)
        yield from _words(bar.written.bar, left, right, y + _WORDS / 2 - 1, theme)
        if bar.bracket is not None:
            yield from _bracket(bar, left, right, top, theme)
        start, end = inset(bar, left, right)
        gripped_y = top + _SYMBOLS + _GRIPPED / 2 - 6
        rhythm_y = bottom - _RHYTHM / 2
        yield from contents(bar, Space(start, end, symbol_y, gripped_y, rhythm_y), theme)
        before = bar
    if before is not None:
        edge = x + (before.column + before.width) * width
        yield from bar_line(before, None, edge, top=top, bottom=bottom, theme=theme)


def _before(bar: Bar[Any]) -> str:
    """The words over the start of a bar."""
    signs = ("Segno" if bar.segno else "", "Coda" if bar.coda else "")
    return ", ".join(filter(None, signs))


def _after(bar: Bar[Any]) -> str:
    """The words over the end of a bar."""
    times = ""
    if bar.repeat_end == OPEN:
        times = "open"
    elif bar.repeat_end is not None and bar.repeat_end != PLAIN:
        times = f"x{bar.repeat_end}"
    signs = ("To Coda" if bar.to_coda else "", "Fine" if bar.fine else "", bar.jump or "", times)
    return ", ".join(filter(None, signs))


def _words(bar: Bar[Any], left: float, right: float, y: float, theme: Theme) -> Iterator[Mark]:
    before, after = _before(bar), _after(bar)
    room = (right - left) / (2 if before and after else 1) - 4
    if before:
        size = size_within(before, room, _WORD_SIZE)
        yield Words(left, y, before, size, theme.ink, "start", bold=True)
    if after:
        size = size_within(after, room, _WORD_SIZE)
        yield Words(right, y, after, size, theme.ink, "end", bold=True)


def _bracket(bar: PlacedBar, left: float, right: float, top: float, theme: Theme) -> Iterator[Mark]:
    """The line over an ending, with its number where it starts."""
    y = top - _BRACKET + 3
    if bar.bracket is None:
        return
    start = left + (2 if bar.bracket.text else 0)
    end = right - (2 if bar.bracket.ends else 0)
    yield Line(start, y, end, y, 1.2, theme.ink)
    if bar.bracket.text:
        yield Line(start, y, start, top - 3, 1.2, theme.ink)
        size = size_within(bar.bracket.text, right - left - 10, 12)
        yield Words(left + 7, y + 8, bar.bracket.text, size, theme.ink, "start")
    if bar.bracket.ends:
        yield Line(end, y, end, top - 3, 1.2, theme.ink)
