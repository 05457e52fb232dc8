"""An operation as this surface offers it: its schema, its fields, its canonical requests."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright_server.http.encoding import encoded, row_encoder
from gripwright_server.http.routes import BY_GET, LIMIT, parameter_name, path_of
from gripwright_server.http.settings import LONGEST_LIST, LONGEST_PAGE, PAGE
from gripwright_server.http.validation import Validator
from gripwright_server.operations import Declaration, request_fields, request_schema

if TYPE_CHECKING:
    from collections.abc import Callable

    from gripwright_server.http.problem import Fault
    from gripwright_server.operations import RequestField

Values = dict[str, Any]
"""A request as JSON has it, every field given."""

DIVERSE: Final = "diverse"
"""The field of a request that lets its limit choose the rows, and not only cut them off."""


@attrs.frozen(eq=False, slots=False)
class Surface:
    """One operation, offered over HTTP.

    Args:
        operation: The operation.
    """

    operation: Declaration

    @functools.cached_property
    def path(self) -> str:
        """Where it is."""
        return path_of(self.operation)

    @functools.cached_property
    def by_get(self) -> bool:
        """Whether its request stands in the query."""
        return self.operation.name in BY_GET

    @functools.cached_property
    def private(self) -> bool:
        """Whether answers are a player's own: nothing is kept of them, and they have no pages."""
        return False

    @functools.cached_property
    def fields(self) -> tuple[RequestField, ...]:
        """The fields of its request."""
        return request_fields(self.operation.request)

    @functools.cached_property
    def paged(self) -> bool:
        """Whether the answer comes in pages: the request says how many rows it wants."""
        return any(field.name == LIMIT for field in self.fields)

    @functools.cached_property
    def defaults(self) -> Values:
        """The value of each field where none is given."""
        own = {field.name: field.default for field in self.fields}
        return {**own, LIMIT: PAGE} if self.paged else own

    @functools.cached_property
    def _kinds(self) -> dict[str, tuple[type, bool]]:
        """Of each field the kind of its values, and whether it holds many."""
        return {field.name: (field.base, field.many) for field in self.fields}

    @functools.cached_property
    def schema(self) -> dict[str, Any]:
        """The schema of its request: that of the operation, with a page in place of a limit.

        Lists have an end here, so that no request is long to judge.
        """
        schema = request_schema(self.operation.request)
        for field in self.fields:
            if field.many:
                schema["properties"][field.name]["maxItems"] = LONGEST_LIST
        if self.paged:
            schema["properties"][LIMIT] = {
                "type": "integer",
                "minimum": 1,
                "maximum": LONGEST_PAGE,
                "description": "rows of a page; of a stream, where it is left out, all",
                "default": PAGE,
            }
        return schema

    @functools.cached_property
    def validator(self) -> Validator:
        """What judges its requests."""
        return Validator(self.schema, self.fields)

    @functools.cached_property
    def document_field(self) -> RequestField | None:
        """The field that holds a document, which can stand as the body alone."""
        return next((field for field in self.fields if field.option.document), None)

    @functools.cached_property
    def encode_row(self) -> Callable[[Any], bytes]:
        """What writes its rows."""
        return row_encoder(self.operation.row)

    def complete(self, given: dict[str, Any]) -> Values:
        """A valid request with every field: numbers of one kind, defaults where nothing is given.

        Args:
            given: What the client gave, valid.
        """
        values = self.defaults.copy()
        for name, value in given.items():
            base, many = self._kinds[name]
            if value is None or base is bool or base is str:
                values[name] = value
            elif many:
                values[name] = [base(one) for one in value]
            else:
                values[name] = base(value)
        return values

    def shortened(self, values: Values) -> dict[str, Any]:
        """Those fields of a complete request that are not the usual ones."""
        return {name: value for name, value in values.items() if value != self.defaults[name]}

    def in_query(self, fault: Fault) -> Fault:
        """A fault of a request that stands in a query, with the parameter that holds it."""
        name = fault.pointer.partition("/")[2].partition("/")[0]
        names = {field.name: parameter_name(field) for field in self.fields}
        return attrs.evolve(fault, parameter=fault.parameter or names.get(name))

    def canonical(self, values: Values) -> bytes:
        """A complete request as bytes: equal for equal requests."""
        return b"%s %s" % (self.operation.full_name.encode(), encoded(values))

    def request(self, values: Values) -> Any:  # noqa: ANN401 - of the operation's own class
        """The request of the operation."""
        return self.operation.request(
            **{
                name: tuple(value) if isinstance(value, list) else value
                for name, value in values.items()
            }
        )
