"""Running an operation and writing its answer where it was asked for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs
import click

from gripwright.errors import ConditionError
from gripwright_server.cli.failure import FAILED
from gripwright_server.cli.formats import SUFFIXES, TABLE, formatted
from gripwright_server.cli.screen import Screen, screen_of
from gripwright_server.cli.stream import (
    check_writable,
    stdout,
    write_file,
    write_stdout,
)
from gripwright_server.cli.waiting import told_to_wait
from gripwright_server.formats.exported import exported
from gripwright_server.operations.operation import ResultWithVerdict
from gripwright_server.operations.option import unknown_name
from gripwright_server.operations.progress import progress_told

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from attrs import AttrsInstance

    from gripwright.plugins import Exporter
    from gripwright_server.cli.session import Session
    from gripwright_server.operations import Operation

STDOUT: Final = Path("-")
"""What stands for standard output where a file could be named."""

_TEXT: Final = "text"


@attrs.frozen
class _Target:
    """A format, and the file that it goes to; None for standard output."""

    format: str
    path: Path | None


def write_answer(
    operation: Operation,
    request: AttrsInstance,
    session: Session,
    *,
    format: str | None,  # noqa: A002 - the name of the option
    outputs: tuple[Path, ...],
    force: bool,
) -> int:
    """Run an operation once and write its answer, to each file that is asked for.

    Warnings go to stderr, the answer to the files or to stdout. Every file is refused before
    anything is computed, and nothing is written before every format is made.

    Args:
        operation: The operation.
        request: Its request.
        session: Gives the registry where the operation asks for it.
        format: Name of the format; None chooses by the ending of each file, else a table for a
            terminal and NDJSON for anything else.
        outputs: The files; none for stdout, which ``-`` names too.
        force: Overwrite files.

    Returns:
        The exit code: 1 where the answer as a whole fails, else 0.
    """
    exporters = session.registry().exporters if operation.scored else {}
    targets = _targets(operation, exporters, format, outputs)
    for target in targets:
        if target.path is not None:
            check_writable(target.path, force=force)
    with told_to_wait() as told, progress_told(told):
        result = operation.function(request, session.registry)
    for warning in result.warnings:
        click.echo(f"Warning: {warning}", err=True)
    answers: list[tuple[_Target, Iterable[str] | Iterable[bytes]]] = []
    for target in targets:
        exporter = _exporter(operation, exporters, target)
        if exporter is not None:
            with told_to_wait():
                answers.append((target, [exported(exporter, request, result)]))
        else:
            screen = Screen() if target.path is not None else screen_of(stdout())
            chunks = formatted(target.format, operation, request, result, screen)
            answers.append((target, chunks))
    for target, answer in answers:
        _write(target, answer, force=force)
    return FAILED if isinstance(result, ResultWithVerdict) and result.failed else 0


def _write(target: _Target, answer: Iterable[str] | Iterable[bytes], *, force: bool) -> None:
    if target.path is not None:
        write_file(answer, target.path, force=force)
    else:
        write_stdout(_shown(chunk) for chunk in answer)


def _shown(chunk: str | bytes) -> str | bytes:
    """Bytes as text where they are text, so that a terminal can show them."""
    if isinstance(chunk, str):
        return chunk
    try:
        return chunk.decode("utf-8")
    except UnicodeDecodeError:
        return chunk


def _exporter(
    operation: Operation, exporters: Mapping[str, Exporter], target: _Target
) -> Exporter | None:
    own = target.format == TABLE or target.format in operation.formats
    return None if own else exporters[target.format]


def _targets(
    operation: Operation,
    exporters: Mapping[str, Exporter],
    name: str | None,
    outputs: tuple[Path, ...],
) -> list[_Target]:
    """The format of each file that is asked for, all of them offered."""
    if name is not None and len(outputs) > 1:
        raise ConditionError(
            name="format", value=name, expected="none beside several files: their endings say it"
        )
    for place, file in enumerate(outputs):
        if file in outputs[:place]:
            raise ConditionError(name="output", value=str(file), expected="each file once")
    offered = (TABLE, *operation.formats, *exporters)
    targets: list[_Target] = []
    wanted: tuple[Path | None, ...] = outputs or (None,)
    for path in wanted:
        chosen = name or _usual_format(path, operation, exporters)
        if chosen not in offered:
            raise unknown_name("format", chosen, offered)
        targets.append(_Target(chosen, None if path == STDOUT else path))
    return targets


def _usual_format(
    path: Path | None, operation: Operation, exporters: Mapping[str, Exporter]
) -> str:
    # What is no list of rows comes in a format of its own.
    piped = "ndjson" if "ndjson" in operation.formats else operation.formats[0]
    if path is None:
        return TABLE if stdout().isatty() else piped
    texts = _TEXT in operation.formats or _TEXT in exporters
    if path == STDOUT:
        return _TEXT if texts else TABLE if stdout().isatty() else piped
    suffix = path.suffix.lower()
    for exporter in exporters.values():
        if suffix in exporter.suffixes:
            return exporter.name
    if exporters and suffix not in SUFFIXES:
        known = sorted(suffix for one in exporters.values() for suffix in one.suffixes)
        raise unknown_name("ending of a file", path.suffix or path.name, known)
    if suffix == ".txt" and texts:
        return _TEXT
    # An ending that means a format which the command has not is refused by its name.
    return SUFFIXES.get(suffix, piped)
