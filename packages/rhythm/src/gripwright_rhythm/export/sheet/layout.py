"""The layout of a sheet: from scores to pages."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.card import Grips
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.drawn_row import SIDE, drawn_row
from gripwright_rhythm.export.sheet.foot import Foot, signs_of
from gripwright_rhythm.export.sheet.head import (
    HEAD,
    SHORT_HEAD,
    drawn_head,
    drawn_short_head,
    facts_of,
    tempo_sign,
    title_of,
)
from gripwright_rhythm.export.sheet.page import Page
from gripwright_rhythm.export.sheet.paper import Paper
from gripwright_rhythm.export.sheet.passage import Passage, passages_of
from gripwright_rhythm.export.sheet.rows import (
    APART,
    GOOD_CARDS,
    MOST_CARDS,
    Row,
    bars_across,
    chorus_words,
    gaps_of,
    length_of,
    rows_of,
)
from gripwright_rhythm.export.sheet.signs import key_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gripwright import Score
    from gripwright_rhythm.export.sheet.drawn_bar import DrawnBar

LOWEST_ROW: Final = 62.0
HIGHEST_ROW: Final = 116.0
_HEADING: Final = 15.0
_HEADING_SIZE: Final = 9.5


@attrs.frozen(kw_only=True)
class SheetLook:
    """How a sheet looks.

    Args:
        paper: The paper.
        colours: The colours.
        grips: How grips are drawn.
    """

    paper: Paper
    colours: Colours
    grips: Grips


@attrs.frozen
class _Block:
    """A row at its place on a page, or a heading."""

    row: Row | None
    heading: str = ""


def sheet_pages(score: Score, look: SheetLook, *, remark: str = "") -> tuple[Page, ...]:
    """Draw a score: on one page where it fits.

    Args:
        score: The score.
        look: How it looks.
        remark: What stands after the title.
    """
    passages = passages_of(score)
    foot = Foot(score.notes, look.paper, signs_of(score))
    room = look.paper.height - 2 * look.paper.margin - foot.height
    blocks = _fitting(score, passages, room - HEAD)
    scale = _scale(blocks, look.paper)
    parts = list(_split(blocks, room))
    pages = []
    for number, part in enumerate(parts, 1):
        count = f"page {number} of {len(parts)}" if len(parts) > 1 else ""
        words = ", ".join(filter(None, (remark, count)))
        head, draw = (SHORT_HEAD, drawn_short_head) if number > 1 else (HEAD, drawn_head)
        marks = [
            *draw(score, words, look.paper, look.colours),
            *_rows(part, look.paper.margin + head, room - head, scale, look),
            *foot.marks(look.colours),
        ]
        pages.append(
            Page(
                look.paper,
                look.colours.ground,
                tuple(marks),
                ", ".join(filter(None, (title_of(score), words))),
                _description(score),
            )
        )
    return tuple(pages)


def _fitting(score: Score, passages: Sequence[Passage], room: float) -> list[_Block]:
    """The first arrangement that keeps to one page, the most readable first; or the last."""
    bars = [bar for passage in passages for bar in _bars(passage)]
    good, most = bars_across(bars, GOOD_CARDS), bars_across(bars, MOST_CARDS)
    # A page to be hung up is worth more than a new row for each section.
    for across, by_section in ((good, True), (good, False), (most, True)):
        blocks = _blocks(score, passages, across, by_section=by_section)
        if _least(blocks) <= room:
            return blocks
    return _blocks(score, passages, most, by_section=False)


def _bars(passage: Passage) -> tuple[DrawnBar, ...]:
    return (*passage.bars, *(other.bar for other in passage.others))


def _blocks(
    score: Score, passages: Sequence[Passage], across: int, *, by_section: bool
) -> list[_Block]:
    blocks = []
    for passage in passages:
        if len(passages) > 1:
            blocks.append(_Block(None, _heading(score, passage)))
        rows = rows_of(passage, across, by_section=by_section)
        blocks += [_Block(row) for row in rows]
    return blocks


def _heading(score: Score, passage: Passage) -> str:
    words = chorus_words(passage.choruses)
    chorus = next(one for one in score.choruses if one.number == passage.choruses[0])
    key = f", {key_words(chorus.key)}" if chorus.key is not None else ""
    return f"{words[:1].upper()}{words[1:]}{key}"


def _least(blocks: Iterable[_Block]) -> float:
    return sum(_HEADING if block.row is None else LOWEST_ROW for block in blocks)


def _scale(blocks: Sequence[_Block], paper: Paper) -> float:
    """Points to a quarter: one for the whole sheet, so that lengths can be compared."""
    room = paper.room - SIDE
    rows = [block.row for block in blocks if block.row is not None]
    return min((room - APART * gaps_of(row)) / float(length_of(row)) for row in rows)


def _split(blocks: Sequence[_Block], room: float) -> Iterator[list[_Block]]:
    """The blocks of each page: as few pages as hold them, about equally full."""
    least = _least(blocks)
    pages = 1 if least <= room - HEAD else math.ceil((least + HEAD) / (room - SHORT_HEAD))
    while True:
        parts = list(_filled(blocks, room, least / pages))
        if len(parts) <= pages:
            yield from parts
            return
        pages += 1


def _filled(blocks: Sequence[_Block], room: float, share: float) -> Iterator[list[_Block]]:
    part: list[_Block] = []
    head = HEAD
    for index, block in enumerate(blocks):
        # A heading stays with the row after it.
        following = blocks[index : index + 2] if block.row is None else [block]
        full = _least([*part, *following]) > room - head
        if part and (full or _least(part) >= share):
            yield part
            part, head = [], SHORT_HEAD
        part.append(block)
    yield part


def _rows(
    blocks: Sequence[_Block], y: float, room: float, scale: float, look: SheetLook
) -> Iterator[diagram.Mark]:
    headings = sum(block.row is None for block in blocks)
    rows = len(blocks) - headings
    height = min(HIGHEST_ROW, (room - headings * _HEADING) / max(rows, 1))
    left = look.paper.margin + SIDE
    for block in blocks:
        if block.row is None:
            at = y + _HEADING / 2
            yield diagram.Words(
                left, at, block.heading, _HEADING_SIZE, look.colours.ink, "start", bold=True
            )
            y += _HEADING
            continue
        yield from drawn_row(
            block.row,
            left,
            y,
            height=height,
            scale=scale,
            grips=look.grips,
            colours=look.colours,
        )
        y += height


def _description(score: Score) -> str:
    facts = ", ".join(facts_of(score))
    return f"{tempo_sign(score)}. {facts}. {score.rhythm}. {score.click}."
