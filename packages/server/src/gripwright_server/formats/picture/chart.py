"""The picture of a chart: a page to read from, black on white unless asked otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from gripwright.neck.diagram.palette import THEMES
from gripwright.neck.diagram.picture import (
    Block,
    Line,
    Picture,
    Words,
    document,
    number,
    size_within,
    width_in_ems,
)
from gripwright_server.formats.picture.bars import (
    drawn_row,
    has_rhythm,
    row_height,
    rows_of,
    smallest_symbol,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright.neck.diagram.palette import Theme
    from gripwright.neck.diagram.picture import Mark
    from gripwright.tune.section import Section, Settings
    from gripwright_server.formats.picture.bars import Row
    from gripwright_server.operations.chart import ChartRequest, ChartResult

_A4_WIDTH_MM: Final = 210.0
_A4_HEIGHT_MM: Final = 297.0
_WIDTH: Final = 792.0
_MARGIN: Final = 44.0
_ROOM: Final = _WIDTH - 2 * _MARGIN
_FOOT: Final = 44.0
_SPACE: Final = 14.0
_MOST_SPARE: Final = 30.0
_HEADING: Final = 32.0
_ACROSS: Final = (4, 2, 1)
"""Bars of a row, the most whose chords can be read."""
_LEAST_SYMBOL: Final = 13.0
_GAP: Final = ", "


def picture(request: ChartRequest, result: ChartResult) -> str:
    """The chart as a page: four bars a row, fewer where they hold many chords.

    The page is A4 (ISO 216), and longer where the bars need more. Its description is the text of
    the chart.

    Args:
        request: Says how the page looks, and names the form.
        result: The chart.
    """
    theme = THEMES[request.theme]
    title = result.shown.title or _spoken(request.form) or "Chart"
    head, y = _head(title, result, theme)
    marks = list(head)
    across, rows = _rows(result)
    headings = [_heading_of(row, result) for row in rows]
    bars = sum(map(row_height, rows)) + _SPACE * len(rows)
    drawn = y + bars + _HEADING * sum(map(bool, headings)) + _FOOT
    height = max(drawn, _WIDTH * _A4_HEIGHT_MM / _A4_WIDTH_MM)
    # What the page has left over stands between the rows.
    spare = min(_MOST_SPARE, (height - drawn) / len(rows))
    width = _ROOM / across
    for row, heading in zip(rows, headings, strict=True):
        if heading is not None:
            marks += _heading(*heading, y, theme)
            y += _HEADING
        marks += drawn_row(row, _MARGIN, y, width, theme)
        y += row_height(row) + _SPACE + spare
    marks += _foot(result, height, theme)
    page = Picture(_WIDTH, height, tuple(marks), title=title, description=result.text)
    scale = _A4_WIDTH_MM / _WIDTH
    size = f"{number(_WIDTH * scale)}mm {number(height * scale)}mm"
    return document(page, shown=size, role="img", page=theme.page, parts=())


def _spoken(form: str | None) -> str:
    return (form or "").replace("-", " ").capitalize()


def _rows(result: ChartResult) -> tuple[int, list[Row]]:
    """The rows, and how many bars each has room for."""
    gripped = None if result.gripped is None else result.gripped.written
    for across in _ACROSS:
        rows = list(rows_of(result.shown.written, gripped, across))
        width = _ROOM / across
        sizes = (smallest_symbol(bar, bar.width * width) for row in rows for bar in row)
        if across == _ACROSS[-1] or min(sizes) >= _LEAST_SYMBOL:
            break
    return across, rows


def _head(title: str, result: ChartResult, theme: Theme) -> tuple[list[Mark], float]:
    """The title and what holds in the whole chart, over a rule; and where the bars start."""
    y = 46.0
    size = size_within(title, _ROOM, 30)
    marks: list[Mark] = [Words(_MARGIN, y, title, size, theme.ink, "start", bold=True)]
    gripped = None if result.gripped is None else result.gripped.settings
    line = [*_facts(result.sounding.settings, gripped)]
    if result.capo:
        line.append(f"capo at fret {result.capo}")
    y += 28
    for text in filter(None, (_GAP.join(line), *result.shown.comments)):
        marks.append(Words(_MARGIN, y, text, size_within(text, _ROOM, 14), theme.ink, "start"))
        y += 20
    y -= 4
    marks.append(Line(_MARGIN, y, _WIDTH - _MARGIN, y, 1.0, theme.wire))
    return marks, y + 18


def _facts(settings: Settings, gripped: Settings | None) -> Iterator[str]:
    """Key, metre, tempo and feel in words, as far as they are said."""
    if settings.key is not None:
        behind = None if gripped is None else gripped.key
        fingers = f" (gripped in {behind})" if behind not in {None, settings.key} else ""
        yield f"Key of {settings.key}{fingers}"
    if settings.meter is not None:
        yield str(settings.meter)
    if settings.tempo_bpm is not None:
        yield f"{settings.tempo_bpm} beats a minute"
    if settings.feel is not None:
        yield settings.feel


def _heading_of(row: Row, result: ChartResult) -> tuple[str | None, str] | None:
    """The name of the section that a row opens, and what it says about itself."""
    first = row[0].written
    if not first.opens:
        return None
    section: Section[Any] = result.sounding.sections[first.section]
    gripped = None if result.gripped is None else result.gripped.sections[first.section].settings
    facts = _GAP.join([*_facts(section.settings, gripped), *section.comments])
    return (section.name, facts) if section.name or facts else None


def _heading(name: str | None, facts: str, y: float, theme: Theme) -> Iterator[Mark]:
    """The letter of a section in a box, with what holds in it."""
    x = _MARGIN
    middle = y + 11
    if name is not None:
        size = size_within(name, _ROOM / 2, 16)
        width = max(24.0, width_in_ems(name) * size + 12)
        yield Block(x + width / 2, middle, width, 24, theme.page, theme.ink, 1.6)
        yield Words(x + width / 2, middle, name, size, theme.ink, bold=True)
        x += width + 10
    if facts:
        size = size_within(facts, _WIDTH - _MARGIN - x, 13)
        yield Words(x, middle, facts, size, theme.ink, "start")


def _foot(result: ChartResult, height: float, theme: Theme) -> Iterator[Mark]:
    """What the signs mean that not everyone knows, of those on the page."""
    bars: Sequence[Any] = result.shown.bars
    sentences = []
    if result.capo:
        sentences.append("Large: sounding; below: gripped.")
    if any(slot.held for bar in bars for slot in bar.slots):
        sentences.append("Outlined: struck once and held.")
    if any(bar.hits for bar in bars):
        sentences.append("Dots: hits, with their lengths.")
    if any(hit.push for bar in bars for hit in bar.hits or ()):
        sentences.append(">: already the next chord.")
    if any(has_rhythm(bar) for bar in result.shown.written):
        sentences.append("Thick slash or tick: a chord comes.")
    text = " ".join(sentences)
    if text:
        y = height - _FOOT / 2
        yield Words(_MARGIN, y, text, size_within(text, _ROOM, 11), theme.faint, "start")
