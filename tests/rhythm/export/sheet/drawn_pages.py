"""What pages show, read back from their marks."""

from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

import attrs

from gripwright import Score, ScoreBar, diagram
from gripwright_rhythm.export.sheet.face import text_width
from gripwright_rhythm.export.sheet.page import Page

AXIS_WIDTH = 0.8
CAPITALS = 0.73
CLOSE = 0.02


@attrs.frozen
class Axis:
    """The line under the bars of one strip of time, and the solid blocks that stand on it."""

    left: float
    right: float
    y: float
    blocks: tuple[tuple[float, float], ...]

    def x(self, bar: ScoreBar, time: Fraction) -> float:
        """Where a time of a bar stands."""
        part = float((time - bar.onset) / bar.length)
        return self.left + part * (self.right - self.left)

    def has(self, left: float, right: float) -> bool:
        """Whether a block stands exactly there."""
        return any(
            abs(one - left) < CLOSE and abs(other - right) < CLOSE for one, other in self.blocks
        )


def axes(page: Page) -> list[Axis]:
    """The strips of a page in reading order, those of the signs in the foot left out."""
    blocks = [mark for mark in page.marks if isinstance(mark, diagram.Block)]
    rule = max(
        mark.y1
        for mark in page.marks
        if isinstance(mark, diagram.Line) and mark.width == 0.5 and mark.y1 == mark.y2
    )
    found = []
    for mark in page.marks:
        if not isinstance(mark, diagram.Line) or mark.width != AXIS_WIDTH or mark.y1 > rule:
            continue
        if mark.y1 != mark.y2:
            continue
        on = tuple(
            (block.x - block.width / 2, block.x + block.width / 2)
            for block in blocks
            if abs(block.y + block.height / 2 - mark.y1) < CLOSE
            and block.x - block.width / 2 > mark.x1 - CLOSE
            and block.x + block.width / 2 < mark.x2 + CLOSE
        )
        found.append(Axis(mark.x1, mark.x2, mark.y1, on))
    return sorted(found, key=lambda axis: (axis.y, axis.left))


def box_of(mark: diagram.Mark) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a mark."""
    if isinstance(mark, diagram.Line):
        half = mark.width / 2
        xs, ys = sorted((mark.x1, mark.x2)), sorted((mark.y1, mark.y2))
        return xs[0] - half, ys[0] - half, xs[1] + half, ys[1] + half
    if isinstance(mark, diagram.Words):
        wide = text_width(mark.text, mark.size, bold=mark.bold)
        left = mark.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor] * wide
        half = mark.size * CAPITALS / 2
        return left, mark.y - half, left + wide, mark.y + half
    across = mark.radius if isinstance(mark, diagram.Disc) else mark.width / 2
    down = mark.radius if isinstance(mark, diagram.Disc) else mark.height / 2
    return mark.x - across, mark.y - down, mark.x + across, mark.y + down


def outside(page: Page) -> list[diagram.Mark]:
    """The marks that leave the space between the margins by more than a line's width."""
    paper = page.paper
    return [
        mark
        for mark in page.marks
        for left, top, right, bottom in [box_of(mark)]
        if left < paper.margin - 3.5
        or top < paper.margin - 3.5
        or right > paper.right + 3.5
        or bottom > paper.bottom + 3.5
    ]


def overlaps(page: Page) -> list[tuple[str, str]]:
    """The texts that lie over one another."""
    words = [
        (box_of(mark), mark.text)
        for mark in page.marks
        if isinstance(mark, diagram.Words) and mark.text.strip()
    ]
    return [
        (first, second)
        for (one, first), (other, second) in combinations(words, 2)
        if min(one[2], other[2]) - max(one[0], other[0]) > 0.3
        and min(one[3], other[3]) - max(one[1], other[1]) > 0.3
    ]


def texts(page: Page) -> list[str]:
    """Every text of a page."""
    return [mark.text for mark in page.marks if isinstance(mark, diagram.Words)]


def pieces(score: Score) -> Iterator[tuple[ScoreBar, Fraction, Fraction]]:
    """The part of each event in each bar that it sounds in."""
    onsets = [bar.onset for bar in score.bars]
    for event in score.events:
        first = max(bisect_right(onsets, event.onset) - 1, 0)
        for bar in score.bars[first : bisect_right(onsets, event.end)]:
            start, end = max(event.onset, bar.onset), min(event.end, bar.end)
            if start < end:
                yield bar, start, end
