"""Faults: every one is a clear error, nothing acknowledged is lost, nothing half-written stays."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest

from gripwright.errors import GripwrightError
from gripwright_server.store import Review, Store, StoreError
from gripwright_server.store.sqlite import writing
from tests.server.store.shelf import GUITAR_ID, NOW, PLAYER, entries, filled

ROOT = Path(__file__).parents[3]
NOBODY = 65534


def sound(path: Path) -> bool:
    """Return whether SQLite itself finds the file sound."""
    with closing(sqlite3.connect(path)) as raw:
        return list(raw.execute("PRAGMA integrity_check")) == [("ok",)]


def processes(command: str, path: Path, count: int, *before: str) -> dict[str, Any]:
    """Run the writers in processes of their own."""
    line = [*before, sys.executable, "-m", "tests.server.store.processes"]
    answer = subprocess.run(
        [*line, command, str(path), str(count)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert answer.returncode == 0, answer.stderr
    result: dict[str, Any] = json.loads(answer.stdout)
    return result


def test_killed_writers_lose_nothing(tmp_path: Path) -> None:
    """Two hundred writers killed (SIGKILL) in the middle of every kind of write.

    After each the file passes ``PRAGMA integrity_check``, all that was acknowledged is there, and
    no step is half there.
    """
    result = processes("kill", tmp_path / "grips.db", 200)
    assert result["faults"] == []
    assert result["ended by themselves"] == 0
    assert result["acknowledged"] >= 150


def test_writers_in_a_crowd_wait_for_each_other(tmp_path: Path) -> None:
    """Six processes make the store together and write at once; shared reviews count once."""
    result = processes("crowd", tmp_path / "grips.db", 6)
    assert result["statuses"] == [0] * 6
    assert len(result["acknowledged"]) == 6 * 50
    assert result["held"] == 6 * 25 + 25
    assert result["faults"] == []


@pytest.mark.parametrize("kilobytes", [100, 160, 250])
def test_a_write_that_the_system_refuses_is_undone(tmp_path: Path, kilobytes: int) -> None:
    """The system call fails where a file would grow beyond a limit (RLIMIT_FSIZE)."""
    path = tmp_path / "grips.db"
    result = processes("no-room", path, kilobytes)
    assert result["met"] in ([["error failed"], ["error full"]])
    assert result["faults"] == []
    with Store.open(path) as store:
        assert store.check() == ()
        store.add(entries()[:1])


@pytest.mark.system
def test_a_full_disk_is_said_and_nothing_is_lost(tmp_path: Path) -> None:
    """A file system of 600 kB, filled by the writer itself (``unshare`` and ``mount``)."""
    disk = tmp_path / "disk"
    disk.mkdir()
    script = f'mount -t tmpfs -o size=600k tmpfs "{disk}" && exec "$@"'
    inside = ("unshare", "--map-root-user", "--mount", "sh", "-c", script, "sh")
    result = processes("small-disk", disk / "grips.db", 0, *inside)
    assert result["met"] == ["error full"]
    assert result["acknowledged"] > 0
    assert result["faults"] == []


def test_a_file_that_may_not_grow_says_that_the_disk_is_full(tmp_path: Path) -> None:
    """SQLite's own limit of pages stands for a disk; what was there stays, and is readable."""
    path = tmp_path / "grips.db"
    with filled(path, 3) as store:
        before = store.export()
        with writing(store._engine, str(path)) as connection:  # noqa: SLF001 - the limit is of a connection
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
            connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(StoreError, match="the disk is full") as refused:
            store.add(entries())
        assert refused.value.fault == "full"
        assert store.export() == before
    assert sound(path)
    with Store.open(path) as store:
        assert store.add(entries()) == len(entries()) - 3


@contextmanager
def nobody() -> Iterator[None]:
    """Be a user without rights, where the tests are run by one who has all."""
    if os.geteuid():
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[Path]:
    """Give a folder that others can enter, for the user without rights."""
    place = tmp_path
    while place != place.parent and place.stat().st_uid == os.geteuid():
        place.chmod(place.stat().st_mode | 0o055)
        place = place.parent
    yield tmp_path
    for path in tmp_path.rglob("*"):
        path.chmod(0o700 if path.is_dir() else 0o600)


@pytest.mark.parametrize("folder_mode", [0o777, 0o555])
def test_a_read_only_file_can_be_read_and_says_so_when_written(
    shared: Path, folder_mode: int
) -> None:
    """Whether its folder can be written to or not; nothing in it changes."""
    path = shared / "shelf" / "grips.db"
    path.parent.mkdir()
    with filled(path) as store:
        before = store.export()
    path.chmod(0o444)
    path.parent.chmod(folder_mode)
    data = path.read_bytes()
    with nobody(), Store.open(path) as store:
        assert store.writable is False
        assert store.export() == before
        assert store.profile() == PLAYER
        assert store.standing(GUITAR_ID, NOW).due
        assert store.check() == ()
        for write in (
            lambda: store.add(entries()),
            lambda: store.review(Review("new", entries()[0].id, "in-time", NOW)),
            lambda: store.change(entries()[0].id, note="new"),
            lambda: store.remove(entries()[0].id),
            lambda: store.keep_profile(PLAYER),
            lambda: store.bring_in(before),
            store.rebuild,
        ):
            with pytest.raises(StoreError, match="cannot be written to") as refused:
                write()
            assert refused.value.fault == "read-only"
    path.parent.chmod(0o755)
    assert path.read_bytes() == data
    assert sound(path)


def test_a_file_that_turns_read_only_under_way_says_so(tmp_path: Path) -> None:
    """What SQLite finds when it writes is told in the same words."""
    path = tmp_path / "grips.db"
    with filled(path) as store:
        with writing(store._engine, str(path)) as connection:  # noqa: SLF001 - the switch is of a connection
            connection.exec_driver_sql("PRAGMA query_only = ON")
        with pytest.raises(StoreError) as refused:
            store.add(entries())
        assert refused.value.fault == "read-only"
    assert sound(path)


def test_a_file_that_nobody_may_read_is_refused(shared: Path) -> None:
    """And so is a folder in which no file can be made."""
    path = shared / "grips.db"
    filled(path).close()
    path.chmod(0)
    shared.chmod(0o555)
    with nobody():
        with pytest.raises(StoreError) as refused:
            Store.open(path)
        assert refused.value.fault == "unreadable"
        with pytest.raises(StoreError, match="cannot be made") as refused:
            Store.open(shared / "new" / "grips.db")
        assert refused.value.fault == "unreadable"
    shared.chmod(0o755)


def test_a_newer_store_is_left_alone(tmp_path: Path) -> None:
    """Its version is named, and not a byte of it changes."""
    path = tmp_path / "grips.db"
    filled(path).close()
    with closing(sqlite3.connect(path)) as raw, raw:
        raw.execute("UPDATE about SET value = '2' WHERE name = 'schema'")
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = path.read_bytes()
    with pytest.raises(StoreError, match=r"version 2.*update Gripwright") as refused:
        Store.open(path)
    assert refused.value.fault == "newer"
    assert path.read_bytes() == data
    assert sound(path)


@pytest.mark.parametrize("garbage", [b"Dm7 G7 Cmaj7\n" * 100, b"\x00" * 4096, b"SQLite"])
def test_a_file_that_is_no_database_is_refused(tmp_path: Path, garbage: bytes) -> None:
    """And left as it is."""
    path = tmp_path / "song.txt"
    path.write_bytes(garbage)
    with pytest.raises(StoreError, match="no vocabulary") as refused:
        Store.open(path)
    assert refused.value.fault == "corrupt"
    assert path.read_bytes() == garbage


def test_a_database_of_something_else_is_refused(tmp_path: Path) -> None:
    """It gets no tables of ours."""
    path = tmp_path / "other.db"
    with closing(sqlite3.connect(path)) as raw, raw:
        raw.execute("CREATE TABLE song (name TEXT)")
    with pytest.raises(StoreError, match="something else") as refused:
        Store.open(path)
    assert refused.value.fault == "foreign"
    with closing(sqlite3.connect(path)) as raw:
        assert raw.execute("SELECT name FROM sqlite_master").fetchall() == [("song",)]


def test_damage_anywhere_is_found(tmp_path: Path) -> None:
    """Each page overwritten in its turn: opening or checking says so, in an error of ours."""
    path, hurt = tmp_path / "grips.db", tmp_path / "hurt.db"
    filled(path, 30).close()
    whole = path.read_bytes()
    size = int.from_bytes(whole[16:18], "big")
    missed = []
    for page in range(len(whole) // size):
        # The first hundred bytes are the header of the file, which tells what it is.
        start = page * size + (100 if page == 0 else 0)
        end = (page + 1) * size
        hurt.write_bytes(whole[:start] + b"\xff" * (end - start) + whole[end:])
        try:
            with Store.open(hurt) as store:
                if not store.check():
                    missed.append(page)
        except GripwrightError:
            continue
    assert len(whole) // size > 10
    assert missed == []


def test_a_file_cut_short_is_refused(tmp_path: Path) -> None:
    """Half of a store is no store."""
    path = tmp_path / "grips.db"
    filled(path, 30).close()
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(StoreError) as refused, Store.open(path) as store:
        store.export()
    assert refused.value.fault == "corrupt"


def test_a_store_that_is_not_there_is_not_made_unasked(tmp_path: Path) -> None:
    """With ``create`` it is, and its folder with it, for the player alone."""
    path = tmp_path / "data" / "grips.db"
    with pytest.raises(StoreError, match="no such file") as refused:
        Store.open(path, create=False)
    assert refused.value.fault == "missing"
    assert not path.parent.exists()
    with Store.open(path) as store:
        assert store.entries() == ()
    assert path.stat().st_mode & 0o077 == 0


def test_an_empty_file_becomes_a_store(tmp_path: Path) -> None:
    """Such as one whose making was cut off before the first write."""
    path = tmp_path / "grips.db"
    path.touch()
    with Store.open(path, create=False) as store:
        store.add(entries()[:1])
    assert sound(path)


def test_a_name_with_odd_signs_is_a_name(tmp_path: Path) -> None:
    """Signs that mean something in an address mean nothing in a file's name."""
    path = tmp_path / "my grips? #1 %41.db"
    with filled(path) as store:
        assert store.check() == ()
    assert sorted(one.name for one in tmp_path.iterdir()) == [path.name]


def test_a_copy_of_the_file_is_the_store(tmp_path: Path) -> None:
    """Once it is closed, one file holds everything."""
    path, copy = tmp_path / "grips.db", tmp_path / "copy.db"
    with filled(path) as store:
        before = store.export()
    assert sorted(one.name for one in tmp_path.iterdir()) == ["grips.db"]
    shutil.copy(path, copy)
    with Store.open(copy) as store:
        assert store.export() == before


def test_cards_that_differ_from_the_log_are_found_and_mended(tmp_path: Path) -> None:
    """The log is the truth: what is worked out can be worked out again."""
    path = tmp_path / "grips.db"
    filled(path).close()
    with closing(sqlite3.connect(path)) as raw, raw:
        raw.execute("UPDATE card SET stability = stability + 1 WHERE entry_id LIKE '%=C'")
        raw.execute("UPDATE entry SET top_degree = '9' WHERE id LIKE '%=D'")
    with Store.open(path) as store:
        faults = store.check()
        assert [fault for fault in faults if "card of guitar:x-3-2-0-1-0=C" in fault]
        assert [fault for fault in faults if "entry guitar:x-x-0-2-3-2=D" in fault]
        store.rebuild()
        assert len(store.check()) == 1
