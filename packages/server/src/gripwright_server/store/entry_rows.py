"""Instruments, entries and the profile in their tables: functions inside a transaction."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any, Final

import attrs
from sqlalchemy import Connection, delete, insert, select, update

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.neck.instrument import Instrument
from gripwright.neck.instrument_record import instrument_record
from gripwright.vocabulary.entry import Entry, Facts, State
from gripwright.vocabulary.profile import Profile
from gripwright_server.store import schema
from gripwright_server.store.record import (
    FACTS_COLUMNS,
    entry_of,
    entry_record,
    facts_of_row,
    facts_row,
    grip_of,
    instrument_of,
    profile_of,
    profile_record,
)

_PROFILE: Final = "profile"
FACTS: Final = [schema.entries.c[name] for name in FACTS_COLUMNS]
"""The columns of what is worked out of a grip."""

_AT_ONCE: Final = 500
COUNTED: Final[tuple[State, ...]] = ("active", "suspended")
"""The states of entries that count as known."""


def as_json(record: Any) -> str:  # noqa: ANN401 - whatever JSON holds
    """A record as text; equal records give equal text."""
    return json.dumps(record, sort_keys=True, ensure_ascii=True, separators=(",", ":"))


def instruments_by_id(connection: Connection) -> dict[str, Instrument]:
    """Every instrument of the store."""
    rows = connection.execute(select(schema.instruments).order_by(schema.instruments.c.id))
    return {row.id: instrument_of(json.loads(row.definition)) for row in rows}


def keep_instrument(connection: Connection, instrument: Instrument) -> Instrument:
    """Keep an instrument; one that is known stays as it was kept first.

    Raises:
        ConditionError: The name is that of an instrument with other strings.
    """
    held = connection.execute(
        select(schema.instruments.c.definition).where(schema.instruments.c.id == instrument.id)
    ).scalar()
    if held is None:
        definition = as_json(instrument_record(instrument))
        connection.execute(
            insert(schema.instruments).values(id=instrument.id, definition=definition)
        )
        return instrument
    kept = instrument_of(json.loads(held))
    if _strung(kept) != _strung(instrument):
        raise ConditionError(
            name="instrument",
            value=instrument.id,
            expected="the strings that the store knows under this name, or another name",
        )
    return kept


def keep_entries(connection: Connection, entries: Iterable[Entry]) -> frozenset[str]:
    """Keep entries, those of which there is none of the name yet.

    Returns:
        The names of those that are new.

    Raises:
        ConditionError: An instrument whose name is that of one with other strings.
    """
    given = {entry.id: entry for entry in entries}
    known = known_names(connection, given)
    new = [entry for name, entry in given.items() if name not in known]
    # By their values: a grip of a thousand may carry its own copy of the same instrument.
    for instrument in dict.fromkeys(entry.voicing.instrument for entry in new):
        keep_instrument(connection, instrument)
    if new:
        connection.execute(insert(schema.entries), [_entry_row(entry) for entry in new])
    return frozenset(entry.id for entry in new)


def known_names(connection: Connection, names: Iterable[str]) -> set[str]:
    """Those of some names that are names of entries."""
    column = schema.entries.c.id
    return {
        name
        for some in in_parts(names)
        for name in connection.execute(select(column).where(column.in_(some))).scalars()
    }


def in_parts(names: Iterable[str]) -> Iterator[list[str]]:
    """Names, some at a time: databases take only so many values in one statement."""
    left = list(names)
    return (left[start : start + _AT_ONCE] for start in range(0, len(left), _AT_ONCE))


def _entry_row(entry: Entry) -> dict[str, Any]:
    record = entry_record(entry)
    record["instrument_id"] = record.pop("instrument")
    return {**record, "tags": as_json(record["tags"]), **facts_row(entry.facts)}


def change_entry(connection: Connection, entry: Entry) -> None:
    """Write what a player can change of an entry: tags, note, source and state."""
    connection.execute(
        update(schema.entries)
        .where(schema.entries.c.id == entry.id)
        .values(
            tags=as_json(list(entry.tags)), note=entry.note, source=entry.source, state=entry.state
        )
    )


def remove_entry(connection: Connection, name: str) -> None:
    """Remove an entry that was never reviewed."""
    connection.execute(delete(schema.entries).where(schema.entries.c.id == name))


def all_entries(connection: Connection, *conditions: Any) -> Iterator[Entry]:
    """Entries that satisfy conditions, in order of their names."""
    instruments = instruments_by_id(connection)
    table = schema.entries
    rows = connection.execute(select(table).where(*conditions).order_by(table.c.id))
    for row in rows:
        record = {
            **{name: getattr(row, name) for name in ("id", "chord", "frets", "added")},
            **{name: getattr(row, name) for name in ("note", "source", "state")},
            "tags": json.loads(row.tags),
        }
        facts = facts_of_row([getattr(row, name) for name in FACTS_COLUMNS])
        yield entry_of(record, grip_of(record, instruments[row.instrument_id]), facts)


def one_entry(connection: Connection, name: str) -> Entry:
    """An entry by its name.

    Raises:
        UnknownNameError: There is none.
    """
    found = next(all_entries(connection, schema.entries.c.id == name), None)
    if found is None:
        raise UnknownNameError(kind="entry", name=name)
    return found


def counted_facts(connection: Connection, instrument_id: str) -> tuple[Facts, ...]:
    """What is known of the grips of an instrument, those laid aside left out, by name."""
    table = schema.entries
    rows = connection.execute(
        select(*FACTS)
        .where(table.c.instrument_id == instrument_id, table.c.state.in_(COUNTED))
        .order_by(table.c.id)
    )
    return tuple(map(facts_of_row, rows))


def profile_kept(connection: Connection) -> Profile | None:
    """The player's profile, if there is one."""
    text = connection.execute(
        select(schema.about.c.value).where(schema.about.c.name == _PROFILE)
    ).scalar()
    if text is None:
        return None
    return profile_of(json.loads(text), instruments_by_id(connection))


def keep_profile(connection: Connection, profile: Profile) -> Profile:
    """Keep a profile in the place of the one before.

    Returns:
        The profile with the instrument as the store knows it.
    """
    kept = attrs.evolve(profile, instrument=keep_instrument(connection, profile.instrument))
    connection.execute(delete(schema.about).where(schema.about.c.name == _PROFILE))
    value = as_json(profile_record(kept))
    connection.execute(insert(schema.about).values(name=_PROFILE, value=value))
    return kept


def _strung(instrument: Instrument) -> tuple[Any, ...]:
    return (
        instrument.capo,
        tuple((string.open.midi, string.first_fret) for string in instrument.strings),
    )
