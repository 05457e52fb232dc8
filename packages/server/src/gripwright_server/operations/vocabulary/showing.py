"""One entry with all that is known of it, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright.vocabulary import Entry, on_root, serves
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entries import EntryRequest
from gripwright_server.operations.vocabulary.entry_row import EntryRow, entry_row, utc
from gripwright_server.operations.vocabulary.handle import name_of

if TYPE_CHECKING:
    from gripwright_server.store import Review, Schedule


@attrs.frozen
class ShowResult:
    """An entry.

    Args:
        entry: The entry.
        schedule: When it is due, if it was ever reviewed.
        reviews: Its reviews, by time.
    """

    entry: Entry
    schedule: "Schedule | None"
    reviews: "tuple[Review, ...]"

    @property
    def count(self) -> int:
        """One."""
        return 1

    @property
    def returned(self) -> int:
        """One."""
        return 1

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def serves(self) -> tuple[str, ...]:
        """The other chords that it expresses where it was entered."""
        grip = self.entry.voicing
        return tuple(str(other.chord) for other in serves(grip) if other.chord != grip.chord)

    @property
    def places(self) -> tuple[str, ...]:
        """Its shapes for the chord for which it was entered, from the nut upwards."""
        grip = self.entry.voicing
        return tuple(place.shape for place in on_root(grip, grip.chord.root))

    @property
    def facts(self) -> dict[str, Any]:
        """What else it serves, its places, its notes, and its reviews."""
        schedule = self.schedule
        return {
            "notes": tuple(map(str, self.entry.voicing.notes)),
            "serves": self.serves,
            "places": self.places,
            "stability_days": None if schedule is None else round(schedule.stability, 2),
            "difficulty": None if schedule is None else round(schedule.difficulty, 2),
            "reviews": [
                {"id": review.id, "grade": review.grade, "reviewed_at": utc(review.reviewed_at)}
                for review in self.reviews
            ],
        }

    def rows(self) -> Iterator[EntryRow]:
        """The entry."""
        yield entry_row(self.entry, self.schedule)


def show(request: EntryRequest, desk: Desk) -> ShowResult:
    """Show an entry.

    Raises:
        UnknownNameError: There is no such entry.
        StoreError: The store cannot be read.
    """
    with desk.store() as store:
        name = name_of(request.entry, store)
        return ShowResult(store.entry(name), store.schedule(name), store.reviews(name))


SHOW: Final = StoreOperation(
    name="show",
    summary="Show a grip with its notes, its places and its reviews",
    collection="entries",
    request=EntryRequest,
    function=show,
    result=ShowResult,
    row=EntryRow,
)
"""Showing as an operation."""
