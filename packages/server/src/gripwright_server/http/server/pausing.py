"""Streams that can be laid aside between two chunks, so that no reader holds a worker."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterable
    from wsgiref.types import StartResponse, WSGIApplication, WSGIEnvironment

REST: Final = "gripwright.rest"
"""The key of an environment under which a body stands that is to be written in pieces."""

_SIZED: Final = "content-length"
_BODILESS: Final = ("204", "304")


class Pausing:
    """An application whose bodies of unknown length are handed over unread.

    Such a body is a stream. It goes into the environment, from which the server takes it, and
    nothing is left here to write.

    Args:
        application: The application.
    """

    def __init__(self, application: WSGIApplication) -> None:
        self._application: Final = application

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Answer as the application does, save for a stream."""
        sized = False

        def begin(status: str, headers: list[tuple[str, str]], *failed: Any) -> Any:  # noqa: ANN401 - as WSGI has it
            nonlocal sized
            names = {name.lower() for name, _ in headers}
            sized = _SIZED in names or status.startswith(_BODILESS)
            return start_response(status, headers, *failed)

        body = self._application(environ, begin)
        if sized or environ["REQUEST_METHOD"] == "HEAD":
            return body
        environ[REST] = body
        return ()
