"""A vocabulary as one JSON document: everything that a store holds and that is not worked out.

Equal vocabularies give equal bytes. An import adds what is new and leaves what is there; so a
document that was exported from a store changes nothing in it, however often it is imported.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final, TypeVar

import attrs
from sqlalchemy import Connection

from gripwright.neck.instrument import Instrument
from gripwright.neck.instrument_record import instrument_record
from gripwright.neck.voicing import Voicing
from gripwright.vocabulary.entry import Entry, Facts
from gripwright.vocabulary.profile import Profile
from gripwright_server.store import schema
from gripwright_server.store.entry_rows import (
    all_entries,
    in_parts,
    instruments_by_id,
    keep_entries,
    keep_instrument,
    keep_profile,
    known_names,
    profile_kept,
)
from gripwright_server.store.failure import DocumentError
from gripwright_server.store.field import RecordError, read
from gripwright_server.store.record import (
    entry_of,
    entry_record,
    grip_of,
    instrument_of,
    profile_of,
    profile_record,
    review_of,
    review_record,
)
from gripwright_server.store.review_rows import insert_reviews, log, rebuild_cards
from gripwright_server.store.schedule import Review

NAME: Final = "gripwright/vocabulary"
VERSION: Final = 1
_SCHEMA: Final = f"{NAME}/{VERSION}"

_T = TypeVar("_T")


@attrs.frozen
class Imported:
    """What an import brought.

    Args:
        entries: Entries that are new.
        reviews: Reviews that are new.
        profile: Whether the profile is new.
        differing: Names of entries and reviews that the store has otherwise; they stay as they
            are in the store.

    Example:
        >>> Imported(entries=3, reviews=0, profile=False, differing=()).entries
        3
    """

    entries: int
    reviews: int
    profile: bool
    differing: tuple[str, ...]


@attrs.frozen
class Document:
    """A vocabulary whole.

    Args:
        profile: The player's profile, if there is one.
        instruments: The instruments, by id.
        entries: The entries, by name.
        reviews: The log, by time.

    Example:
        >>> Document.load(Document(None, (), (), ()).dump()).entries
        ()
    """

    profile: Profile | None
    instruments: tuple[Instrument, ...]
    entries: tuple[Entry, ...]
    reviews: tuple[Review, ...]

    def dump(self) -> bytes:
        """The document as JSON in ASCII, with a line for each record."""
        return "\n".join(_lines(self)).encode("ascii")

    @classmethod
    def load(cls, data: bytes) -> Document:
        """Read a document whole, and check all of it.

        Args:
            data: What `dump` gave.

        Raises:
            DocumentError: It is cut short, is no vocabulary, is of a newer version, or a record
                is not what it should be.
        """
        whole = _parsed(data)
        _check_schema(whole)
        instruments = _each(whole, "instruments", instrument_of)
        by_id = {instrument.id: instrument for instrument in instruments}

        def grip(record: Mapping[str, Any]) -> Voicing:
            name = read(record, "instrument", str)
            if name not in by_id:
                raise RecordError(field="instrument", reason=f"there is no instrument {name!r}")
            return grip_of(record, by_id[name])

        grips = _each(whole, "entries", grip)
        worked_out = iter(zip(grips, Facts.of_all(grips), strict=True))
        entries = _each(whole, "entries", lambda record: entry_of(record, *next(worked_out)))
        profile = None
        if whole.get("profile") is not None:
            profile = _one("/profile", lambda: profile_of(whole["profile"], by_id))
        return cls(profile, instruments, entries, _each(whole, "reviews", review_of))


def exported(connection: Connection) -> Document:
    """Everything that the store holds and that is not worked out.

    Args:
        connection: A connection in a transaction.
    """
    return Document(
        profile=profile_kept(connection),
        instruments=tuple(instruments_by_id(connection).values()),
        entries=tuple(all_entries(connection)),
        reviews=tuple(log(connection)),
    )


def bring_in(connection: Connection, document: Document) -> Imported:
    """Add what is new of a document.

    Args:
        connection: A connection in a transaction that writes.
        document: The document.

    Raises:
        DocumentError: A review of an entry that neither the document nor the store has.
        ConditionError: An instrument whose name the store knows for one with other strings.
    """
    for instrument in document.instruments:
        keep_instrument(connection, instrument)
    new, other_entries = _bring_entries(connection, document.entries)
    reviews, other_reviews = _bring_reviews(connection, document.reviews)
    given = document.profile is not None and profile_kept(connection) is None
    if given and document.profile is not None:
        keep_profile(connection, document.profile)
    return Imported(new, reviews, given, (*other_entries, *other_reviews))


def _bring_entries(connection: Connection, entries: tuple[Entry, ...]) -> tuple[int, list[str]]:
    """Add the new entries; how many they are, and which of the others the store has otherwise."""
    new = keep_entries(connection, entries)
    held = {
        entry.id: entry_record(entry)
        for some in in_parts({entry.id for entry in entries} - new)
        for entry in all_entries(connection, schema.entries.c.id.in_(some))
    }
    differing = [
        entry.id for entry in entries if entry.id in held and held[entry.id] != entry_record(entry)
    ]
    return len(new), differing


def _bring_reviews(connection: Connection, reviews: tuple[Review, ...]) -> tuple[int, list[str]]:
    """Add the new reviews, in the same way.

    Raises:
        DocumentError: One is of an entry that there is not.
    """
    known = known_names(connection, {review.entry_id for review in reviews})
    for place, review in enumerate(reviews):
        if review.entry_id not in known:
            raise DocumentError(
                pointer=f"/reviews/{place}/entry", reason=f"there is no entry {review.entry_id!r}"
            )
    held = {
        review.id: review
        for some in in_parts({review.id for review in reviews})
        for review in log(connection, schema.reviews.c.id.in_(some))
    }
    new = {review.id: review for review in reviews if review.id not in held}
    insert_reviews(connection, new.values())
    rebuild_cards(connection, sorted({review.entry_id for review in new.values()}))
    held |= new
    return len(new), [review.id for review in reviews if held[review.id] != review]


def _lines(document: Document) -> Iterator[str]:
    profile = None if document.profile is None else profile_record(document.profile)
    yield f'{{"schema": {_json(_SCHEMA)},'
    yield f'"profile": {_json(profile)},'
    parts = {
        "instruments": map(instrument_record, document.instruments),
        "entries": map(entry_record, document.entries),
        "reviews": map(review_record, document.reviews),
    }
    for name, records in parts.items():
        rows = [_json(record) for record in records]
        end = "}" if name == "reviews" else ","
        yield f'"{name}": [' + ("\n" if rows else "") + ",\n".join(rows) + f"]{end}"
    yield ""


def _json(record: object) -> str:
    return json.dumps(record, ensure_ascii=True, allow_nan=False)


def _parsed(data: bytes) -> Mapping[str, Any]:
    try:
        whole = json.loads(data, parse_constant=_refuse)
    except UnicodeDecodeError as error:
        raise DocumentError(pointer="", reason="it is no text in UTF-8") from error
    except RecursionError as error:
        raise DocumentError(pointer="", reason="it is nested too deep") from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        text = data.decode(errors="replace").rstrip()
        # A whole document ends with the brace of the object that it is.
        cut = error.pos >= len(text) or (data.lstrip()[:1] == b"{" and text[-1] != "}")
        reason = f"it is cut short in {where}" if cut else f"it is no JSON: {error.msg} in {where}"
        raise DocumentError(pointer="", reason=reason) from error
    except ValueError as error:
        raise DocumentError(pointer="", reason="a number has too many digits") from error
    if not isinstance(whole, Mapping):
        raise DocumentError(pointer="", reason="expected an object")
    return whole


def _refuse(name: str) -> float:
    raise DocumentError(pointer="", reason=f"it is no JSON: {name}")


def _check_schema(whole: Mapping[str, Any]) -> None:
    name, _, version = str(whole.get("schema")).rpartition("/")
    if name != NAME:
        raise DocumentError(pointer="/schema", reason=f"expected {_SCHEMA!r}")
    if version != str(VERSION):
        reason = f"version {version} is not known; update Gripwright"
        raise DocumentError(pointer="/schema", reason=reason)


def _each(
    whole: Mapping[str, Any], name: str, convert: Callable[[Mapping[str, Any]], _T]
) -> tuple[_T, ...]:
    records = whole.get(name)
    if not isinstance(records, list):
        raise DocumentError(pointer=f"/{name}", reason="expected a list")
    return tuple(
        _one(f"/{name}/{place}", lambda record=record: convert(record))  # type: ignore[misc]
        for place, record in enumerate(records)
    )


def _one(pointer: str, convert: Callable[[], _T]) -> _T:
    try:
        return convert()
    except RecordError as error:
        place = f"{pointer}/{error.field}" if error.field else pointer
        raise DocumentError(pointer=place, reason=error.reason) from error
