"""The book of grips, as an operation."""

from typing import Final

import attrs

from gripwright.vocabulary import Entry, Profile, categories
from gripwright_server.operations.operation import NothingFoundError
from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entries import category_named
from gripwright_server.operations.vocabulary.entry_row import EntriesResult, EntryRow
from gripwright_server.operations.vocabulary.today import PaperOptions
from gripwright_server.store import profile_of


@attrs.frozen(kw_only=True, slots=False)
class BookRequest(PaperOptions):
    """What stands in the book, and what it looks like."""

    category: str | None = option(
        help="one kind of chord, by its suffix or by a symbol, such as m7b5 or Cm7b5",
        default=None,
        form="SUFFIX",
    )
    tag: str | None = option(help="grips with one tag alone", default=None, form="WORD")
    title: str = option(help="what stands on its first page", default="Book of grips", form="TEXT")


@attrs.frozen
class Chapter:
    """The grips of one kind of chord.

    Args:
        category: The kind.
        entries: The grips: by their strings, then by what is on top.
    """

    category: str
    entries: tuple[Entry, ...]


@attrs.frozen
class BookResult(EntriesResult):
    """A book.

    Args:
        chapters: Its chapters.
        profile: The player.
    """

    chapters: tuple[Chapter, ...] = ()
    profile: Profile | None = None


def book(request: BookRequest, desk: Desk) -> BookResult:
    """Put the grips of the profile's instrument in order, those laid aside left out.

    Raises:
        NothingFoundError: There are none.
        ConditionError: There is no profile yet.
        StoreError: The store cannot be read.
    """
    with desk.store() as store:
        profile = profile_of(store)
        category = None if request.category is None else category_named(request.category)
        found = [
            entry
            for entry in store.entries(category=category, tag=request.tag)
            if entry.state != "retired" and entry.voicing.instrument.id == profile.instrument.id
        ]
        schedules = store.schedules()
    if not found:
        raise NothingFoundError(sentence="no grip of the vocabulary belongs into this book")
    chapters = tuple(
        Chapter(
            kind.name,
            tuple(sorted((one for one in found if one.facts.category == kind.name), key=_place)),
        )
        for kind in categories(entry.facts for entry in found)
    )
    ordered = tuple(entry for chapter in chapters for entry in chapter.entries)
    return BookResult(ordered, schedules, {"title": request.title}, chapters, profile)


def _place(entry: Entry) -> tuple[object, ...]:
    """Bound grips first, then from the low strings up, then by what is on top."""
    facts = entry.facts
    return (
        facts.movable,
        tuple(-string for string in facts.string_set),
        facts.top_degree.semitones,
        entry.id,
    )


BOOK: Final = StoreOperation(
    name="book",
    summary="Print the book of your grips by kind of chord",
    collection="entries",
    request=BookRequest,
    function=book,
    result=BookResult,
    row=EntryRow,
    formats=("json", "ndjson", "csv", "svg", "pdf"),
)
"""The book as an operation."""
