"""Documents on the command line: as an argument, from a file, or from standard input."""

from __future__ import annotations

import base64
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from gripwright_server.operations.chart_text import LEAD_SHEET, undecodable

if TYPE_CHECKING:
    from typing import BinaryIO

LARGEST: Final = 8_000_000
"""Bytes of a document."""

LARGEST_FILE: Final = 256_000_000
"""Bytes of a whole file."""

_STDIN: Final = "-"
_BAR_LINE: Final = "|"
_SUFFIXES: Final = (".musicxml", ".xml", ".mxl")
_STARTS: Final = (b"PK\x03\x04", b"<?xml", b"<!DOCTYPE", b"<score-")
"""What a lead sheet begins with: a compressed file, or a document of XML."""


class Document(click.ParamType[str]):
    """A chart: an argument that holds a bar line, a file, or ``-`` for standard input.

    A file of MusicXML becomes the data URL that a request holds.
    """

    name = "chart"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """The text of the document."""
        text = str(value)
        if _BAR_LINE in text:
            return text
        data = self._read(text, param, ctx)
        if len(data) > LARGEST:
            self.fail(f"more than {LARGEST:,} bytes in {text!r}", param, ctx)
        if text.lower().endswith(_SUFFIXES) or data.lstrip().startswith(_STARTS):
            return LEAD_SHEET + base64.b64encode(data).decode("ascii")
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise undecodable(data, error.start) from None

    def _read(self, name: str, param: click.Parameter | None, ctx: click.Context | None) -> bytes:
        try:
            return _read(name, LARGEST)
        except (FileNotFoundError, IsADirectoryError, NotADirectoryError, ValueError):
            self.fail(
                f"{name!r} is no file, and no chart either: a chart has bar lines, as in"
                f' "{_BAR_LINE} Dm7 G7 {_BAR_LINE} Cmaj7 {_BAR_LINE}"',
                param,
                ctx,
            )


class WholeFile(click.ParamType[str]):
    """A file, or ``-`` for standard input, as text; what is no UTF-8 is kept as it is."""

    name = "file"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """The text of the file."""
        try:
            data = _read(str(value), LARGEST_FILE)
        except (FileNotFoundError, IsADirectoryError, NotADirectoryError, ValueError):
            self.fail(f"{str(value)!r} is no file", param, ctx)
        if len(data) > LARGEST_FILE:
            self.fail(f"more than {LARGEST_FILE:,} bytes in {str(value)!r}", param, ctx)
        return data.decode("utf-8", errors="surrogateescape")


def _read(name: str, largest: int) -> bytes:
    if name == _STDIN:
        # A test or a program may have put a stream in its place that has no buffer.
        return _bounded(sys.stdin.buffer, largest)
    with Path(name).open("rb") as stream:
        return _bounded(stream, largest)


def _bounded(stream: BinaryIO, largest: int) -> bytes:
    return stream.read(largest + 1)
