"""One operation over HTTP: from a request to a response."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import attrs
from flask import Request, Response, request

from gripwright_server.http import body, writing
from gripwright_server.http.cursor import LONGEST, Cursor
from gripwright_server.http.download import disposition, file_name
from gripwright_server.http.kinds import INVALID, PRECONDITION
from gripwright_server.http.link import Link
from gripwright_server.http.negotiation import Form, chosen, forms_of
from gripwright_server.http.problem import Fault, ProblemError
from gripwright_server.http.query import Query
from gripwright_server.http.routes import CURSOR, FORMAT, LIMIT, UNCACHED
from gripwright_server.http.settings import PAGE
from gripwright_server.http.surface import DIVERSE, Values
from gripwright_server.http.validation import pointer_of
from gripwright_server.http.writing import Written

if TYPE_CHECKING:
    from gripwright_server.http.service import Service
    from gripwright_server.http.surface import Surface
    from gripwright_server.operations import Result

_FRESH: Final = "public, max-age=3600"
_REVALIDATED: Final = "no-cache"


@attrs.frozen
class _Asked:
    """What a client asks for.

    Args:
        values: The request, complete.
        start: The first row of the page.
        form: The form of the answer.
    """

    values: Values
    start: int
    form: Form


class View:
    """Answers the requests for one operation.

    Args:
        service: What works the answers out.
        surface: The operation.
    """

    def __init__(self, service: Service, surface: Surface) -> None:
        self._service: Final = service
        self._surface: Final = surface
        self._forms: Final = None if surface.operation.scored else forms_of(surface.operation)

    def __call__(self) -> Response:
        """Answer the request at hand.

        Raises:
            ProblemError: It cannot be answered.
        """
        asked = self._asked(request)
        key = b"%s %s %d" % (
            self._surface.canonical(asked.values),
            asked.form.name.encode(),
            asked.start,
        )
        tag = self._service.entity_tag(key)
        headers = {
            "Content-Type": asked.form.media_type,
            "ETag": f'"{tag}"',
            **self._description(asked),
        }
        if self._known_already(tag, headers):
            if request.if_none_match.star_tag:
                # Any answer will do, but there must be one.
                self._result(asked)
            headers.pop("Content-Disposition", None)
            response = Response(status=304, headers=headers)
            del response.headers["Content-Type"]
            return response
        if asked.form.making == "stream":
            return Response(self._stream(asked), headers=headers, direct_passthrough=True)
        written = self._service.bodies.get(tag) or self._written(tag, asked)
        if written.link:
            headers["Link"] = written.link
        return Response(written.body, headers=headers)

    def _asked(self, request: Request) -> _Asked:
        surface = self._surface
        query = Query.parse(request.environ.get("QUERY_STRING", ""))
        form = chosen(
            self._forms or forms_of(surface.operation, self._service.registry()),
            request.environ.get("HTTP_ACCEPT", ""),
            query.own(FORMAT),
        )
        cursor = query.own(CURSOR)
        if cursor is not None and request.method == "POST":
            raise INVALID.error(errors=[_fault_of_cursor("a page is asked for by GET")])
        if cursor is not None:
            query.alone(CURSOR, FORMAT)
            page = Cursor.parse(cursor, self._service.version)
            return _Asked(self._valid(page.request, []), page.start, form)
        faults: list[Fault] = []
        if surface.by_get:
            given, faults = query.values(surface.fields)
        elif request.method != "POST":
            raise INVALID.error(
                "a GET here asks for a page, by its cursor; a request is sent by POST",
                [_fault_of_cursor("it is missing")],
            )
        elif surface.document_field is not None and request.mimetype != body.JSON:
            given, faults = query.values(surface.fields)
            given[surface.document_field.name] = body.read_document(request)
        else:
            query.alone(FORMAT)
            given = body.read_json(request)
        values = self._valid(given, faults)
        if form.making == "stream" and surface.paged and LIMIT not in given:
            values[LIMIT] = PAGE if values.get(DIVERSE) else None
        return _Asked(values, 0, form)

    def _valid(self, given: Any, faults: list[Fault]) -> Values:  # noqa: ANN401 - JSON
        """The complete request of what was given.

        Raises:
            ProblemError: It is not valid; every fault is told.
        """
        found = [*faults, *self._surface.validator.faults(given)]
        if found and self._surface.by_get:
            found = [self._surface.in_query(fault) for fault in found]
        if found:
            raise INVALID.error(errors=found)
        return self._surface.complete(given)

    def _description(self, asked: _Asked) -> dict[str, str]:
        """The headers that hold for the answer whatever it is."""
        surface, form = self._surface, asked.form
        repeatable = request.method != "POST"
        cached = repeatable and surface.operation.name not in UNCACHED
        headers = {"Cache-Control": _FRESH if cached else _REVALIDATED, "Vary": "Accept"}
        if not repeatable and asked.values.get(LIMIT, PAGE) is not None:
            address = self._address(self._surface.shortened(asked.values), asked.start)
            if address is not None:
                headers["Content-Location"] = address
        if form.name not in {"json", "ndjson"}:
            name = file_name(surface, asked.values, form.suffix)
            headers["Content-Disposition"] = disposition(name, shown=form.shown)
        return headers

    def _known_already(self, tag: str, headers: dict[str, str]) -> bool:
        """Whether the client has the answer of a tag already; then nothing is computed.

        Raises:
            ProblemError: The same of a POST, for which RFC 9110, section 13.1.2 has 412.
        """
        if "HTTP_IF_NONE_MATCH" not in request.environ:
            return False
        if not request.if_none_match.contains_weak(tag):
            return False
        if request.method == "POST":
            told = {"Content-Location", "ETag"}.intersection(headers)
            raise ProblemError(PRECONDITION.problem(), {name: headers[name] for name in told})
        return True

    def _stream(self, asked: _Asked) -> Any:  # noqa: ANN401 - an iterator of bytes
        surface = self._surface
        shown = writing.shown_part(surface, asked.values, self._result(asked), asked.start)
        return writing.stream(surface, surface.request(asked.values), shown, asked.form)

    def _result(self, asked: _Asked) -> Result:
        surface, service = self._surface, self._service
        result: Result = service.worked_out(
            surface, asked.values, lambda: service.result(surface, asked.values)
        )
        return result

    def _written(self, tag: str, asked: _Asked) -> Written:
        """An answer, which is remembered."""
        written: Written = self._service.worked_out(
            self._surface, asked.values, lambda: self._write(asked)
        )
        self._service.bodies.keep(tag, written, written.weight)
        return written

    def _write(self, asked: _Asked) -> Written:
        surface, values = self._surface, asked.values
        shown = writing.shown_part(
            surface, values, self._service.result(surface, values), asked.start
        )
        if asked.start and not shown.returned:
            raise INVALID.error(errors=[_fault_of_cursor("there is no such page")])
        if asked.form.making == "export" and asked.form.sounds:
            writing.check_length_of_sound(shown, self._service.settings.longest_sound_s)
            with self._service.rendering():
                return self._file(asked, shown)
        if asked.form.making != "document":
            return self._file(asked, shown)
        pages = self._pages(asked, shown.count)
        link = ", ".join(str(Link(address, rel)) for rel, address in pages.items())
        return Written(writing.document(surface, values, shown, pages.get("next")), link)

    def _file(self, asked: _Asked, shown: Result) -> Written:
        own = self._surface.request(asked.values)
        registry = self._service.registry()
        return Written(writing.file(self._surface, own, shown, asked.form, registry))

    def _pages(self, asked: _Asked, count: int) -> dict[str, str]:
        """The addresses of the pages before and after, by their relation (RFC 8288)."""
        values = asked.values
        if not self._surface.paged or values.get(DIVERSE):
            return {}
        length = values[LIMIT]
        starts = {"next": asked.start + length} if asked.start + length < count else {}
        if asked.start:
            starts |= {"prev": max(0, asked.start - length), "first": 0}
        own = self._surface.shortened(values)
        addresses = {rel: self._address(own, start) for rel, start in starts.items()}
        return {rel: address for rel, address in addresses.items() if address is not None}

    def _address(self, shortened: Values, start: int) -> str | None:
        """Where a page of a request is; None where its address would be too long."""
        text = str(Cursor(self._service.version, start, shortened))
        return f"{self._surface.path}?{CURSOR}={text}" if len(text) <= LONGEST else None


def _fault_of_cursor(detail: str) -> Fault:
    return Fault(detail=detail, pointer=pointer_of(CURSOR), parameter=CURSOR)
