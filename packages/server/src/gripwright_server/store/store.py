"""The store: a player's vocabulary that lasts."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

import attrs
from sqlalchemy import Connection, Engine, insert, inspect, select

from gripwright.errors import ConditionError
from gripwright.vocabulary.entry import Entry, Facts, State
from gripwright.vocabulary.profile import Profile
from gripwright_server.store import entry_rows, review_rows, schema
from gripwright_server.store.document import Document, Imported, bring_in, exported
from gripwright_server.store.failure import StoreError
from gripwright_server.store.integrity import faults, rebuild
from gripwright_server.store.moment import day_of
from gripwright_server.store.review_rows import Standing
from gripwright_server.store.schedule import Review, Schedule
from gripwright_server.store.sqlite import engine_for, reading, writing

_VERSION: Final = "schema"


@attrs.frozen
class Reviewed:
    """What a review came to.

    Args:
        new: Whether it counted; one that was in the log already did not.
        schedule: When the grip is due now.

    Example:
        >>> from datetime import UTC
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> Reviewed(new=True, schedule=Schedule(2.3, 5.0, now, now)).new
        True
    """

    new: bool
    schedule: Schedule


class Store:
    """A vocabulary in a file.

    Every change is one transaction: when a method returns, all of it is on the disk, and when it
    raises, nothing of it is. No method looks at a clock; times come with a time zone.

    Args:
        path: The file.
        engine: Its engine.
        writable: Whether it may be written to.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from gripwright import Chord, Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six")
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> entry = Entry(Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1)), now)
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     with Store.open(Path(folder) / "grips.db") as store:
        ...         added = store.add([entry])
        ...         done = store.review(Review("monday-1", entry.id, "in-time", now))
        ...         again = store.review(Review("monday-1", entry.id, "in-time", now))
        >>> added, done.new, again.new, str(done.schedule.due.date())
        (1, True, False, '2026-01-07')
    """

    def __init__(self, path: Path, engine: Engine, *, writable: bool) -> None:
        self.path: Final = path
        self.writable: Final = writable
        self._engine: Final = engine

    @classmethod
    def open(cls, path: Path, *, create: bool = True) -> Self:
        """Open a store, and make it where there is none.

        Args:
            path: The file.
            create: Whether to make it.

        Raises:
            StoreError: There is no file and none is to be made; it is damaged, is of a newer
                version, is something else, or cannot be opened.
        """
        engine, writable = engine_for(path, create=create)
        store = cls(path, engine, writable=writable)
        try:
            store._check_version()
        except BaseException:
            store.close()
            raise
        return store

    def close(self) -> None:
        """Close every connection."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _traceback: TracebackType | None,
    ) -> None:
        self.close()

    def add(self, entries: Iterable[Entry]) -> int:
        """Add entries in one step; those whose names are known stay as they are.

        Returns:
            How many are new.

        Raises:
            StoreError: The store cannot be written.
            ConditionError: An instrument whose name the store knows for one with other strings.
        """
        given = list(entries)
        with self._writing() as connection:
            return len(entry_rows.keep_entries(connection, given))

    def entry(self, name: str) -> Entry:
        """An entry by its name.

        Raises:
            UnknownNameError: There is none.
        """
        with self._reading() as connection:
            return entry_rows.one_entry(connection, name)

    def entries(
        self, *, category: str | None = None, state: State | None = None, tag: str | None = None
    ) -> tuple[Entry, ...]:
        """Entries by name.

        Args:
            category: Of this category alone.
            state: In this state alone.
            tag: With this tag alone.
        """
        table = schema.entries
        conditions: list[Any] = []
        if category is not None:
            conditions.append(table.c.category == category)
        if state is not None:
            conditions.append(table.c.state == state)
        with self._reading() as connection:
            found = entry_rows.all_entries(connection, *conditions)
            return tuple(entry for entry in found if tag is None or tag in entry.tags)

    def names(self) -> tuple[str, ...]:
        """The names of all entries, sorted."""
        column = schema.entries.c.id
        with self._reading() as connection:
            return tuple(connection.execute(select(column).order_by(column)).scalars())

    def facts(self, instrument_id: str) -> tuple[Facts, ...]:
        """What is known of the grips of an instrument, those laid aside left out."""
        with self._reading() as connection:
            return entry_rows.counted_facts(connection, instrument_id)

    def change(
        self,
        name: str,
        *,
        tags: Iterable[str] | None = None,
        note: str | None = None,
        source: str | None = None,
        state: State | None = None,
    ) -> Entry:
        """Change what a player can change of an entry; what is not given stays.

        Raises:
            UnknownNameError: There is no such entry.
            ConditionError: A value outside its range.
        """
        given: dict[str, Any] = {"tags": tags, "note": note, "source": source, "state": state}
        changes = {field: value for field, value in given.items() if value is not None}
        with self._writing() as connection:
            entry = attrs.evolve(entry_rows.one_entry(connection, name), **changes)
            entry_rows.change_entry(connection, entry)
            return entry

    def remove(self, name: str) -> None:
        """Remove an entry that was never reviewed.

        Raises:
            UnknownNameError: There is no such entry.
            ConditionError: It has reviews, and the log is kept: it can be retired.
        """
        with self._writing() as connection:
            entry_rows.one_entry(connection, name)
            if review_rows.count_of(connection, name):
                raise ConditionError(
                    name="entry", value=name, expected="one without reviews; retire it instead"
                )
            entry_rows.remove_entry(connection, name)

    def review(self, review: Review) -> Reviewed:
        """Write a review into the log; the same one again changes nothing.

        Raises:
            UnknownNameError: There is no such entry.
            ConditionError: The id is that of another review.
        """
        with self._writing() as connection:
            new = review_rows.keep_review(connection, review)
            schedule = review_rows.one_schedule(connection, review.entry_id)
            if schedule is None:
                raise StoreError(path=str(self.path), fault="corrupt")
            return Reviewed(new, schedule)

    def reviews(self, entry_id: str | None = None) -> tuple[Review, ...]:
        """The log, or that of one entry, by time."""
        conditions = [] if entry_id is None else [schema.reviews.c.entry_id == entry_id]
        with self._reading() as connection:
            return tuple(review_rows.log(connection, *conditions))

    def schedule(self, entry_id: str) -> Schedule | None:
        """When an entry is due; None where it was never reviewed."""
        with self._reading() as connection:
            return review_rows.one_schedule(connection, entry_id)

    def schedules(self) -> dict[str, Schedule]:
        """When each entry is due that was ever reviewed, by its name."""
        with self._reading() as connection:
            return review_rows.all_schedules(connection)

    def standing(self, instrument_id: str, now: datetime) -> Standing:
        """The grips of an instrument that count, and those that fall due by the end of the day.

        The day is that of the time zone of `now`. An entry that was never reviewed is due, and a
        suspended one never is.

        Args:
            instrument_id: The instrument.
            now: With a time zone.

        Raises:
            ConditionError: `now` has no time zone.
        """
        day = day_of(now)
        with self._reading() as connection:
            return review_rows.standing(connection, instrument_id, now, day)

    def profile(self) -> Profile | None:
        """The player's profile, if there is one."""
        with self._reading() as connection:
            return entry_rows.profile_kept(connection)

    def keep_profile(self, profile: Profile) -> Profile:
        """Keep a profile in the place of the one before.

        Returns:
            The profile with the instrument as the store knows it.
        """
        with self._writing() as connection:
            return entry_rows.keep_profile(connection, profile)

    def export(self) -> bytes:
        """Everything that is not worked out, as one JSON document; equal stores, equal bytes."""
        with self._reading() as connection:
            return exported(connection).dump()

    def bring_in(self, data: bytes) -> Imported:
        """Add what is new of an exported document, in one step.

        Raises:
            DocumentError: The document cannot be read whole; nothing was added.
        """
        document = Document.load(data)
        with self._writing() as connection:
            return bring_in(connection, document)

    def check(self) -> tuple[str, ...]:
        """Everything that is wrong with the store, one sentence each; none where it is sound."""
        with self._reading() as connection:
            return tuple(faults(connection))

    def rebuild(self) -> int:
        """Work out all cards from the log anew.

        Returns:
            How many there are.
        """
        with self._writing() as connection:
            return rebuild(connection)

    def _reading(self) -> Any:  # noqa: ANN401 - a context manager
        return reading(self._engine, str(self.path))

    def _writing(self) -> Any:  # noqa: ANN401 - a context manager
        if not self.writable:
            raise StoreError(path=str(self.path), fault="read-only")
        return writing(self._engine, str(self.path))

    def _check_version(self) -> None:
        with self._reading() as connection:
            found = self._version(connection)
        if found is None:
            with self._writing() as connection:
                found = self._version(connection)
                if found is None:
                    found = self._make(connection)
        if found != str(schema.SCHEMA_VERSION):
            raise StoreError(
                path=str(self.path),
                fault="newer",
                reason=f"it is of version {found}, and this is {schema.SCHEMA_VERSION};"
                " update Gripwright",
            )

    def _version(self, connection: Connection) -> str | None:
        """The version of the tables; None in an empty file."""
        names = set(inspect(connection).get_table_names())
        if not names:
            return None
        if schema.about.name in names:
            query = select(schema.about.c.value).where(schema.about.c.name == _VERSION)
            found: str | None = connection.execute(query).scalar()
            if found is not None:
                return found
        raise StoreError(path=str(self.path), fault="foreign")

    def _make(self, connection: Connection) -> str:
        schema.METADATA.create_all(connection, checkfirst=False)
        version = str(schema.SCHEMA_VERSION)
        connection.execute(insert(schema.about).values(name=_VERSION, value=version))
        return version
