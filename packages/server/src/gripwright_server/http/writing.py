"""Answers written: one document, a stream of rows, or a file."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any, Final, cast

import attrs

from gripwright_server.formats import FORMATS
from gripwright_server.formats.exported import exported
from gripwright_server.http.encoding import encoded
from gripwright_server.http.kinds import TOO_LONG
from gripwright_server.http.routes import LIMIT
from gripwright_server.http.surface import DIVERSE
from gripwright_server.operations.operation import (
    ResultInParts,
    ResultWithScore,
    facts_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from gripwright.plugins import Registry
    from gripwright_server.http.negotiation import Form
    from gripwright_server.http.surface import Surface, Values
    from gripwright_server.operations import Result

_MINUTE_S: Final = 60
_RECORD_BYTES: Final = 500

CHUNK: Final = 500
"""Rows of a chunk of a stream."""


@attrs.frozen
class Written:
    """An answer as it was written.

    Args:
        body: The bytes.
        link: The header Link, empty where there is none.
    """

    body: bytes
    link: str = ""

    @property
    def weight(self) -> int:
        """Bytes that it takes in memory, about."""
        return _RECORD_BYTES + len(self.body) + len(self.link)


def shown_part(surface: Surface, values: Values, result: Result, start: int) -> Result:
    """The part of an answer that a request wants to see.

    Args:
        surface: The operation.
        values: Its request, complete.
        result: The answer.
        start: The first row.
    """
    if not surface.paged or values.get(DIVERSE):
        return result
    limit = values[LIMIT]
    stop = None if limit is None else start + limit
    return cast("ResultInParts", result).part(start, stop)


def document(surface: Surface, values: Values, shown: Result, following: str | None) -> bytes:
    """The JSON document of an answer.

    Its members are those of the command line's document, and two more: ``warnings``, which there
    stand on stderr, and ``next``, where the next page is.

    Args:
        surface: The operation.
        values: Its request, complete.
        shown: The answer, showing what is wanted.
        following: Where the next page is, or None.
    """
    operation = surface.operation
    head = encoded(
        {
            "schema": operation.schema,
            "request": values,
            "count": shown.count,
            "returned": shown.returned,
            **facts_of(shown),
            "warnings": shown.warnings,
            "next": following,
        }
    )
    rows = b",".join(_row_texts(surface, shown))
    return b'%s,"%s":[%s]}\n' % (head[:-1], operation.collection.encode(), rows)


def stream(surface: Surface, request: Any, shown: Result, form: Form) -> Iterator[bytes]:  # noqa: ANN401 - any request
    """The rows of an answer in chunks, made as they are asked for.

    NDJSON closes with a record that says that this is the end, and how many rows there were; a
    stream that breaks off has none.

    Args:
        surface: The operation.
        request: Its request.
        shown: The answer, showing what is wanted.
        form: NDJSON or CSV.
    """
    if form.name == "ndjson":
        lines: Iterable[bytes] = (b"%s\n" % text for text in _row_texts(surface, shown))
        lines = itertools.chain(lines, _end(shown))
    else:
        texts = FORMATS[form.name](surface.operation, request, shown)
        lines = map(_bytes, texts)
    chunks = iter(lines)
    while chunk := b"".join(itertools.islice(chunks, CHUNK)):
        yield chunk


def _row_texts(surface: Surface, shown: Result) -> Iterator[bytes]:
    # As `ResultWithRowTexts` has it; to ask for the protocol takes as long as to write ten rows.
    row_texts: Callable[[], Iterator[bytes]] | None = getattr(shown, "row_texts", None)
    return map(surface.encode_row, shown.rows()) if row_texts is None else row_texts()


def _end(shown: Result) -> Iterator[bytes]:
    yield encoded({"end": True, "count": shown.returned}) + b"\n"


def file(surface: Surface, request: Any, shown: Result, form: Form, registry: Registry) -> bytes:  # noqa: ANN401 - any request
    """The file of an answer.

    Args:
        surface: The operation.
        request: Its request.
        shown: The answer, showing what is wanted.
        form: Which file.
        registry: Gives the exporters.
    """
    if form.making == "export":
        return exported(registry.exporters[form.name], request, shown)
    pieces = FORMATS[form.name](surface.operation, request, shown)
    return b"".join(map(_bytes, pieces))


def check_length_of_sound(shown: Result, bound_s: float) -> None:
    """Refuse to render a score that lasts too long: sound takes room by the second.

    Args:
        shown: An answer with a score.
        bound_s: Seconds that it may last.

    Raises:
        ProblemError: It lasts longer.
    """
    score = cast("ResultWithScore", shown).score
    first, last = score.bars[0], score.bars[-1]
    seconds = float(score.seconds_at(last.end) - score.seconds_at(first.onset))
    if seconds > bound_s:
        raise TOO_LONG.error(
            f"the score lasts {seconds / _MINUTE_S:.0f} minutes, and at most"
            f" {bound_s / _MINUTE_S:.0f} are rendered as sound: ask for fewer choruses, or a"
            " faster tempo"
        )


def _bytes(piece: str | bytes) -> bytes:
    return piece if isinstance(piece, bytes) else piece.encode("utf-8")
