"""The log of reviews and the cards in their tables: functions inside a transaction."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from typing import Any, Final

import attrs
from sqlalchemy import Connection, delete, func, insert, select, update

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.plan import Due
from gripwright_server.store import schema
from gripwright_server.store.entry_rows import COUNTED, FACTS, in_parts
from gripwright_server.store.moment import from_text, to_text
from gripwright_server.store.record import facts_of_row
from gripwright_server.store.schedule import Review, Schedule, after, schedule_of


def keep_review(connection: Connection, review: Review) -> bool:
    """Write a review into the log and bring its card up to date.

    Returns:
        Whether it is new; a review that is in the log already changes nothing.

    Raises:
        UnknownNameError: There is no such entry.
        ConditionError: The id is that of another review.
    """
    held = connection.execute(
        select(schema.reviews).where(schema.reviews.c.id == review.id)
    ).first()
    if held is not None:
        if review_of_row(held) != review:
            raise ConditionError(
                name="id", value=review.id, expected="an id that no other review has"
            )
        return False
    known = select(schema.entries.c.id).where(schema.entries.c.id == review.entry_id)
    if connection.execute(known).first() is None:
        raise UnknownNameError(kind="entry", name=review.entry_id)
    insert_reviews(connection, [review])
    before = one_schedule(connection, review.entry_id)
    if before is None:
        insert_schedules(connection, {review.entry_id: after(None, review)})
    elif review.reviewed_at > before.last_review:
        change_schedule(connection, review.entry_id, after(before, review))
    else:
        rebuild_cards(connection, [review.entry_id])
    return True


def insert_reviews(connection: Connection, reviews: Iterable[Review]) -> None:
    """Write lines of the log, and nothing else."""
    rows = [
        {
            "id": review.id,
            "entry_id": review.entry_id,
            "grade": review.grade,
            "reviewed_at": to_text(review.reviewed_at, name="reviewed_at"),
        }
        for review in reviews
    ]
    if rows:
        connection.execute(insert(schema.reviews), rows)


def rebuild_cards(connection: Connection, entry_ids: Iterable[str]) -> None:
    """Work out the cards of entries from the log alone."""
    for some in in_parts(entry_ids):
        connection.execute(delete(schema.cards).where(schema.cards.c.entry_id.in_(some)))
        by_entry: dict[str, list[Review]] = {}
        for review in log(connection, schema.reviews.c.entry_id.in_(some)):
            by_entry.setdefault(review.entry_id, []).append(review)
        insert_schedules(connection, {name: schedule_of(by_entry[name]) for name in by_entry})


def log(connection: Connection, *conditions: Any) -> Iterator[Review]:
    """Reviews that satisfy conditions, by their times."""
    table = schema.reviews
    rows = connection.execute(
        select(table).where(*conditions).order_by(table.c.reviewed_at, table.c.id)
    )
    return map(review_of_row, rows)


def review_of_row(row: Any) -> Review:  # noqa: ANN401 - a row of any driver
    """A line of the log."""
    return Review(row.id, row.entry_id, row.grade, from_text(row.reviewed_at))


def one_schedule(connection: Connection, entry_id: str) -> Schedule | None:
    """When an entry is due; None where it was never reviewed."""
    row = connection.execute(
        select(schema.cards).where(schema.cards.c.entry_id == entry_id)
    ).first()
    return None if row is None else schedule_of_row(row)


def all_schedules(connection: Connection) -> dict[str, Schedule]:
    """When each entry is due that was ever reviewed, by its name."""
    rows = connection.execute(select(schema.cards).order_by(schema.cards.c.entry_id))
    return {row.entry_id: schedule_of_row(row) for row in rows}


def schedule_of_row(row: Any) -> Schedule:  # noqa: ANN401 - a row of any driver
    """A card."""
    return Schedule(row.stability, row.difficulty, from_text(row.due), from_text(row.last_review))


def insert_schedules(connection: Connection, schedules: Mapping[str, Schedule | None]) -> None:
    """Write cards that are not there yet, by the names of their entries."""
    rows = [
        {"entry_id": name, **_card(schedule)}
        for name, schedule in schedules.items()
        if schedule is not None
    ]
    if rows:
        connection.execute(insert(schema.cards), rows)


def change_schedule(connection: Connection, entry_id: str, schedule: Schedule) -> None:
    """Write a card in the place of the one before."""
    where = schema.cards.c.entry_id == entry_id
    connection.execute(update(schema.cards).where(where).values(**_card(schedule)))


PLAN_SOURCE: Final = "the plan of the day"
"""Where entries come from that were a day's new grip."""


@attrs.frozen
class Standing:
    """Where a player stands.

    Args:
        facts: What is known of each grip that counts, by name.
        due: The active ones among them that are due, the earliest first.
        learned: Those that were added on the day as its new grips, in the order of adding.
    """

    facts: tuple[Facts, ...]
    due: tuple[Due, ...]
    learned: tuple[Facts, ...]


def standing(
    connection: Connection, instrument_id: str, now: datetime, day: tuple[datetime, datetime]
) -> Standing:
    """The grips of an instrument that count, and those of them that are due on a day.

    An entry that was never reviewed is due. Reviews that lie in the future, since a clock was
    wrong, do not count until their time comes.

    Args:
        connection: A connection in a transaction.
        instrument_id: The instrument.
        now: The moment at which it is asked.
        day: The moments at which the day begins and ends.
    """
    entries, cards = schema.entries, schema.cards
    query = (
        select(
            *FACTS,
            entries.c.state,
            entries.c.added,
            entries.c.source,
            cards.c.due,
            cards.c.last_review,
        )
        .select_from(entries.outerjoin(cards, cards.c.entry_id == entries.c.id))
        .where(entries.c.instrument_id == instrument_id, entries.c.state.in_(COUNTED))
        .order_by(entries.c.id)
    )
    here, first, last = (to_text(moment, name="now") for moment in (now, *day))
    known: list[Facts] = []
    due: list[Due] = []
    learned: list[tuple[str, Facts]] = []
    for row in connection.execute(query):
        facts = facts_of_row(row[: len(FACTS)])
        known.append(facts)
        state, added, source, falls_due, reviewed = row[len(FACTS) :]
        if source == PLAN_SOURCE and first <= added < last:
            learned.append((added, facts))
        if state != "active":
            continue
        if reviewed is not None and reviewed > here:
            falls_due = _due_by(connection, facts.id, here)
        if falls_due is None or falls_due < last:
            due.append(Due(facts, from_text(falls_due or added)))
    return Standing(
        facts=tuple(known),
        due=tuple(sorted(due, key=lambda one: (one.since, one.facts.id))),
        learned=tuple(facts for _, facts in sorted(learned, key=lambda one: one[0])),
    )


def count_of(connection: Connection, entry_id: str) -> int:
    """How many reviews an entry had."""
    query = select(func.count()).where(schema.reviews.c.entry_id == entry_id)
    return int(connection.execute(query).scalar_one())


def _due_by(connection: Connection, entry_id: str, here: str) -> str | None:
    """When an entry is due by the reviews up to a moment alone."""
    table = schema.reviews
    past = log(connection, table.c.entry_id == entry_id, table.c.reviewed_at <= here)
    schedule = schedule_of(past)
    return None if schedule is None else to_text(schedule.due)


def _card(schedule: Schedule) -> dict[str, object]:
    return {
        "stability": schedule.stability,
        "difficulty": schedule.difficulty,
        "due": to_text(schedule.due, name="due"),
        "last_review": to_text(schedule.last_review, name="last_review"),
    }
