"""The application: routes from the operations, problems for what goes wrong, headers for all."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs
from flask import Flask, Response, redirect, request
from werkzeug import Response as BaseResponse
from werkzeug.exceptions import HTTPException
from werkzeug.routing import PathConverter

from gripwright_server.http import kinds
from gripwright_server.http.body import check_length
from gripwright_server.http.docs import docs_page
from gripwright_server.http.encoding import encoded
from gripwright_server.http.hosts import admit_origin, check_host
from gripwright_server.http.openapi import openapi_document
from gripwright_server.http.problem import MEDIA_TYPE, Problem, ProblemError
from gripwright_server.http.routes import ROOT
from gripwright_server.http.service import Service
from gripwright_server.http.settings import LOOPBACK, Settings
from gripwright_server.http.static import send_static
from gripwright_server.http.surface import Surface
from gripwright_server.http.view import View
from gripwright_server.operations import OPERATIONS
from gripwright_server.operations.clock import local_time
from gripwright_server.operations.stored import store_operations

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from datetime import datetime

    from gripwright.plugins import Registry
    from gripwright_server.operations import Operation

_CSP: Final = "Content-Security-Policy"
_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"
"""What a browser may do with an answer that it shows: draw it, and load and run nothing."""

_OF_STATUS: Final = {
    400: kinds.BAD_REQUEST,
    404: kinds.NOT_FOUND,
    405: kinds.METHOD,
    413: kinds.TOO_LARGE,
    415: kinds.MEDIA_TYPE,
    416: kinds.RANGE,
}
_LOG: Final = logging.getLogger(__name__)


def create_app(
    *,
    trusted_hosts: Iterable[str] = LOOPBACK,
    origins: Iterable[str] = (),
    static: str | Path | None = None,
    disabled: Iterable[str] = (),
    settings: Settings | None = None,
    registry: Callable[[], Registry] | None = None,
    operations: Iterable[Operation] = OPERATIONS,
    store: str | Path | None = None,
    clock: Callable[[], datetime] = local_time,
) -> Flask:
    """A WSGI application that answers for every operation.

    Args:
        trusted_hosts: Names by which the service may be called, without port; one that starts
            with a dot stands for every name that ends so.
        origins: Origins of web pages that may read answers.
        static: A folder whose files are served beside the API.
        disabled: Names of plugins to switch off.
        settings: Further settings, over which those above go.
        registry: Gives the plugins; those installed where nothing is said.
        operations: What is offered; every operation where nothing is said.
        store: The file of a player's vocabulary, which is then served beside them, to this
            machine alone; made at the request that begins it. Needs the extra ``store``.
        clock: Gives the moment, with a time zone, where a request for a vocabulary tells none.

    Raises:
        StoreError: The store is there, and cannot be used.
        MissingExtraError: A store is given, and the extra is not installed.

    Example:
        >>> client = create_app().test_client()
        >>> client.get("/v1/spell?symbol=C%237").json["chords"][0]["notes"]
        ['C#', 'E#', 'G#', 'B']
    """
    own = attrs.evolve(
        settings or Settings(),
        hosts=tuple(trusted_hosts),
        origins=tuple(origins),
        static=None if static is None else Path(static),
        disabled=tuple(disabled),
    )
    service = Service(own, registry)
    surfaces: list[Surface] = [Surface(operation) for operation in operations]
    app = Flask(__name__, static_folder=None, template_folder=None)
    app.url_map.merge_slashes = False
    app.extensions["gripwright"] = service
    _add_operations(app, service, surfaces)
    if store is not None:
        surfaces += _add_vocabulary(app, service, Path(store), clock)
    _add_documents(app, surfaces)
    _add_files(app, own)
    _add_hooks(app, own)
    return app


def _add_operations(app: Flask, service: Service, surfaces: list[Surface]) -> None:
    for surface in surfaces:
        methods = ["GET"] if surface.by_get else ["GET", "POST"]
        view = View(service, surface)
        app.add_url_rule(surface.path, surface.operation.name, view.__call__, methods=methods)


def _add_vocabulary(
    app: Flask, service: Service, path: Path, clock: Callable[[], datetime]
) -> list[Surface]:
    """Offer the operations on a vocabulary."""
    operations = store_operations()
    # Late on purpose: few services have a store, whose libraries are an extra.
    from gripwright_server.http.vocabulary import StoreSurface, StoreView  # noqa: PLC0415
    from gripwright_server.store import Store  # noqa: PLC0415

    if path.exists():
        Store.open(path, create=False).close()
    surfaces: list[Surface] = []
    for operation in operations:
        surface = StoreSurface(operation)
        methods = ["GET"] if surface.by_get else ["POST"]
        view = StoreView(service, surface, path, clock)
        app.add_url_rule(surface.path, operation.full_name, view.__call__, methods=methods)
        surfaces.append(surface)
    return surfaces


def _add_documents(app: Flask, surfaces: list[Surface]) -> None:
    described = openapi_document(surfaces)
    document = encoded(described)
    page, policy = docs_page(described)

    def openapi() -> Response:
        return _conditional(Response(document, content_type="application/json"))

    def docs() -> Response:
        response = Response(page, content_type="text/html; charset=utf-8")
        response.headers[_CSP] = policy
        return _conditional(response)

    def healthz() -> Response:
        response = Response(b'{"status":"ok"}\n', content_type="application/json")
        response.headers["Cache-Control"] = "no-store"
        return response

    app.add_url_rule(f"{ROOT}/openapi.json", "openapi", openapi)
    app.add_url_rule(f"{ROOT}/docs", "docs", docs)
    app.add_url_rule("/healthz", "healthz", healthz)


def _conditional(response: Response) -> Response:
    """A response that a client need not fetch again while it is the same."""
    response.headers["Cache-Control"] = "public, max-age=3600"
    response.add_etag()
    response.make_conditional(request)
    return response


class _FileConverter(PathConverter):
    """Any path but those of the API, so that what is not there is not found by any method."""

    regex = rf"(?!{ROOT[1:]}(?:/|$))[^/].*?"


def _add_files(app: Flask, settings: Settings) -> None:
    folder = settings.static
    if folder is None:
        app.add_url_rule("/", "index", lambda: redirect(f"{ROOT}/docs"))
        return

    app.url_map.converters["file"] = _FileConverter
    app.add_url_rule("/", "index", lambda: send_static(folder, ""))
    app.add_url_rule("/<file:name>", "file", lambda name: send_static(folder, name))


def _add_hooks(app: Flask, settings: Settings) -> None:
    def judge() -> None:
        check_host(request, settings)
        check_length(request)

    def finish(response: Response) -> Response:
        headers = response.headers
        headers.add("X-Content-Type-Options", "nosniff")
        # To ask the headers themselves for one that is not there costs an exception.
        if request.endpoint not in {"file", "index"} and all(name != _CSP for name, _ in headers):
            headers.add(_CSP, _POLICY)
        admit_origin(request, response, settings)
        return response

    app.before_request(judge)
    app.after_request(finish)
    app.register_error_handler(ProblemError, _told)
    app.register_error_handler(HTTPException, _told_http)
    app.register_error_handler(Exception, _told_failure)


def problem_response(problem: Problem) -> Response:
    """A problem as a response."""
    response = Response(problem.body(), problem.status, content_type=MEDIA_TYPE)
    response.headers["Cache-Control"] = "no-store"
    response.headers["Content-Language"] = "en"
    return response


def _told(error: ProblemError) -> Response:
    response = problem_response(error.problem)
    response.headers.update(error.headers)
    return response


def _told_http(error: HTTPException) -> BaseResponse:
    """What Flask and Werkzeug refuse by themselves, as a problem with the headers that it needs."""
    if error.response is not None or (error.code or 500) < 400:  # noqa: PLR2004 - a redirection
        return error.get_response()
    kind = _OF_STATUS.get(error.code or 500, kinds.BAD_REQUEST)
    response = problem_response(kind.problem())
    for name, value in error.get_headers():
        if name != "Content-Type":
            response.headers[name] = value
    return response


def _told_failure(error: Exception) -> Response:
    _LOG.exception("a request failed", exc_info=error)
    return problem_response(kinds.INTERNAL.problem())
