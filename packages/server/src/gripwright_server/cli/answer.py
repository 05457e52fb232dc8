"""Running an operation and writing its answer where it was asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from gripwright_server.cli.formats import FORMATS, SUFFIXES
from gripwright_server.cli.screen import Screen, screen_of
from gripwright_server.cli.stream import check_writable, stdout, write_file, write_stdout
from gripwright_server.cli.waiting import told_to_wait
from gripwright_server.operations.option import unknown_name

if TYPE_CHECKING:
    from pathlib import Path

    from attrs import AttrsInstance

    from gripwright_server.cli.session import Session
    from gripwright_server.operations import Operation


def write_answer(
    operation: Operation,
    request: AttrsInstance,
    session: Session,
    *,
    format: str | None,  # noqa: A002 - the name of the option
    output: Path | None,
    force: bool,
) -> None:
    """Run an operation and write its answer.

    Warnings go to stderr, the answer to the file or to stdout.

    Args:
        operation: The operation.
        request: Its request.
        session: Gives the registry where the operation asks for it.
        format: Name of the format; None chooses by the ending of the file, else a table for a
            terminal and NDJSON for anything else.
        output: The file, or None for stdout.
        force: Overwrite the file.
    """
    name = format or _usual_format(output, operation)
    offered = ("table", *operation.formats)
    if name not in offered:
        raise unknown_name("format", name, offered)
    if output is not None:
        check_writable(output, force=force)
    with told_to_wait():
        result = operation.function(request, session.registry)
    for warning in result.warnings:
        click.echo(f"Warning: {warning}", err=True)
    screen = Screen() if output is not None else screen_of(stdout())
    chunks = FORMATS[name](operation, request, result, screen)
    if output is None:
        write_stdout(chunks)
    else:
        write_file(chunks, output, force=force)


def _usual_format(output: Path | None, operation: Operation) -> str:
    if output is not None:
        if output.suffix.lower() == ".txt" and "text" in operation.formats:
            return "text"
        # An ending that means a format which the command has not is refused by its name.
        return SUFFIXES.get(output.suffix.lower(), "ndjson")
    return "table" if stdout().isatty() else "ndjson"
