"""Bodies of requests: bounded, of a known length, JSON in UTF-8, or a document alone."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any, Final

from gripwright_server.http.encoding import UnreadableJSONError, decoded
from gripwright_server.http.kinds import LENGTH_REQUIRED, MEDIA_TYPE, TOO_LARGE, UNREADABLE_BODY
from gripwright_server.http.problem import ProblemError
from gripwright_server.http.settings import LARGEST_BODY
from gripwright_server.operations.chart_text import LEAD_SHEET

if TYPE_CHECKING:
    from flask import Request

JSON: Final = "application/json"
"""The media type of a request."""

LEAD_SHEETS: Final = (
    "application/vnd.recordare.musicxml+xml",
    "application/vnd.recordare.musicxml",
)
"""The media types of a lead sheet: MusicXML, plain and compressed."""

TEXT: Final = "text/plain"
"""The media type of a chart as text."""

_UTF_8: Final = {None, "utf-8", "utf8", "us-ascii"}


def check_length(request: Request) -> None:
    """Refuse a body that is too large, or of no known length, before it is read.

    A chunked body has no length, and is cut silently where it goes past a bound; so none is taken.

    Raises:
        ProblemError: The body is refused.
    """
    if "HTTP_TRANSFER_ENCODING" in request.environ:
        raise LENGTH_REQUIRED.error("a chunked body is not read here")
    if request.content_length is not None and request.content_length > LARGEST_BODY:
        raise TOO_LARGE.error(f"it has {request.content_length:,} bytes")


def read_json(request: Request) -> Any:  # noqa: ANN401 - JSON
    """The value of a body.

    Raises:
        ProblemError: It has another media type, or is no JSON in UTF-8.
    """
    data = read_bytes(request, (JSON,))
    try:
        return decoded(data)
    except UnreadableJSONError as error:
        raise UNREADABLE_BODY.error(str(error)) from None


def read_document(request: Request) -> str:
    """A body that is a document alone, as a field of a request holds it.

    Raises:
        ProblemError: It has another media type, or is text that is not UTF-8.
    """
    data = read_bytes(request, (JSON, *LEAD_SHEETS, TEXT))
    if request.mimetype in LEAD_SHEETS:
        return LEAD_SHEET + base64.b64encode(data).decode("ascii")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UNREADABLE_BODY.error(f"byte {error.start} is not UTF-8") from None


def read_bytes(request: Request, media_types: tuple[str, ...]) -> bytes:
    """The bytes of a body of one of some media types.

    Raises:
        ProblemError: It has another media type, or another charset than UTF-8.
    """
    if request.mimetype not in media_types:
        found = f"it is {request.mimetype[:80]}" if request.mimetype else "it names none"
        problem = MEDIA_TYPE.problem(f"{found}; read are {', '.join(media_types)}")
        raise ProblemError(problem, {"Accept": ", ".join(media_types)})
    charset = request.mimetype_params.get("charset")
    if (charset and charset.lower()) not in _UTF_8:
        raise MEDIA_TYPE.error("the charset is not UTF-8")
    return request.get_data(cache=False)
