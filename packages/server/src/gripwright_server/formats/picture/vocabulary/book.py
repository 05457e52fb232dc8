"""The book of grips on paper: a chapter for each kind of chord."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright import diagram
from gripwright.vocabulary import category_in_words
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.face import cut, fitted, readable, text_width
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.export.sheet.pdf import pages_pdf
from gripwright_rhythm.export.sheet.signs import typeset
from gripwright_rhythm.export.sheet.svg import pages_svg
from gripwright_server.formats.picture.vocabulary.flow import Piece, beside, flowed
from gripwright_server.formats.picture.vocabulary.grip_cell import (
    CellStyle,
    grip_cell,
    neck_width,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright.vocabulary import Entry, Profile
    from gripwright_rhythm.export.sheet.page import Page
    from gripwright_rhythm.export.sheet.paper import Paper
    from gripwright_server.operations.vocabulary.book import BookRequest, BookResult, Chapter

_SCALE: Final = 0.74
_BETWEEN: Final = 11.0
_MOST_ACROSS: Final = 7
_TITLE: Final = 24.0
_FACTS: Final = 9.0
_CONTENTS: Final = 8.0
_CONTENTS_LINE: Final = 11.0
_CONTENTS_COLUMNS: Final = 4
_CHAPTER: Final = 12.5
_SLASH: Final = "/+"


def picture(request: BookRequest, result: BookResult) -> str:
    """The pages as SVG, one under the other.

    Args:
        request: Says how they look.
        result: The book.
    """
    return pages_svg(book_pages(request, result)).decode("ascii")


def document(request: BookRequest, result: BookResult) -> bytes:
    """The pages as PDF.

    Args:
        request: Says how they look.
        result: The book.
    """
    return pages_pdf(book_pages(request, result))


def book_pages(request: BookRequest, result: BookResult) -> tuple[Page, ...]:
    """The pages of the book.

    Args:
        request: Says how they look.
        result: The book, which has an entry or more.
    """
    assert result.profile is not None  # noqa: S101 - every book is some player's
    paper, colours = PAPERS[request.paper], Colours.of(request.theme)
    style = CellStyle(
        width=0.0,
        scale=_SCALE,
        colours=colours,
        label=request.label,
        left_handed=result.profile.left_handed,
        lines=2,
    )
    widest = max(neck_width(entry.voicing, style) for entry in result.entries)
    across = max(1, min(_MOST_ACROSS, int((paper.room + _BETWEEN) // (widest + _BETWEEN))))
    style = CellStyle(
        width=paper.room / across,
        scale=_SCALE,
        colours=colours,
        label=request.label,
        left_handed=result.profile.left_handed,
        lines=2,
    )
    pieces = [Piece(_head(request.title, result, result.profile, paper, colours))]
    for chapter in result.chapters:
        pieces += _chapter(chapter, style, across, paper)
    counts = ", ".join(
        f"{len(one.entries)} {category_in_words(one.category)}" for one in result.chapters
    )
    return flowed(
        pieces,
        title=request.title,
        description=f"Diagrams of grips: {counts}.",
        paper=paper,
        colours=colours,
    )


def suffix_of(category: str) -> str:
    r"""A category as it stands after a root, with printed accidentals; "major" for a plain triad.

    Example:
        >>> suffix_of("m7b5").encode("unicode_escape").decode(), suffix_of("")
        ('m7\\u266d5', 'major')
    """
    quality, slash, bass = category.partition(_SLASH)
    words = typeset(quality) or "major"
    return f"{words} over {typeset(bass)}" if slash else words


def _head(
    title: str, result: BookResult, profile: Profile, paper: Paper, colours: Colours
) -> diagram.Picture:
    """The title, whose book it is, and what stands in it."""
    text = readable(title) or "Book of grips"
    size = fitted(text, paper.room, _TITLE, 9.0, bold=True)
    marks: list[diagram.Mark] = [
        diagram.Words(
            0, 13, cut(text, paper.room, size, bold=True), size, colours.ink, "start", bold=True
        )
    ]
    several = "" if result.count == 1 else "s"
    capo = f", capo {profile.instrument.capo}" if profile.instrument.capo else ""
    strings = " ".join(str(string.open) for string in profile.instrument.strings)
    facts = (
        f"{result.count} grip{several}  \u00b7  {profile.instrument.name}{capo}  \u00b7  {strings}"
    )
    fit = fitted(readable(facts), paper.room, _FACTS, 6.0)
    shown = cut(readable(facts), paper.room, fit)
    marks.append(diagram.Words(0, 34, shown, fit, colours.faint, "start"))
    y = 52.0
    marks.append(diagram.Line(0, y - 8, paper.room, y - 8, 0.8, colours.ink))
    step = paper.room / _CONTENTS_COLUMNS
    rows = -(-len(result.chapters) // _CONTENTS_COLUMNS)
    for place, chapter in enumerate(result.chapters):
        column, row = divmod(place, rows)
        marks += _listed(chapter, column * step, y + row * _CONTENTS_LINE, step - 14, colours)
    return diagram.Picture(paper.room, y + rows * _CONTENTS_LINE + 8, tuple(marks))


def _listed(
    chapter: Chapter, x: float, y: float, room: float, colours: Colours
) -> Iterator[diagram.Mark]:
    count = str(len(chapter.entries))
    left = room - text_width(count, _CONTENTS) - 6
    words = cut(readable(_capital(category_in_words(chapter.category))), left, _CONTENTS)
    yield diagram.Words(x, y, words, _CONTENTS, colours.ink, "start")
    yield diagram.Words(x + room, y, count, _CONTENTS, colours.faint, "end")


def _chapter(chapter: Chapter, style: CellStyle, across: int, paper: Paper) -> Iterator[Piece]:
    yield Piece(_chapter_head(chapter, paper, style.colours), joined=True)
    entries = chapter.entries
    for start in range(0, len(entries), across):
        row = entries[start : start + across]
        frets = max(diagram.box_frets(entry.voicing) for entry in row)
        cells = [grip_cell(one.voicing, _words(one), style, frets=frets) for one in row]
        yield Piece(beside(cells, style.width))


def _chapter_head(chapter: Chapter, paper: Paper, colours: Colours) -> diagram.Picture:
    words = _capital(category_in_words(chapter.category))
    y = 13.0
    marks: list[diagram.Mark] = [
        diagram.Words(0, y, words, _CHAPTER, colours.ink, "start", bold=True)
    ]
    suffix = suffix_of(chapter.category)
    if suffix != words.lower() and chapter.category:
        left = text_width(words, _CHAPTER, bold=True) + 9
        marks.append(diagram.Words(left, y + 0.5, suffix, 10.0, colours.faint, "start"))
    count = f"{len(chapter.entries)} grip{'' if len(chapter.entries) == 1 else 's'}"
    marks.append(diagram.Words(paper.room, y + 0.5, count, 8.0, colours.faint, "end"))
    marks.append(diagram.Line(0, y + 9, paper.room, y + 9, 0.5, colours.ink))
    return diagram.Picture(paper.room, y + 17, tuple(marks))


def _words(entry: Entry) -> Sequence[str]:
    """What is on top and on which strings; the player's note, where there is one."""
    _, top, *rest = entry.words.split(", ", maxsplit=2)
    second = readable(entry.note) or ", ".join(rest)
    return (top, second)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
