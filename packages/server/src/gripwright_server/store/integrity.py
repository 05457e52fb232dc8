"""The check of a store: what the database, the records and the cards say of each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from sqlalchemy import Connection, delete, select

from gripwright.vocabulary.entry import Facts
from gripwright_server.store import schema
from gripwright_server.store.entry_rows import all_entries, profile_kept
from gripwright_server.store.field import RecordError
from gripwright_server.store.review_rows import insert_schedules, log, schedule_of_row
from gripwright_server.store.schedule import Review, Schedule, schedule_of
from gripwright_server.store.sqlite import check_file


def faults(connection: Connection) -> Iterator[str]:
    """Everything that is wrong with a store, one sentence each.

    The file itself; each entry against what is worked out of it anew; each card against the log.

    Args:
        connection: A connection in a transaction.
    """
    yield from check_file(connection)
    try:
        profile_kept(connection)
        entries = list(all_entries(connection))
        anew = Facts.of_all([entry.voicing for entry in entries])
        for entry, facts in zip(entries, anew, strict=True):
            if facts != entry.facts:
                yield f"the entry {entry.id}: what is kept of it is not what it is"
        wanted = schedules(connection)
    except (RecordError, ValueError, LookupError) as error:
        yield f"a record cannot be read: {error}"
        return
    held = {row.entry_id: schedule_of_row(row) for row in connection.execute(select(schema.cards))}
    for name in sorted(wanted.keys() | held.keys()):
        if wanted.get(name) != held.get(name):
            yield f"the card of {name} is not what its reviews make it"


def schedules(connection: Connection) -> dict[str, Schedule]:
    """The schedule of each reviewed entry, worked out from the log alone."""
    by_entry: dict[str, list[Review]] = defaultdict(list)
    for review in log(connection):
        by_entry[review.entry_id].append(review)
    found = {name: schedule_of(reviews) for name, reviews in by_entry.items()}
    return {name: schedule for name, schedule in found.items() if schedule is not None}


def rebuild(connection: Connection) -> int:
    """Throw all cards away and work them out from the log.

    Args:
        connection: A connection in a transaction that writes.

    Returns:
        How many there are.
    """
    connection.execute(delete(schema.cards))
    found = schedules(connection)
    insert_schedules(connection, found)
    return len(found)
