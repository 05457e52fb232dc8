"""What goes wrong with a vocabulary, as a player meets it on the command line."""

import json
import shutil
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gripwright_server.cli import ROOT
from gripwright_server.store import Store

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
GRIPS = (("Cmaj7", "x-3-5-4-5-x"), ("Dm9", "x-5-3-5-5-x"), ("G7", "3-x-3-4-3-x"))
On = Callable[..., Result]


def run(store: Path, *arguments: str) -> Result:
    """Run a command on a store, at one moment."""
    line = ["vocabulary", *arguments, "--store", str(store)]
    return CliRunner().invoke(ROOT, line, obj=lambda: NOW, prog_name="gripwright")


@pytest.fixture
def on() -> On:
    """Run a command on a store, at one moment."""
    return run


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with a few grips, one of them reviewed."""
    path = tmp_path_factory.mktemp("made") / "grips.db"
    assert run(path, "begin", "--bare").exit_code == 0
    for symbol, frets in GRIPS:
        assert run(path, "add", symbol, frets).exit_code == 0
    assert run(path, "review", "x-3-5-4-5-x=Cmaj7", "--grade", "in-time").exit_code == 0
    return path


@pytest.fixture
def store(made: Path, tmp_path: Path) -> Path:
    """A copy of it, to be spoilt."""
    return Path(shutil.copy(made, tmp_path / made.name))


def is_whole(path: Path) -> bool:
    """Whether SQLite itself finds the file sound."""
    with sqlite3.connect(path) as connection:
        return list(connection.execute("PRAGMA integrity_check")) == [("ok",)]


def test_concurrent_writers_all_count(store: Path, on: On) -> None:
    """Processes that review at once lose nothing of one another."""
    line = [
        *(sys.executable, "-m", "gripwright_server", "vocabulary", "review", "x-5-3-5-5-x=Dm9"),
        *("--grade", "slowly", "--store", str(store), "--review-id"),
    ]
    names = [f"writer-{number}" for number in range(4)]
    writers = [subprocess.Popen([*line, name], stdout=subprocess.DEVNULL) for name in names]
    assert [writer.wait(timeout=60) for writer in writers] == [0] * len(names)
    shown = json.loads(on(store, "show", "x-5-3-5-5-x=Dm9", "--format", "json").stdout)
    assert sorted(review["id"] for review in shown["reviews"]) == names
    assert is_whole(store)


@pytest.mark.skipif(sys.platform == "win32", reason="permissions are others there")
def test_read_only_file_can_be_read_and_not_written(
    store: Path, on: On, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plan can be read from a stick that is locked; a review is refused, and said to be."""
    before = store.read_bytes()
    store.chmod(stat.S_IRUSR)
    # Whoever may write everything, as the superuser, is told by the system that he may.
    monkeypatch.setattr("gripwright_server.store.sqlite._may_write", lambda _: False)
    assert on(store, "list").exit_code == 0
    assert on(store, "today").exit_code == 0
    result = on(store, "review", "x-5-3-5-5-x=Dm9", "--grade", "in-time")
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "it cannot be written to" in result.stderr
    assert store.read_bytes() == before


def test_store_of_a_newer_version_is_refused(store: Path, on: On) -> None:
    """What a newer Gripwright wrote is left alone, with the word to update."""
    with sqlite3.connect(store) as connection:
        connection.execute("UPDATE about SET value = '99' WHERE name = 'schema'")
    for line in (("list",), ("add", "C6", "x-3-2-2-x-x"), ("begin",), ("check",)):
        result = on(store, *line)
        assert result.exit_code == 1
        assert "update Gripwright" in result.stderr
    assert is_whole(store)


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: b"no database at all" * (len(data) // 16),
        lambda data: data[: len(data) // 2],
        lambda data: data[:4096] + b"\xa5" * 8192 + data[12288:],
    ],
    ids=["text", "cut", "torn"],
)
@pytest.mark.parametrize("line", [("check",), ("list",), ("today",)])
def test_corrupt_file_is_told(
    store: Path, on: On, damage: Callable[[bytes], bytes], line: tuple[str, ...]
) -> None:
    """A damaged file ends with an error and what to do, never with a traceback."""
    for name in (f"{store.name}-wal", f"{store.name}-shm"):
        store.with_name(name).unlink(missing_ok=True)
    store.write_bytes(damage(store.read_bytes()))
    result = on(store, *line)
    assert result.exit_code == 1
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert result.stderr.startswith("Error: ") or "sentence" in result.stdout


def test_check_finds_a_schedule_that_is_not_what_the_log_makes_it(store: Path, on: On) -> None:
    """A card that was tampered with is named, and worked out anew where that is asked for."""
    assert on(store, "check").exit_code == 0
    with sqlite3.connect(store) as connection:
        connection.execute("UPDATE card SET stability = 1000")
    result = on(store, "check")
    assert result.exit_code == 1
    assert "is not what its reviews make it" in json.loads(result.stdout)["sentence"]
    assert on(store, "check", "--rebuild").exit_code == 0
    assert on(store, "check").exit_code == 0


def test_import_cut_short_adds_nothing(store: Path, on: On, tmp_path: Path) -> None:
    """Wherever the file ends too early, nothing of it is taken and no store is made."""
    whole = on(store, "export").stdout
    cut, other = tmp_path / "cut.json", tmp_path / "other.db"
    for end in range(1, len(whole) - 2, max(1, len(whole) // 12)):
        cut.write_text(whole[:end], encoding="ascii")
        result = on(other, "import", str(cut))
        assert result.exit_code == 4, end
        assert "cannot import the vocabulary" in result.stderr
        assert "Nothing of it was taken." in result.stderr
        assert not other.exists()


def test_import_of_a_wrong_record_points_to_it(store: Path, on: On, tmp_path: Path) -> None:
    """The place in the document is a JSON pointer (RFC 6901)."""
    document = json.loads(on(store, "export").stdout)
    document["entries"][1]["added"] = "yesterday"
    file = tmp_path / "wrong.json"
    file.write_text(json.dumps(document), encoding="ascii")
    result = on(store, "import", str(file))
    assert result.exit_code == 4
    assert "/entries/1/added" in result.stderr
    file.write_bytes(b'{"schema": "\xff"}')
    assert "no text in UTF-8" in on(store, "import", str(file)).stderr


def test_import_twice_changes_nothing(store: Path, on: On, tmp_path: Path) -> None:
    """The export of an import is the export; a second import brings nothing."""
    whole = on(store, "export").stdout
    file, other = tmp_path / "whole.json", tmp_path / "other.db"
    assert on(store, "export", "-o", str(file)).exit_code == 0
    assert file.read_text(encoding="ascii") == whole
    first = [json.loads(line) for line in on(other, "import", str(file)).stdout.splitlines()]
    assert {row["what"]: row["count"] for row in first} == {
        "entries": len(GRIPS),
        "reviews": 1,
        "profile": 1,
    }
    again = [json.loads(line) for line in on(other, "import", str(file)).stdout.splitlines()]
    assert [row["count"] for row in again] == [0, 0, 0]
    assert on(other, "export").stdout == whole


def test_full_disk_keeps_nothing_of_the_step(
    store: Path, on: On, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a full disk refuses is told, and what was there stays."""
    before = on(store, "export").stdout
    real = sqlite3.connect

    def full(*arguments: object, **settings: object) -> sqlite3.Connection:
        connection = real(*arguments, **settings)  # type: ignore[call-overload]
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages}")
        return connection  # type: ignore[no-any-return]

    monkeypatch.setattr(sqlite3, "connect", full)
    result = on(store, "begin")
    monkeypatch.undo()
    assert result.exit_code == 1
    assert "the disk is full; nothing of this step was kept" in result.stderr
    assert on(store, "export").stdout == before
    assert is_whole(store)


def test_foreign_database_is_left_alone(tmp_path: Path, on: On) -> None:
    """A file of another program is not turned into a store."""
    path = tmp_path / "other.db"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE bill (sum INTEGER)")
    result = on(path, "begin")
    assert result.exit_code == 1
    assert "a database of something else" in result.stderr
    with pytest.raises(OSError, match="something else"):
        Store.open(path)
