"""A player's vocabulary over HTTP: the operations on one store, for its own machine alone."""

from __future__ import annotations

import functools
import ipaddress
from typing import TYPE_CHECKING, Any, Final, cast

from flask import Request, Response, request

from gripwright.errors import ConditionError
from gripwright_server.http import body, writing
from gripwright_server.http.download import disposition, file_name
from gripwright_server.http.kinds import INVALID, NOT_LOCAL, STORE_BUSY, STORE_FAILED
from gripwright_server.http.negotiation import Form, chosen, forms_of
from gripwright_server.http.problem import Fault, ProblemError
from gripwright_server.http.query import Query
from gripwright_server.http.routes import FORMAT, IDEMPOTENCY_KEY, NAMES_A_REVIEW, NOW
from gripwright_server.http.surface import Surface
from gripwright_server.http.validation import pointer_of
from gripwright_server.operations.vocabulary.moment import moment_of
from gripwright_server.store import StoreError

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime
    from pathlib import Path

    from gripwright_server.http.service import Service
    from gripwright_server.http.surface import Values
    from gripwright_server.operations import Result
    from gripwright_server.operations.vocabulary import StoreOperation

_PRIVATE: Final = "private, no-store"
_LATER: Final = frozenset({"busy", "failed", "full"})
_RETRY_S: Final = 1


class StoreSurface(Surface):
    """An operation on a vocabulary, offered over HTTP.

    What changes the store is asked by POST, all else by GET.
    """

    @property
    def stored(self) -> StoreOperation:
        """The operation, as it is done at a store."""
        return cast("StoreOperation", self.operation)

    @functools.cached_property
    def by_get(self) -> bool:
        """Whether its request stands in the query."""
        return not self.stored.writes

    @functools.cached_property
    def private(self) -> bool:
        """Answers are a player's own."""
        return True

    @functools.cached_property
    def paged(self) -> bool:
        """A limit is what it is on every surface."""
        return False


class StoreView:
    """Answers the requests for one operation on a vocabulary.

    Args:
        service: Bounds the work, and gives the plugins.
        surface: The operation.
        path: The file of the store.
        clock: Gives the moment, with a time zone, where a request tells none.
    """

    def __init__(
        self, service: Service, surface: StoreSurface, path: Path, clock: Callable[[], datetime]
    ) -> None:
        self._service: Final = service
        self._surface: Final = surface
        self._path: Final = path
        self._clock: Final = clock
        self._forms: Final = forms_of(surface.operation)

    def __call__(self) -> Response:
        """Answer the request at hand.

        Raises:
            ProblemError: It cannot be answered, or comes from another machine.
        """
        _check_local(request)
        surface = self._surface
        query = Query.parse(request.query_string.decode("latin-1"))
        form = chosen(self._forms, request.headers.get("Accept", ""), query.own(FORMAT))
        now = self._now(query.own(NOW))
        query.parameters.pop(NOW, None)
        values = self._values(query)
        operation = surface.stored.at(self._path, now)

        def work() -> bytes:
            try:
                result = operation.function(surface.request(values), self._service.registry)
                return self._written(values, result, form)
            except StoreError as error:
                raise _problem(error) from error

        response = Response(
            self._service.worked_out(surface, values, work), content_type=form.media_type
        )
        response.headers["Cache-Control"] = _PRIVATE
        response.headers["Vary"] = "Accept"
        if form.name not in {"json", "ndjson"}:
            name = file_name(surface, values, form.suffix)
            response.headers["Content-Disposition"] = disposition(name, shown=form.shown)
        return response

    def _now(self, text: str | None) -> datetime:
        try:
            return self._clock() if text is None else moment_of(text, NOW)
        except ConditionError as error:
            fault = Fault(
                detail=str(error),
                pointer=pointer_of(NOW),
                parameter=NOW,
                expected=error.expected,
            )
            raise INVALID.error(errors=[fault]) from None

    def _values(self, query: Query) -> Values:
        """The complete request.

        Raises:
            ProblemError: It is not valid; every fault is told.
        """
        surface = self._surface
        faults: list[Fault] = []
        given: Any
        if surface.by_get:
            given, faults = query.values(surface.fields)
        elif surface.document_field is not None and request.mimetype != body.JSON:
            given, faults = query.values(surface.fields)
            given[surface.document_field.name] = body.read_document(request)
        else:
            query.alone(FORMAT)
            given = body.read_json(request)
            given = self._named(given)
        found = [*faults, *surface.validator.faults(given)]
        if found and surface.by_get:
            found = [surface.in_query(fault) for fault in found]
        if found:
            raise INVALID.error(errors=found)
        values = surface.complete(given)
        if NAMES_A_REVIEW in values and values[NAMES_A_REVIEW] is None:
            fault = Fault(
                detail="a review has a name, so that it counts once however often it is sent",
                pointer=pointer_of(NAMES_A_REVIEW),
                expected=f"a name of your making, here or in the header {IDEMPOTENCY_KEY}",
            )
            raise INVALID.error(errors=[fault])
        return values

    def _named(self, given: Any) -> Any:  # noqa: ANN401 - JSON
        """The request with the name that a header gives it."""
        key = request.headers.get(IDEMPOTENCY_KEY)
        names = {field.name for field in self._surface.fields}
        if key is None or NAMES_A_REVIEW not in names or not isinstance(given, dict):
            return given
        # Quoted, as the header's draft has it, or not.
        return {NAMES_A_REVIEW: key.strip().strip('"'), **given}

    def _written(self, values: Values, result: Result, form: Form) -> bytes:
        surface = self._surface
        own: bytes | None = getattr(result, "document", None)
        if own is not None:
            return own
        shown = surface.request(values)
        if form.making == "document":
            return writing.document(surface, _shown(surface, values), result, None)
        if form.making == "stream":
            return b"".join(writing.stream(surface, shown, result, form))
        return writing.file(surface, shown, result, form, self._service.registry())


def _shown(surface: StoreSurface, values: Values) -> Values:
    """The request as an answer repeats it: without whole files."""
    files = {field.name for field in surface.fields if field.option.file}
    return {name: value for name, value in values.items() if name not in files}


def _check_local(request: Request) -> None:
    """Refuse who is not on this machine.

    Raises:
        ProblemError: The request comes from elsewhere.
    """
    address = request.remote_addr or ""
    try:
        local = ipaddress.ip_address(address).is_loopback
    except ValueError:
        # A socket of the file system has no address.
        local = not address
    if not local:
        raise NOT_LOCAL.error()


def _problem(error: StoreError) -> ProblemError:
    if error.fault in _LATER:
        problem = STORE_BUSY.problem(str(error), fault=error.fault)
        return ProblemError(problem, {"Retry-After": str(_RETRY_S), "Cache-Control": _PRIVATE})
    return ProblemError(
        STORE_FAILED.problem(str(error), fault=error.fault), {"Cache-Control": _PRIVATE}
    )
