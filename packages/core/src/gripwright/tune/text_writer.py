"""The writer of charts: from sections to lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, Final

from gripwright.tune.bar import OPEN, PLAIN
from gripwright.tune.section import Section, Settings
from gripwright.tune.text_bar import hits_text, slots_text
from gripwright.tune.text_settings import pickup_line, settings_lines
from gripwright.tune.written import WrittenBar, write_out

BARS_IN_LINE: Final = 4


def chart_lines(
    sections: Sequence[Section[Any]],
    settings: Settings,
    title: str | None,
    pickup: Fraction,
    comments: Sequence[str],
) -> Iterator[str]:
    r"""Write a chart: at most four bars a line, a new line after each repeat.

    The arguments are those of `Chart`.

    Example:
        >>> from gripwright import Chart
        >>> print(Chart.parse("key:F; a sketch\n|:Gm7 C7|Fmaj7:| x3"))
        key: F
        ; a sketch
        |: Gm7 C7 | Fmaj7 :| x3
    """
    bars = list(write_out(sections, settings, pickup))
    if title is not None:
        yield f"title: {title}"
    yield from settings_lines(settings)
    if pickup:
        yield pickup_line(pickup, bars[0].meter)
    yield from map(_comment, comments)
    place = 0
    for number, section in enumerate(sections):
        if number or section.name or section.comments or section.settings != Settings():
            yield f"[{section.name or ''}]"
        yield from settings_lines(section.settings)
        yield from map(_comment, section.comments)
        mine = bars[place : place + len(section.bars)]
        yield from map(_line, _lines(mine))
        place += len(section.bars)


def _lines(bars: Sequence[WrittenBar[Any]]) -> Iterator[Sequence[WrittenBar[Any]]]:
    """The bars of a section, line by line; a pickup makes its line no shorter."""
    start, room = 0, BARS_IN_LINE + int(bool(bars[0].lead_in))
    for stop, written in enumerate(bars, 1):
        last = stop == len(bars)
        over = written.bar.repeat_end is not None and not (last or bars[stop].bar.endings)
        if last or over or stop - start == room:
            yield bars[start:stop]
            start, room = stop, BARS_IN_LINE


def _comment(text: str) -> str:
    return f"; {text}".rstrip()


def _line(bars: Sequence[WrittenBar[Any]]) -> str:
    words: list[str] = []
    ended = "|"
    for written in bars:
        bar = written.bar
        if bar.repeat_start:
            words += ([] if ended == "|" else [ended]) + ["|:"]
        elif not bar.endings:
            words.append(ended)
        if bar.endings:
            passes = ",".join(map(str, bar.endings))
            if bar.repeat_start or ended not in {"|", ":|"}:
                words += [] if bar.repeat_start else [ended]
                ended = "|"
            words.append(f"{ended}{passes}.")
        words += _content(written)
        ended = "|" if bar.repeat_end is None else ":|"
        if bar.repeat_end == OPEN:
            ended += " open"
        elif bar.repeat_end not in {None, PLAIN}:
            ended += f" x{bar.repeat_end}"
    return " ".join([*words, ended])


def _content(written: WrittenBar[Any]) -> Iterator[str]:
    bar = written.bar
    if bar.meter is not None:
        yield str(bar.meter)
    if bar.segno:
        yield "Segno"
    if bar.coda:
        yield "Coda"
    if bar.same:
        yield "%"
    else:
        yield slots_text(bar.slots, written.meter, written.lead_in)
        if bar.hits is not None:
            yield hits_text(bar.hits, written.meter, written.lead_in)
    if bar.to_coda:
        yield "To Coda"
    if bar.fine:
        yield "Fine"
    if bar.jump is not None:
        yield bar.jump
