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
        if name == _STDIN:
            # A test or a program may have put a stream in its place that has no buffer.
            return _bounded(sys.stdin.buffer)
        path = Path(name)
        try:
            with path.open("rb") as stream:
                return _bounded(stream)
        except (FileNotFoundError, IsADirectoryError, NotADirectoryError, ValueError):
            self.fail(
                f"{name!r} is no file, and no chart either: a chart has bar lines, as in"
                f' "{_BAR_LINE} Dm7 G7 {_BAR_LINE} Cmaj7 {_BAR_LINE}"',
                param,
                ctx,
            )


def _bounded(stream: BinaryIO) -> bytes:
    return stream.read(LARGEST + 1)
