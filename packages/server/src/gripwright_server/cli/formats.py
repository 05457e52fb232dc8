"""The formats of an answer on the command line: those of every surface, and a table for people."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table import table_lines
from gripwright_server.formats import FORMATS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from attrs import AttrsInstance

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations import Operation, Result

TABLE: Final = "table"
"""The format that only a command line has."""

SUFFIXES: Final = {
    ".txt": TABLE,
    ".json": "json",
    ".ndjson": "ndjson",
    ".csv": "csv",
    ".svg": "svg",
    ".musicxml": "musicxml",
    ".xml": "musicxml",
    ".pdf": "pdf",
}
"""The format that the ending of a file name means."""


def formatted(
    name: str, operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str] | Iterator[bytes]:
    """The answer in a format, in pieces of text, or of bytes where it is no text.

    Args:
        name: The table, or one of the operation's own formats.
        operation: The operation.
        request: Its request.
        result: Its answer.
        screen: What a table is drawn for.
    """
    if name == TABLE:
        return (f"{line.rstrip()}\n" for line in table_lines(operation, result, screen))
    return FORMATS[name](operation, request, result)
