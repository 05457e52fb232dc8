"""The formats of an answer, each a function from a result to pieces of text.

Machine formats are ASCII, and equal answers give equal text. Rows are written as they are made, so
that a long answer begins at once and takes no room.
"""

from __future__ import annotations

import csv
import io
import json
from typing import TYPE_CHECKING, Final, Protocol, cast

import attrs

from gripwright_server.cli.picture import picture_of
from gripwright_server.cli.table import table_lines
from gripwright_server.operations import request_fields
from gripwright_server.operations.operation import facts_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from attrs import AttrsInstance

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations import Operation, Result
    from gripwright_server.operations.chart import ChartResult


class Format(Protocol):
    """Writes an answer in one format."""

    def __call__(
        self, operation: Operation, request: AttrsInstance, result: Result, screen: Screen, /
    ) -> Iterator[str]:
        """Yield the answer in pieces."""


def as_table(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """A table for people."""
    del request
    for line in table_lines(operation, result, screen):
        yield f"{line.rstrip()}\n"


def as_json(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """One JSON document (RFC 8259), a row a line: schema, request, counts and the rows."""
    del screen
    head = {
        "schema": operation.schema,
        "request": {
            field.name: getattr(request, field.name) for field in request_fields(type(request))
        },
        "count": result.count,
        "returned": result.returned,
        **facts_of(result),
    }
    yield "{\n"
    for key, value in head.items():
        yield f"  {json.dumps(key)}: {json.dumps(value)},\n"
    yield f"  {json.dumps(operation.collection)}: ["
    separator = "\n"
    for row in result.rows():
        yield f"{separator}    {_row_text(row)}"
        separator = ",\n"
    yield "\n  ]\n}\n"


def as_ndjson(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """JSON rows alone, one a line."""
    del operation, request, screen
    for row in result.rows():
        yield f"{_row_text(row)}\n"


def as_csv(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """Comma-separated values (RFC 4180, with line feeds) under a line of names.

    A value that is a list stands in one cell with spaces between; a muted string is ``x``.
    """
    del request, screen
    names = [attribute.name for attribute in attrs.fields(operation.row)]
    yield _csv_line(names)
    for row in result.rows():
        yield _csv_line([_cell(getattr(row, name)) for name in names])


def as_svg(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """One picture (SVG 1.1) of all rows."""
    del screen
    yield picture_of(operation, request, result)


def as_text(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """The text that the answer is, where it is one: it reads back to itself."""
    del operation, request, screen
    yield f"{facts_of(result)['text']}\n"


def as_musicxml(
    operation: Operation, request: AttrsInstance, result: Result, screen: Screen
) -> Iterator[str]:
    """A lead sheet (MusicXML 4.0) of the chart, with character references for what is no ASCII."""
    del operation, request, screen
    # Late on purpose: only charts are written so.
    from gripwright.tune.leadsheet_writer import write_leadsheet  # noqa: PLC0415

    document = write_leadsheet(cast("ChartResult", result).sounding).decode()
    yield document.encode("ascii", "xmlcharrefreplace").decode()


FORMATS: Final[dict[str, Format]] = {
    "table": as_table,
    "json": as_json,
    "ndjson": as_ndjson,
    "csv": as_csv,
    "svg": as_svg,
    "text": as_text,
    "musicxml": as_musicxml,
}
"""Every format, by name."""

SUFFIXES: Final = {
    ".txt": "table",
    ".json": "json",
    ".ndjson": "ndjson",
    ".csv": "csv",
    ".svg": "svg",
    ".musicxml": "musicxml",
    ".xml": "musicxml",
}
"""The format that the ending of a file name means."""


def _row_text(row: AttrsInstance) -> str:
    return json.dumps(attrs.asdict(row, recurse=False))


def _csv_line(cells: list[str]) -> str:
    line = io.StringIO()
    csv.writer(line, lineterminator="\n").writerow(cells)
    return line.getvalue()


def _cell(value: object) -> str:
    if isinstance(value, tuple):
        return " ".join("x" if item is None else str(item) for item in value)
    return "" if value is None else str(value)
