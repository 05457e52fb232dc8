"""Who may call the service, by what name, and from which web pages."""

from __future__ import annotations

import functools
import re
from typing import TYPE_CHECKING, Final

from gripwright_server.http.kinds import FOREIGN_HOST

if TYPE_CHECKING:
    from flask import Request, Response

    from gripwright_server.http.settings import Settings

_HOST: Final = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9_-]+(?:\.[a-z0-9_-]+)*)(?::[0-9]{1,5})?")
_LONGEST: Final = 259
"""Characters of a host: a name has 253 at most (RFC 1035, section 2.3.4), and a port follows."""

_KEPT: Final = 64
_READABLE: Final = "Content-Disposition, Content-Location, ETag, Link"
_ALLOWED: Final = "Accept, Content-Type, If-None-Match"


def check_host(request: Request, settings: Settings) -> None:
    """Refuse a request that calls the service by a foreign name.

    A page of a stranger can let its own name lead to this machine (DNS rebinding), and its
    scripts then count as being of the same origin; but the name that the browser sends is its own.

    Raises:
        ProblemError: The name is not one of the service's.
    """
    # The header alone counts; a server's own guess of its name is no answer.
    host = request.environ.get("HTTP_HOST", "")
    if len(host) > _LONGEST or not is_trusted(host, settings.hosts):
        raise FOREIGN_HOST.error()


@functools.lru_cache(maxsize=_KEPT)
def is_trusted(host: str, names: tuple[str, ...]) -> bool:
    """Whether a host, with or without a port, is called by one of some names.

    Args:
        host: The header Host (RFC 9110, section 7.2).
        names: Names without port; one that starts with a dot stands for every name that ends so.

    Example:
        >>> is_trusted("a.school.example:8000", (".school.example",))
        True
        >>> is_trusted("localhost.evil.example", ("localhost",))
        False
    """
    match = _HOST.fullmatch(host.lower())
    return match is not None and any(
        match[1] == name.lower() or (name.startswith(".") and match[1].endswith(name.lower()))
        for name in names
    )


def admit_origin(request: Request, response: Response, settings: Settings) -> None:
    """Let the pages of the origins that were named read the answer, and no others.

    Nothing is said of other origins, so a browser keeps the answer from their pages.
    """
    if not settings.origins:
        return
    response.headers.add("Vary", "Origin")
    origin = request.headers.get("Origin")
    if origin not in settings.origins:
        return
    response.headers["Access-Control-Allow-Origin"] = str(origin)
    response.headers["Access-Control-Expose-Headers"] = _READABLE
    if request.method == "OPTIONS" and "Access-Control-Request-Method" in request.headers:
        response.headers["Access-Control-Allow-Methods"] = "GET, POST"
        response.headers["Access-Control-Allow-Headers"] = _ALLOWED
        response.headers["Access-Control-Max-Age"] = "600"
