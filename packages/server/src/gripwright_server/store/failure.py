"""What can go wrong with a store, as errors that say what to do."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from typing import Final, Literal

from sqlalchemy.exc import DBAPIError

from gripwright.errors import GripwrightError

StoreFault = Literal[
    "busy", "corrupt", "failed", "foreign", "full", "missing", "newer", "read-only", "unreadable"
]

_BY_CODE: Final[dict[int, StoreFault]] = {
    sqlite3.SQLITE_BUSY: "busy",
    sqlite3.SQLITE_LOCKED: "busy",
    sqlite3.SQLITE_CORRUPT: "corrupt",
    sqlite3.SQLITE_NOTADB: "corrupt",
    sqlite3.SQLITE_READONLY: "read-only",
    sqlite3.SQLITE_PERM: "unreadable",
    sqlite3.SQLITE_CANTOPEN: "unreadable",
    sqlite3.SQLITE_FULL: "full",
    sqlite3.SQLITE_IOERR: "failed",
}
_PRIMARY: Final = 0xFF
_REASONS: Final[dict[StoreFault, str]] = {
    "busy": "another program is writing to it; try again",
    "corrupt": "the file is damaged, or no vocabulary; restore a copy, or import an export",
    "failed": "the disk could not read or write it; nothing of this step was kept",
    "foreign": "the file is a database of something else",
    "full": "the disk is full; nothing of this step was kept",
    "missing": "there is no such file",
    "newer": "it was written by a newer version; update Gripwright",
    "read-only": "it cannot be written to",
    "unreadable": "it cannot be opened: look at the folder and its permissions",
}


class StoreError(GripwrightError, OSError):
    """A store that cannot be read or written.

    Whatever was acknowledged before stays; of the step that failed nothing does.

    Args:
        path: The file.
        fault: What is wrong, in one word.
        reason: The same in words.

    Example:
        >>> print(StoreError(path="vocabulary.db", fault="full"))
        cannot use the store 'vocabulary.db': the disk is full; nothing of this step was kept
    """

    path: str
    fault: StoreFault
    reason: str

    def __init__(self, *, path: str, fault: StoreFault, reason: str | None = None) -> None:
        words = _REASONS[fault] if reason is None else reason
        super().__init__(
            f"cannot use the store {path!r}: {words}", path=path, fault=fault, reason=words
        )


class DocumentError(GripwrightError, ValueError):
    """An exported vocabulary that cannot be imported; nothing of it was.

    Args:
        pointer: The place in the document, as a JSON pointer (RFC 6901); empty for the whole.
        reason: What is wrong there.

    Example:
        >>> print(DocumentError(pointer="/entries/3/added", reason="expected a date"))
        cannot import the vocabulary: expected a date at /entries/3/added
    """

    pointer: str
    reason: str

    def __init__(self, *, pointer: str, reason: str) -> None:
        place = f" at {pointer}" if pointer else ""
        super().__init__(
            f"cannot import the vocabulary: {reason}{place}", pointer=pointer, reason=reason
        )


@contextlib.contextmanager
def translated(path: str) -> Iterator[None]:
    """Turn the errors of the database into those of the store.

    Args:
        path: The file.

    Raises:
        StoreError: The database failed.
    """
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        cause = error.orig if isinstance(error, DBAPIError) else error
        code = getattr(cause, "sqlite_errorcode", None)
        if code is None:
            # Misuse of the database is a fault of ours, and shows as one.
            raise
        fault = _BY_CODE.get(code & _PRIMARY)
        if fault is None:
            raise
        raise StoreError(path=path, fault=fault) from error
