"""SQLite as the database of a store: how it is opened, and that every write begins at once.

What is special to SQLite is here; the rest of the store speaks to any database.
"""

from __future__ import annotations

import contextlib
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.pool import QueuePool

from gripwright_server.store.failure import StoreError, translated

WAIT_SECONDS: Final = 30
"""How long a writer waits for another to end."""

_WRITES: Final = "gripwright_writes"
_BETWEEN_TRIES_SECONDS: Final = 0.02
_HEADER: Final = b"SQLite format 3\x00"


def engine_for(path: Path, *, create: bool) -> tuple[Engine, bool]:
    """The engine of a file, and whether it may be written to.

    A file that cannot be written to is opened for reading; where its folder cannot be written
    to either and nobody has it open, it is taken as it stands.

    Args:
        path: The file.
        create: Whether to make it, and its folder, where there is none.

    Raises:
        StoreError: There is no such file, or it cannot be opened.
    """
    if not path.exists():
        if not create:
            raise StoreError(path=str(path), fault="missing")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.touch(mode=0o600)
        except OSError as error:
            raise StoreError(
                path=str(path), fault="unreadable", reason=f"it cannot be made: {error.strerror}"
            ) from error
    writable = _may_write(path)
    where = f"file:{quote(str(path.absolute()))}"
    if not writable:
        asleep = not path.with_name(f"{path.name}-wal").exists()
        where += "?mode=ro&immutable=1" if asleep else "?mode=ro"

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(where, uri=True, timeout=WAIT_SECONDS, check_same_thread=False)

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)
    _listen(engine, writable=writable)
    return engine, writable


@contextlib.contextmanager
def reading(engine: Engine, path: str) -> Iterator[Connection]:
    """A transaction that reads: it sees one moment of the store, whoever writes.

    Raises:
        StoreError: The database failed.
    """
    with translated(path), engine.connect() as connection, connection.begin():
        yield connection


@contextlib.contextmanager
def writing(engine: Engine, path: str) -> Iterator[Connection]:
    """A transaction that writes: all of it is kept when this returns, or nothing.

    It begins as a writer, and waits for other writers there. (A transaction that begins as a
    reader and then writes is refused under a second writer, however long it would wait.)

    Raises:
        StoreError: The database failed; nothing was kept.
    """
    with translated(path), engine.connect() as plain:
        connection = plain.execution_options(**{_WRITES: True})
        with connection.begin():
            yield connection


def check_file(connection: Connection) -> list[str]:
    """What SQLite itself finds wrong with the file, one sentence each.

    Args:
        connection: A connection in a transaction.
    """
    faults = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check")]
    orphans = list(connection.exec_driver_sql("PRAGMA foreign_key_check"))
    return [f"the file: {fault}" for fault in faults if fault != "ok"] + [
        f"the table {row[0]}: a row refers to none of {row[2]}" for row in orphans
    ]


def _may_write(path: Path) -> bool:
    """Whether the file can be written to, by trying; permissions alone do not tell.

    Raises:
        StoreError: It cannot even be read, or is no database.
    """
    try:
        with path.open("rb") as file:
            header = file.read(len(_HEADER))
    except OSError as error:
        raise StoreError(path=str(path), fault="unreadable") from error
    if header and header != _HEADER:
        raise StoreError(path=str(path), fault="corrupt")
    try:
        with path.open("r+b"):
            return True
    except OSError:
        return False


def _listen(engine: Engine, *, writable: bool) -> None:
    @event.listens_for(engine, "connect")
    def prepare(connection: sqlite3.Connection, _record: object) -> None:
        # The driver's own transactions are off: ours begin as we say.
        connection.isolation_level = None
        connection.execute("PRAGMA foreign_keys = ON")
        if writable:
            _write_ahead(connection)
            connection.execute("PRAGMA synchronous = FULL")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get(_WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Keep a write-ahead log, so that readers and a writer do not wait for each other.

    Turning it on does not wait for others who are doing so: it is tried again.
    """
    tries = round(WAIT_SECONDS / _BETWEEN_TRIES_SECONDS)
    for left in range(tries, 0, -1):
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            busy: Any = sqlite3.SQLITE_BUSY
            if error.sqlite_errorcode != busy or left == 1:
                raise
            time.sleep(_BETWEEN_TRIES_SECONDS)
        else:
            return
