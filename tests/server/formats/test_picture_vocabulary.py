"""The book of grips and the plan of the day on paper."""

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from gripwright import Registry, diagram, load_registry
from gripwright_rhythm.export.sheet.face import text_width
from gripwright_rhythm.export.sheet.page import Page
from gripwright_server.formats.picture.vocabulary import book as book_picture
from gripwright_server.formats.picture.vocabulary import today as today_picture
from gripwright_server.operations.vocabulary import Desk
from gripwright_server.operations.vocabulary.begin import BeginRequest, begin
from gripwright_server.operations.vocabulary.book import BookRequest, book
from gripwright_server.operations.vocabulary.entries import AddRequest, add
from gripwright_server.operations.vocabulary.handle import handle_of
from gripwright_server.operations.vocabulary.today import TodayRequest, today

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
REGISTRY = load_registry()
COUNT = re.compile(r"[0-9]+ grips?")
SHARES = {"start": 0.0, "middle": 0.5, "end": 1.0}


def registry() -> Registry:
    """The plugins of the tests, loaded once."""
    return REGISTRY


def begun(folder: Path, **profile: Any) -> Desk:
    """A desk with a starter set."""
    desk = Desk(path=folder / "grips.db", now=NOW, registry=registry)
    begin(BeginRequest(**profile), desk)
    return desk


def texts(page: Page) -> list[str]:
    """What is written on a page."""
    return [mark.text for mark in page.marks if isinstance(mark, diagram.Words)]


def outside(page: Page) -> list[diagram.Mark]:
    """Marks that a printer would cut off."""
    found = []
    for mark in page.marks:
        if isinstance(mark, diagram.Words):
            wide = text_width(mark.text, mark.size, bold=mark.bold)
            left = mark.x - SHARES[mark.anchor] * wide
            box = (left, mark.y - mark.size / 2, left + wide, mark.y + mark.size / 2)
        elif isinstance(mark, diagram.Line):
            box = (
                min(mark.x1, mark.x2),
                min(mark.y1, mark.y2),
                max(mark.x1, mark.x2),
                max(mark.y1, mark.y2),
            )
        elif isinstance(mark, diagram.Disc):
            radius = mark.radius
            box = (mark.x - radius, mark.y - radius, mark.x + radius, mark.y + radius)
        else:
            across, down = mark.width / 2, mark.height / 2
            box = (mark.x - across, mark.y - down, mark.x + across, mark.y + down)
        paper, slack = page.paper, 3.0
        within = (
            box[0] >= paper.margin - slack
            and box[1] >= paper.margin - slack
            and box[2] <= paper.right + slack
            and box[3] <= paper.bottom + slack
        )
        if not within:
            found.append(mark)
    return found


@pytest.mark.parametrize(
    ("instrument", "paper"),
    [("guitar", "a4"), ("ukulele", "letter"), ("bass", "a4"), ("eight-string", "letter")],
)
def test_nothing_lies_outside_the_paper(tmp_path: Path, instrument: str, paper: str) -> None:
    """Whatever the instrument and the paper, a printer shows all of it."""
    desk = begun(tmp_path, instrument=instrument, handed="left")
    request = BookRequest(paper=paper, title="A book of grips with a very long name " * 4)
    pages = book_picture.book_pages(request, book(request, desk))
    plan = TodayRequest(paper=paper, form="jazz-blues", key="Bb", minutes=90, rung=12)
    pages += today_picture.plan_pages(plan, today(plan, desk))
    assert not [mark for page in pages for mark in outside(page)]


def test_book_has_every_grip_once_under_its_kind(tmp_path: Path) -> None:
    """Shapes and headings of all chapters, in the order of the list of contents."""
    desk = begun(tmp_path)
    add(AddRequest(symbol="Dm9", frets="x-5-3-5-5-x", note="the one with the ninth"), desk)
    request = BookRequest()
    result = book(request, desk)
    written = [text for page in book_picture.book_pages(request, result) for text in texts(page)]
    for entry in result.entries:
        assert written.count(entry.voicing.shape) == 1, entry.id
    assert "Half-diminished" in written
    assert "the one with the ninth" in written
    headings = [text for text in written if COUNT.fullmatch(text)]
    assert sum(int(text.split()[0]) for text in headings) == result.count


def test_chapter_starts_with_a_row_of_its_own(tmp_path: Path) -> None:
    """No heading stands alone at the foot of a page."""
    desk = begun(tmp_path)
    request = BookRequest()
    result = book(request, desk)
    shapes = {entry.voicing.shape for entry in result.entries}
    for page in book_picture.book_pages(request, result):
        headings = [
            mark.y
            for mark in page.marks
            if isinstance(mark, diagram.Words) and COUNT.fullmatch(mark.text)
        ]
        lowest = max(
            mark.y for mark in page.marks if isinstance(mark, diagram.Words) and mark.text in shapes
        )
        assert all(heading < lowest for heading in headings)


def test_equal_books_and_plans_give_equal_bytes(tmp_path: Path) -> None:
    """Nothing of the clock or of chance is in a file."""
    desk = begun(tmp_path)
    request, plan = BookRequest(), TodayRequest()
    first = book_picture.document(request, book(request, desk))
    assert first == book_picture.document(request, book(request, desk))
    assert first.startswith(b"%PDF-")
    drawn = today_picture.document(plan, today(plan, desk))
    assert drawn == today_picture.document(plan, today(plan, desk))


def test_plan_hides_what_it_asks_until_the_answers(tmp_path: Path) -> None:
    """A hidden grip stands on the pages of answers and on none before."""
    desk = begun(tmp_path)
    request = TodayRequest(minutes=30)
    result = today(request, desk)
    hidden = [prompt for prompt in result.plan.prompts if prompt.hidden]
    assert hidden
    pages = today_picture.plan_pages(request, result)
    (start,) = (place for place, page in enumerate(pages) if "Answers" in texts(page))
    before = {text for page in pages[:start] for text in texts(page)}
    after = {text for page in pages[start:] for text in texts(page)}
    for prompt in hidden:
        assert prompt.text in before
        assert handle_of(prompt.entry_id) in before & after
        assert prompt.grip.shape in after
        assert prompt.grip.shape not in before


def test_minutes_of_the_bar_are_those_of_the_session(tmp_path: Path) -> None:
    """The strip at the top is as wide as the page, each part by its minutes."""
    desk = begun(tmp_path, bare=True)
    request = TodayRequest(minutes=60)
    result = today(request, desk)
    page = today_picture.plan_pages(request, result)[0]
    bars = [
        mark
        for mark in page.marks
        if isinstance(mark, diagram.Block) and mark.height == pytest.approx(15.0)
    ]
    widths = [mark.width / page.paper.room * result.plan.minutes for mark in bars]
    assert widths == pytest.approx([block.minutes for block in result.plan.blocks])
