"""Where output goes: pipes that close, and files that appear whole or not at all."""

import errno
import os
import stat
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from gripwright_server.cli.stream import FileExistsRefusal, UnwritableFileError, write_file
from tests.server.conftest import Run


def test_closed_pipe_is_quiet() -> None:
    """A reader that takes one line ends the command without a word."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "gripwright_server", "voicings", "C", "--all"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert writer.stdout is not None
    assert writer.stderr is not None
    first = writer.stdout.readline()
    writer.stdout.close()
    errors = writer.stderr.read()
    writer.stderr.close()
    assert writer.wait(timeout=60) == 0
    assert first.startswith('{"id": "guitar:')
    assert errors == ""


@pytest.mark.parametrize(
    ("redirection", "words"),
    [(">&-", "standard output is closed"), (">/dev/full", "No space left")],
)
def test_output_that_cannot_be_written_is_a_failure(redirection: str, words: str) -> None:
    """A closed or full output is said in a line, with exit code 1."""
    result = subprocess.run(
        ["/bin/sh", "-c", f'"$0" -m gripwright_server spell C {redirection}', sys.executable],
        check=False,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert result.returncode == 1
    assert words in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_file_is_written_and_not_overwritten_unless_forced(run: Run, tmp_path: Path) -> None:
    """A file that is there stays as it is; --force replaces it."""
    path = tmp_path / "chords.json"
    assert run("spell", "C", "-o", str(path)).exit_code == 0
    written = path.read_bytes()
    refused = run("spell", "D", "-o", str(path))
    assert refused.exit_code == 1
    assert "--force" in refused.stderr
    assert path.read_bytes() == written
    assert run("spell", "D", "-o", str(path), "--force").exit_code == 0
    assert path.read_bytes() != written
    assert [one.name for one in tmp_path.iterdir()] == ["chords.json"]


@pytest.mark.parametrize("fault", [ZeroDivisionError, KeyboardInterrupt])
def test_failing_answer_leaves_no_file_and_no_draft(
    tmp_path: Path, fault: type[BaseException]
) -> None:
    """What breaks or is interrupted in the middle leaves the folder as it was."""

    def broken() -> Iterator[str]:
        yield "half"
        raise fault

    with pytest.raises(fault):
        write_file(broken(), tmp_path / "answer.txt", force=False)
    assert list(tmp_path.iterdir()) == []


def test_full_disk_is_named_with_the_file(tmp_path: Path) -> None:
    """The file that was asked for is said, and not the draft beside it; neither is left."""

    def full() -> Iterator[str]:
        yield "half"
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    path = tmp_path / "answer.txt"
    with pytest.raises(UnwritableFileError) as caught:
        write_file(full(), path, force=False)
    assert str(caught.value) == f"cannot write {path}: {os.strerror(errno.ENOSPC)}"
    assert list(tmp_path.iterdir()) == []


def test_failing_answer_keeps_what_was_there(tmp_path: Path) -> None:
    """Even with --force the old file stays until the new one is whole."""
    path = tmp_path / "answer.txt"
    path.write_text("old")

    def broken() -> Iterator[str]:
        yield "half"
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_file(broken(), path, force=True)
    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["answer.txt"]


def test_file_that_comes_in_the_meantime_is_not_overwritten(tmp_path: Path) -> None:
    """The check is made by the file system at the end, not only before."""
    path = tmp_path / "answer.txt"

    def slow() -> Iterator[str]:
        path.write_text("another's")
        yield "ours"

    with pytest.raises(FileExistsRefusal):
        write_file(slow(), path, force=False)
    assert path.read_text() == "another's"


def test_written_file_has_the_usual_permissions(tmp_path: Path) -> None:
    """A file by -o can be read by whom any new file can be read."""
    usual = tmp_path / "usual"
    usual.write_text("")
    write_file(["text"], tmp_path / "ours", force=False)
    assert stat.S_IMODE((tmp_path / "ours").stat().st_mode) == stat.S_IMODE(usual.stat().st_mode)


def test_link_is_followed(tmp_path: Path) -> None:
    """A link keeps pointing where it did."""
    target = tmp_path / "target"
    target.write_text("old")
    link = tmp_path / "link"
    link.symlink_to(target)
    write_file(["new"], link, force=True)
    assert link.is_symlink()
    assert target.read_text() == "new"


def test_pipe_with_a_name_is_written_as_it_is(tmp_path: Path) -> None:
    """A named pipe or a device is no file to be replaced."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read: list[str] = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_text()))
    reader.start()
    write_file(["one", "two"], pipe, force=False)
    reader.join(timeout=10)
    assert read == ["onetwo"]
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_folder_that_is_not_there_is_named(run: Run, tmp_path: Path) -> None:
    """A wrong path is a failure with its name, not a traceback."""
    path = tmp_path / "nowhere" / "file"
    result = run("spell", "C", "-o", str(path))
    assert result.exit_code == 1
    assert result.stderr == f"Error: cannot write {path}: {os.strerror(errno.ENOENT)}\n"
