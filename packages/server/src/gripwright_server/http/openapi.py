"""The description of the service (OpenAPI 3.1), made from the operations."""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING, Any, Final

import msgspec

import gripwright
from gripwright_server.http.body import JSON, LEAD_SHEETS, TEXT
from gripwright_server.http.kinds import KINDS
from gripwright_server.http.negotiation import forms_of
from gripwright_server.http.problem import MEDIA_TYPE
from gripwright_server.http.routes import (
    CURSOR,
    FORMAT,
    IDEMPOTENCY_KEY,
    NAMES_A_REVIEW,
    NOW,
    parameter_name,
)
from gripwright_server.http.surface import Surface
from gripwright_server.operations.schema import DIALECT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright_server.operations import RequestField

_REFERENCE: Final = "#/components/schemas/{name}"
_TEXT: Final = {"type": "string"}
_FAULT_MEMBERS: Final[dict[str, Any]] = {
    "detail": {"type": "string", "description": "what is wrong, for a reader"},
    "pointer": {
        "type": "string",
        "description": "its place in the request (RFC 6901), as the fragment of a URI",
    },
    "parameter": {"type": "string", "description": "the parameter of the query that holds it"},
    "position": {
        "type": "integer",
        "minimum": 0,
        "description": "the first character that does not fit, counted from 0",
    },
    "line": {"type": "integer", "minimum": 1, "description": "its line, counted from 1"},
    "column": {"type": "integer", "minimum": 1, "description": "its column, counted from 1"},
    "expected": {"type": "string", "description": "what could have stood there"},
    "nearest": {
        "type": "array",
        "items": _TEXT,
        "description": "what is known or readable near it, best first",
    },
}


def openapi_document(surfaces: Iterable[Surface]) -> dict[str, Any]:
    """The description of a service that offers some operations.

    It names no instrument and no strategy, since those come from plugins; so it is the same on
    every machine.

    Args:
        surfaces: The operations.

    Example:
        >>> from gripwright_server.operations import OPERATIONS
        >>> sorted(openapi_document([Surface(OPERATIONS[0])])["paths"])
        ['/healthz', '/v1/chart']
    """
    every = list(surfaces)
    _, rows = msgspec.json.schema_components(
        [surface.operation.row for surface in every], ref_template=_REFERENCE
    )
    requests = {
        surface.operation.request.__name__: _component(surface.schema)
        for surface in every
        if not surface.by_get
    }
    schemas = {
        **{name: _described(name, schema, every) for name, schema in rows.items()},
        **requests,
        "Fault": {
            "type": "object",
            "properties": _FAULT_MEMBERS,
            "required": ["detail", "pointer"],
            "additionalProperties": False,
        },
        "Problem": _problem_schema(),
    }
    return {
        "openapi": "3.1.0",
        "jsonSchemaDialect": DIALECT,
        "info": {
            "title": "Gripwright",
            "version": gripwright.__version__,
            "summary": "From a chord symbol to every playable voicing, and what follows from it",
            "description": _INTRODUCTION,
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": "/", "description": "this service"}],
        "security": [],
        "paths": {
            **{surface.path: _path(surface) for surface in every},
            "/healthz": _health(),
        },
        "components": {
            "schemas": dict(sorted(schemas.items())),
            "responses": {"Problem": _problem_response()},
        },
    }


_INTRODUCTION: Final = """\
Every operation of the command line, for other programs. What names a thing is asked by GET, a
search by POST with one JSON object; fields that are not declared are refused. Answers are JSON, or
another form by the header `Accept` or the parameter `format`. Lists come in pages, linked by the
header `Link` (RFC 8288) and the member `next`; `application/x-ndjson` streams all rows and closes
with `{"end": true, "count": n}`. Equal requests give equal bytes and equal entity tags. Errors are
problems (RFC 9457) that list every fault with its place.
"""


def _path(surface: Surface) -> dict[str, Any]:
    methods = {}
    if surface.by_get:
        parameters = [_parameter(field, surface) for field in surface.fields]
        if surface.paged:
            parameters.append(_cursor(required=False))
        methods["get"] = _operation(surface, surface.operation.full_name, parameters)
    else:
        methods["post"] = {
            **_operation(surface, surface.operation.full_name, []),
            "requestBody": _request_body(surface),
        }
    if not surface.by_get and not surface.private:
        methods["get"] = _operation(
            surface, f"{surface.operation.full_name}-page", [_cursor(required=True)]
        )
    return methods


def _operation(surface: Surface, name: str, parameters: list[dict[str, Any]]) -> dict[str, Any]:
    operation = surface.operation
    page = name != operation.full_name
    if surface.private:
        named = any(field.name == NAMES_A_REVIEW for field in surface.fields)
        parameters = [*parameters, _NOW, *([_REVIEW_NAME] if named else [])]
    return {
        "operationId": name,
        "summary": f"{operation.summary}: one page of an answer" if page else operation.summary,
        "parameters": [*parameters, _format(surface)],
        "responses": {
            "200": {
                "description": f"The {operation.collection}.",
                "headers": _headers(surface, page=page or surface.by_get),
                "content": _content(surface),
            },
            **(
                {"304": {"description": "The client has this answer."}}
                if (page or surface.by_get) and not surface.private
                else {}
            ),
            "default": {"$ref": "#/components/responses/Problem"},
        },
    }


def _content(surface: Surface) -> dict[str, Any]:
    content = {
        form.essence: {"schema": _form_schema(surface, form.name)}
        for form in forms_of(surface.operation)
    }
    if surface.operation.scored:
        # Exporters come from plugins, and each tells its own media type.
        content["*/*"] = {"schema": {"description": "a file by an exporter of the service"}}
    return content


def _headers(surface: Surface, *, page: bool) -> dict[str, Any]:
    if surface.private:
        return {}
    headers = {"ETag": "changes where the answer would"}
    if surface.paged:
        headers["Link"] = "the pages before and after (RFC 8288)"
    if not page:
        headers["Content-Location"] = "where a GET gives this answer again"
    return {name: {"description": text, "schema": _TEXT} for name, text in sorted(headers.items())}


def _parameter(field: RequestField, surface: Surface) -> dict[str, Any]:
    schema = dict(surface.schema["properties"][field.name])
    description = schema.pop("description")
    if isinstance(schema["type"], list):
        # A query holds no null: a parameter that is left out is none.
        schema["type"] = schema["type"][0]
    if schema.get("default", 0) is None:
        del schema["default"]
    return {
        "name": parameter_name(field),
        "in": "query",
        "required": field.required,
        "description": description,
        "schema": schema,
        **({"style": "form", "explode": True} if field.many else {}),
    }


_NOW: Final[dict[str, Any]] = {
    "name": NOW,
    "in": "query",
    "required": False,
    "description": "the moment with its offset (RFC 3339), which says what day it is where the"
    " player is; the clock of the service if left out",
    "schema": {"type": "string", "format": "date-time"},
}
_REVIEW_NAME: Final[dict[str, Any]] = {
    "name": IDEMPOTENCY_KEY,
    "in": "header",
    "required": False,
    "description": "names the review in the place of review_id; one of the two is needed",
    "schema": _TEXT,
}


def _cursor(*, required: bool) -> dict[str, Any]:
    return {
        "name": CURSOR,
        "in": "query",
        "required": required,
        "description": "a page of an answer, as a link of the answer has it; stands alone",
        "schema": {"type": "string", "pattern": "^[A-Za-z0-9_-]+$"},
    }


def _format(surface: Surface) -> dict[str, Any]:
    names = [form.name for form in forms_of(surface.operation)]
    schema: dict[str, Any] = dict(_TEXT)
    if not surface.operation.scored:
        schema["enum"] = names
    return {
        "name": FORMAT,
        "in": "query",
        "required": False,
        "description": "the form of the answer; goes before the header Accept",
        "schema": schema,
    }


def _request_body(surface: Surface) -> dict[str, Any]:
    name = surface.operation.request.__name__
    content: dict[str, Any] = {JSON: {"schema": {"$ref": _REFERENCE.format(name=name)}}}
    field = surface.document_field
    if field is not None:
        # The other fields then stand in the query.
        for media_type in (*LEAD_SHEETS, TEXT):
            content[media_type] = {"schema": {"type": "string", "description": field.option.help}}
    return {"required": True, "content": content}


def _form_schema(surface: Surface, form: str) -> dict[str, Any]:
    operation = surface.operation
    row = {"$ref": _REFERENCE.format(name=operation.row.__name__)}
    if form == "ndjson":
        return {
            "type": "string",
            "description": "a row a line, then the record that says that this is the end",
            "x-row": row,
        }
    if form != "json":
        return dict(_TEXT)
    members: dict[str, Any] = {
        "schema": {"const": operation.schema},
        "request": {"type": "object", "description": "every field, as it was taken"},
        "count": {"type": "integer", "minimum": 0, "description": "rows in all"},
        "returned": {"type": "integer", "minimum": 0, "description": "rows of this page"},
        "warnings": {"type": "array", "items": _TEXT},
        "next": {"type": ["string", "null"], "description": "where the next page is"},
        operation.collection: {"type": "array", "items": row},
    }
    return {"type": "object", "properties": members, "required": list(members)}


def _health() -> dict[str, Any]:
    schema = {
        "type": "object",
        "properties": {"status": {"const": "ok"}},
        "required": ["status"],
        "additionalProperties": False,
    }
    return {
        "get": {
            "operationId": "healthz",
            "summary": "Say that the service runs",
            "responses": {
                "200": {"description": "It runs.", "content": {JSON: {"schema": schema}}},
                "default": {"$ref": "#/components/responses/Problem"},
            },
        }
    }


def _problem_schema() -> dict[str, Any]:
    return {
        "type": "object",
        "description": "a problem (RFC 9457)",
        "properties": {
            "type": {"enum": [kind.type for kind in KINDS]},
            "title": _TEXT,
            "status": {"type": "integer", "minimum": 400, "maximum": 599},
            "detail": _TEXT,
            "errors": {"type": "array", "items": {"$ref": _REFERENCE.format(name="Fault")}},
        },
        "required": ["type", "title", "status"],
    }


def _problem_response() -> dict[str, Any]:
    reference = {"$ref": _REFERENCE.format(name="Problem")}
    return {
        "description": "A problem, which says what is wrong and where.",
        "content": {MEDIA_TYPE: {"schema": reference}},
    }


def _component(schema: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in schema.items() if name not in {"$schema", "title"}}


def _described(name: str, schema: dict[str, Any], surfaces: list[Surface]) -> dict[str, Any]:
    """The schema of a row, its members described by the arguments of its class."""
    row = next((one.operation.row for one in surfaces if one.operation.row.__name__ == name), None)
    summary, told = _told(inspect.getdoc(row) or str(schema.get("description", "")))
    properties = {
        member: {**value, "description": told[member]} if member in told else value
        for member, value in schema["properties"].items()
    }
    return {
        "type": "object",
        "description": summary,
        "properties": properties,
        "required": sorted(schema.get("required", ())),
    }


def _told(docstring: str) -> tuple[str, dict[str, str]]:
    """The summary of a docstring, and what it says of each argument."""
    summary, _, rest = docstring.partition("\n\n")
    _, _, listed = rest.partition("Args:\n")
    told: dict[str, str] = {}
    name = ""
    for line in inspect.cleandoc(listed).splitlines() if listed else ():
        if line and not line.startswith(" ") and ":" in line:
            name, _, text = line.partition(":")
            told[name] = text.strip()
        elif name:
            told[name] = f"{told[name]} {line.strip()}".strip()
    return " ".join(summary.split()), told
