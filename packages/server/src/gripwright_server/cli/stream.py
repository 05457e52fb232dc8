"""Where output goes: a stream that may close early, or a file that appears whole or not at all."""

from __future__ import annotations

import errno
import io
import os
import stat
import sys
from typing import TYPE_CHECKING, TextIO

from gripwright.errors import GripwrightError

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path


class FileExistsRefusal(GripwrightError, FileExistsError):  # noqa: N818 - a refusal, not a fault
    """A file that is there and was not to be overwritten.

    Args:
        path: The file.
    """

    path: str

    def __init__(self, *, path: str) -> None:
        super().__init__(f"{path} is there already; --force overwrites it", path=path)


class UnwritableFileError(GripwrightError, OSError):
    """A file that the file system refuses.

    Args:
        path: The file.
        reason: What the system says.

    Example:
        >>> print(UnwritableFileError(path="drill.wav", reason="No space left on device"))
        cannot write drill.wav: No space left on device
    """

    path: str
    reason: str

    def __init__(self, *, path: str, reason: str) -> None:
        super().__init__(f"cannot write {path}: {reason}", path=path, reason=reason)


class BinaryOnTerminalError(GripwrightError, ValueError):
    """Bytes that were to go to a terminal.

    Example:
        >>> print(BinaryOnTerminalError())
        this format is no text for a terminal: write it to a file with -o, or pipe it
    """

    def __init__(self) -> None:
        super().__init__(
            "this format is no text for a terminal: write it to a file with -o, or pipe it"
        )


def stdout() -> TextIO:
    """Standard output.

    Raises:
        OSError: It is closed, as a shell closes it by ``>&-``.
    """
    stream: TextIO | None = sys.stdout
    if stream is None:
        raise OSError(errno.EBADF, "standard output is closed")
    return stream


def write_stdout(chunks: Iterable[str | bytes]) -> None:
    """Write texts to standard output, or as many of them as its reader wants.

    A reader that closes the pipe, as ``head`` does, has what it wanted: that is no failure.

    Args:
        chunks: Texts; or bytes, which no terminal shows.

    Raises:
        BinaryOnTerminalError: There are bytes, and it is a terminal.
        OSError: Standard output is closed or full.
    """
    stream = stdout()
    if isinstance(stream, io.TextIOWrapper):
        # A terminal that cannot show a dot shows a question mark; data are ASCII in any case.
        stream.reconfigure(errors="replace")
    try:
        for chunk in chunks:
            if isinstance(chunk, str):
                stream.write(chunk)
            elif stream.isatty():
                raise BinaryOnTerminalError
            else:
                stream.flush()
                stream.buffer.write(chunk)
        stream.flush()
    except BrokenPipeError:
        close_quietly(stream)


def close_quietly(stream: TextIO) -> None:
    """Send what is left of a stream whose reader has gone nowhere, so that exit stays quiet."""
    try:
        descriptor = stream.fileno()
    except (OSError, ValueError):
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, descriptor)
    os.close(nowhere)


def check_writable(path: Path, *, force: bool) -> None:
    """Refuse a file that is there, before anything is computed.

    Raises:
        FileExistsRefusal: The file is there, is a regular one, and `force` is not given.
    """
    if not force and path.exists() and _is_regular(path):
        raise FileExistsRefusal(path=str(path))


def write_file(chunks: Iterable[str | bytes], path: Path, *, force: bool) -> None:
    """Write a file so that it appears whole or not at all.

    The texts go to a new file beside it, which then takes its place; without `force` it does so
    only where nothing is. A link is followed; a device or a pipe is written as it is.

    Args:
        chunks: Texts, written as UTF-8, or bytes.
        path: The file.
        force: Overwrite it.

    Raises:
        FileExistsRefusal: The file is there and `force` is not given.
        UnwritableFileError: The file system refuses.
    """
    try:
        _write_whole(chunks, path, force=force)
    except FileExistsRefusal:
        raise
    except OSError as error:
        raise UnwritableFileError(path=str(path), reason=error.strerror or str(error)) from error


def _write_whole(chunks: Iterable[str | bytes], path: Path, *, force: bool) -> None:
    check_writable(path, force=force)
    if path.exists() and not _is_regular(path):
        with path.open("wb") as stream:
            stream.writelines(map(_as_bytes, chunks))
        return
    target = path.resolve()
    draft = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with draft.open("xb") as stream:
            stream.writelines(map(_as_bytes, chunks))
            stream.flush()
            os.fsync(stream.fileno())
        _put(draft, target, force=force)
    finally:
        draft.unlink(missing_ok=True)


def _as_bytes(chunk: str | bytes) -> bytes:
    return chunk.encode("utf-8") if isinstance(chunk, str) else chunk


def _put(draft: Path, target: Path, *, force: bool) -> None:
    """Move a finished draft to its place."""
    if force:
        draft.replace(target)
        return
    try:
        # A hard link fails where a file is, even one that came in the meantime.
        target.hardlink_to(draft)
    except FileExistsError as error:
        raise FileExistsRefusal(path=str(target)) from error
    except OSError:
        # A file system without hard links: what is left is the check made before.
        check_writable(target, force=force)
        draft.replace(target)


def _is_regular(path: Path) -> bool:
    return stat.S_ISREG(path.stat().st_mode)
