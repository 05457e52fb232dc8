"""A chart for people: its bars under one another, with what is gripped behind a capo."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.chart import ChartResult

_ACROSS: Final = (4, 2, 1)
"""Bars of a line, the most that fit; a pickup stands before them."""

_MARGIN: Final = 4


def lines(result: ChartResult, screen: Screen) -> Iterator[str]:
    """The text of the chart with its bars in columns, numbered, and how long it is.

    Args:
        result: The chart.
        screen: Gives the width; fewer bars stand in a line where four have no room.
    """
    shown = _Bars.of(result.text)
    gripped = None if result.gripped is None else _Bars.of(str(result.gripped))
    across = next(
        (number for number in _ACROSS if _width(shown, gripped, number) <= screen.width), 1
    )
    widths = _widths(shown, gripped, across)
    number = 1
    for place, block in enumerate(shown.blocks):
        if isinstance(block, str):
            yield _setting(block, None if gripped is None else gripped.blocks[place], screen)
            continue
        under = None if gripped is None else gripped.blocks[place]
        for start, end in _cuts(len(block) - 1, across, first=number == 1 and shown.pickup):
            yield f"{number:>{_MARGIN - 1}} {_row(block[start : end + 1], widths)}"
            if under is not None and not isinstance(under, str):
                row = _row([("", content) for _, content in under[start:end]], widths)
                yield screen.faint(f"{'':{_MARGIN}}{row}")
            number += end - start
    yield ""
    yield screen.faint(_foot(result))
    if result.capo:
        yield screen.faint(f"Capo at fret {result.capo}: above what sounds, below what is gripped")


_Block = list[tuple[str, str]]
"""Bars with the line before each; the last is the line at the end, without content."""


class _Bars:
    """The text of a chart, taken apart: lines of text, and blocks of bars."""

    def __init__(self, blocks: list[str | _Block], *, pickup: bool) -> None:
        self.blocks = blocks
        self.pickup = pickup

    @classmethod
    def of(cls, text: str) -> _Bars:
        blocks: list[str | _Block] = []
        for line in text.splitlines():
            # Only lines of bars hold a bar line: names cannot.
            if line.startswith(";") or "|" not in line:
                blocks.append(line)
                continue
            blocks.append(_bars(line))
        return cls(blocks, pickup="\npickup:" in f"\n{text}")


def _bars(line: str) -> _Block:
    """Split a line of bars as a chart prints it."""
    bars: _Block = []
    for word in line.split():
        is_times = bars and not bars[-1][1] and bars[-1][0].endswith(":|")
        if "|" in word:
            if bars and not bars[-1][1]:
                bars[-1] = (f"{bars[-1][0]} {word}", "")
            else:
                bars.append((word, ""))
        elif is_times and (word == "open" or (word[0] == "x" and word[1:].isdigit())):
            bars[-1] = (f"{bars[-1][0]} {word}", "")
        else:
            sign, content = bars[-1]
            bars[-1] = (sign, f"{content} {word}".strip())
    return bars


def _cuts(bars: int, across: int, *, first: bool) -> Iterator[tuple[int, int]]:
    """Where the rows of a block start and end; a pickup stands before the first."""
    start = 0
    while start < bars:
        end = min(bars, start + across + int(first and start == 0))
        yield start, end
        start = end


def _widths(shown: _Bars, gripped: _Bars | None, across: int) -> list[tuple[int, int]]:
    """The widths of the line before each bar of a row and of its content."""
    widths: list[tuple[int, int]] = []
    for bars in filter(None, (shown, gripped)):
        first = bars.pickup
        for block in bars.blocks:
            if isinstance(block, str):
                continue
            for start, end in _cuts(len(block) - 1, across, first=first):
                row = block[start : end + 1]
                cells = [(len(sign), len(content)) for sign, content in row[:-1]]
                cells.append((len(row[-1][0]), 0))
                widths = [
                    (max(one[0], two[0]), max(one[1], two[1]))
                    for one, two in itertools.zip_longest(widths, cells, fillvalue=(0, 0))
                ]
            first = False
    return widths


def _width(shown: _Bars, gripped: _Bars | None, across: int) -> int:
    widths = _widths(shown, gripped, across)
    return _MARGIN + sum(sign + content + 2 for sign, content in widths)


def _row(bars: Sequence[tuple[str, str]], widths: Sequence[tuple[int, int]]) -> str:
    *others, (last, _) = bars if bars[-1][0] else [*bars, ("", "")]
    cells = [
        f"{sign.ljust(width[0])} {content.ljust(width[1])}"
        for (sign, content), width in zip(others, widths, strict=False)
    ]
    return " ".join([*cells, last])


def _setting(text: str, gripped: object, screen: Screen) -> str:
    if text.startswith("["):
        return screen.strong(text)
    return f"{text}  (gripped {gripped})" if gripped not in {None, text} else text


def _foot(result: ChartResult) -> str:
    facts = result.facts
    written, played = result.count, facts["bars_as_played"]
    noun = "bar" if written == 1 else "bars"
    as_played = "" if played == written else f", {played} as played"
    return f"{written} {noun}{as_played}. To be read again: --format text"
