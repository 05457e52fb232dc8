"""Entries as rows."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any, Final

import attrs

from gripwright.vocabulary import Entry
from gripwright_server.operations.vocabulary.handle import handle_of
from gripwright_server.store import Schedule

ACTIVE: Final = "active"


@attrs.frozen(kw_only=True)
class EntryRow:
    """A row: one grip of the vocabulary.

    Args:
        id: Its name: instrument, grip where it stands for all its places, and chord there.
        handle: A short name that does not give the grip away.
        symbol: The symbol for which it was entered.
        frets: The shape as it was entered.
        instrument: The instrument.
        category: The kind of chord, by its suffix.
        words: What it is, for a reader.
        movable: Whether it moves along the neck.
        degrees: Degrees of the sounding strings, from the bass side.
        families: Every family that it belongs to.
        inversion: Its inversion.
        top_degree: Degree of the highest pitch.
        strings: The sounding strings, 1 on the treble side.
        state: active, suspended or retired.
        tags: Words to find it by.
        note: What the player wrote about it.
        source: Where it came from.
        added: When, in UTC (RFC 3339).
        due: When it is to be reviewed, in UTC; None where it was never reviewed, or rests.
    """

    id: str
    handle: str
    symbol: str
    frets: str
    instrument: str
    category: str
    words: str
    movable: bool
    degrees: tuple[str, ...]
    families: tuple[str, ...]
    inversion: str
    top_degree: str
    strings: tuple[int, ...]
    state: str
    tags: tuple[str, ...]
    note: str
    source: str
    added: str
    due: str | None


@attrs.frozen
class EntriesResult:
    """Entries, with when each is due.

    Args:
        entries: The entries.
        schedules: When those are due that were ever reviewed, by their names.
        told: What is so as a whole, ready for JSON.
    """

    entries: tuple[Entry, ...]
    schedules: Mapping[str, Schedule] = attrs.Factory(dict)
    told: Mapping[str, Any] = attrs.Factory(dict)

    @property
    def count(self) -> int:
        """Entries."""
        return len(self.entries)

    @property
    def returned(self) -> int:
        """Entries that `rows` yields: all."""
        return len(self.entries)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def facts(self) -> dict[str, Any]:
        """What is so as a whole."""
        return dict(self.told)

    def rows(self) -> Iterator[EntryRow]:
        """One row an entry."""
        return (entry_row(entry, self.schedules.get(entry.id)) for entry in self.entries)


def entry_row(entry: Entry, schedule: Schedule | None) -> EntryRow:
    """The row of an entry.

    Args:
        entry: The entry.
        schedule: When it is due, if it was ever reviewed.
    """
    facts = entry.facts
    return EntryRow(
        id=entry.id,
        handle=handle_of(entry.id),
        symbol=str(entry.voicing.chord),
        frets=entry.voicing.shape,
        instrument=entry.voicing.instrument.id,
        category=facts.category,
        words=entry.words,
        movable=facts.movable,
        degrees=tuple(map(str, facts.degrees)),
        families=facts.families,
        inversion=facts.inversion,
        top_degree=str(facts.top_degree),
        strings=facts.string_set,
        state=entry.state,
        tags=entry.tags,
        note=entry.note,
        source=entry.source,
        added=utc(entry.added),
        due=utc(schedule.due) if schedule is not None and entry.state == ACTIVE else None,
    )


def utc(moment: datetime) -> str:
    """A moment in UTC, to the second (RFC 3339).

    Example:
        >>> from datetime import timedelta, timezone
        >>> utc(datetime(2026, 3, 1, 9, tzinfo=timezone(timedelta(hours=2))))
        '2026-03-01T07:00:00Z'
    """
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
