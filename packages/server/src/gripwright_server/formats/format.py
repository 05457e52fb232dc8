"""The formats, each a function from a result to pieces of text, or of bytes."""

from __future__ import annotations

import csv
import io
import json
from typing import TYPE_CHECKING, Final, Protocol, cast

import attrs

from gripwright_server.formats.picture import document_of, picture_of
from gripwright_server.operations import request_fields
from gripwright_server.operations.operation import facts_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from attrs import AttrsInstance

    from gripwright_server.operations import Declaration, Result
    from gripwright_server.operations.chart import ChartResult

_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet takes for the start of a formula (OWASP, "CSV Injection")."""


class Format(Protocol):
    """Writes an answer in one format.

    Example:
        >>> from gripwright_server.operations.spell import SPELL, SpellRequest, spell
        >>> request = SpellRequest(symbols=("C5",))
        >>> answer = spell(request, lambda: None)
        >>> "".join(FORMATS["ndjson"](SPELL, request, answer))[:16]
        '{"symbol": "C5",'
    """

    def __call__(
        self, operation: Declaration, request: AttrsInstance, result: Result, /
    ) -> Iterator[str] | Iterator[bytes]:
        """Yield the answer in pieces: of text, or of bytes where the format is no text."""


def as_json(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """One JSON document (RFC 8259), a row a line: schema, request, counts and the rows.

    Where the answer is a document of its own, that document as it is.
    """
    document: bytes | None = getattr(result, "document", None)
    if document is not None:
        yield document.decode("ascii")
        return
    head = {
        "schema": operation.schema,
        "request": {
            field.name: getattr(request, field.name)
            for field in request_fields(type(request))
            if not field.option.file
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


def as_ndjson(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """JSON rows alone, one a line."""
    del operation, request
    for row in result.rows():
        yield f"{_row_text(row)}\n"


def as_csv(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """Comma-separated values (RFC 4180, with line feeds) under a line of names.

    A value that is a list stands in one cell with spaces between; a muted string is ``x``. Text
    that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    del request
    names = [attribute.name for attribute in attrs.fields(operation.row)]
    yield _csv_line(names)
    for row in result.rows():
        yield _csv_line([_cell(getattr(row, name)) for name in names])


def as_svg(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """One picture (SVG 1.1) of all rows."""
    yield picture_of(operation, request, result)


def as_pdf(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[bytes]:
    """Pages to be printed (PDF)."""
    yield document_of(operation, request, result)


def as_text(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """The text that the answer is, where it is one: it reads back to itself."""
    del operation, request
    yield f"{facts_of(result)['text']}\n"


def as_musicxml(operation: Declaration, request: AttrsInstance, result: Result) -> Iterator[str]:
    """A lead sheet (MusicXML 4.0) of the chart, with character references for what is no ASCII."""
    del operation, request
    # Late on purpose: only charts are written so.
    from gripwright.tune.leadsheet_writer import write_leadsheet  # noqa: PLC0415

    document = write_leadsheet(cast("ChartResult", result).sounding).decode()
    yield document.encode("ascii", "xmlcharrefreplace").decode()


FORMATS: Final[dict[str, Format]] = {
    "json": as_json,
    "ndjson": as_ndjson,
    "csv": as_csv,
    "svg": as_svg,
    "text": as_text,
    "musicxml": as_musicxml,
    "pdf": as_pdf,
}
"""Every format that is no table, by name."""


def _row_text(row: AttrsInstance) -> str:
    return json.dumps(attrs.asdict(row, recurse=False))


def _csv_line(cells: list[str]) -> str:
    line = io.StringIO()
    csv.writer(line, lineterminator="\n").writerow(cells)
    return line.getvalue()


def _cell(value: object) -> str:
    if isinstance(value, tuple):
        text = " ".join("x" if item is None else str(item) for item in value)
    elif isinstance(value, int | float):
        return str(value)
    else:
        text = "" if value is None else str(value)
    return f"'{text}" if text.startswith(_FORMULA) else text
