"""Requests judged by the schema of their operation: every fault at once, in plain words."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

import jsonschema_rs

from gripwright.named import nearest_names
from gripwright_server.http.problem import MOST_FAULTS, Fault
from gripwright_server.http.settings import LONGEST_LIST
from gripwright_server.operations.option import unknown_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from gripwright_server.operations import RequestField

_LONGEST_SHOWN: Final = 60


class Validator:
    """What judges the requests of one operation.

    Args:
        schema: The schema of the requests.
        fields: The fields that it is made from, which say what they take.

    Example:
        >>> from gripwright_server.operations import request_fields, request_schema
        >>> from gripwright_server.operations.player import HandOptions
        >>> own = Validator(request_schema(HandOptions), request_fields(HandOptions))
        >>> for fault in own.faults({"fingers": 9, "thumbs": 1}):
        ...     print(fault.pointer, fault.detail)
        #/fingers expected a whole number, 1 to 5
        #/thumbs unknown field 'thumbs'
    """

    def __init__(self, schema: dict[str, Any], fields: Iterable[RequestField]) -> None:
        self._validator: Final = jsonschema_rs.validator_for(schema)
        self._properties: Final[dict[str, dict[str, Any]]] = schema["properties"]
        self._fields: Final = {field.name: field for field in fields}

    def faults(self, value: object) -> list[Fault]:
        """Every fault of a request, or as many as a problem lists, by place."""
        shown = _outlined(value)
        if self._validator.is_valid(shown):
            return []
        errors = itertools.islice(self._validator.iter_errors(shown), MOST_FAULTS)
        found = [fault for error in errors for fault in self._of(error)]
        # Alternatives of one value each bring an error, and the faults would be the same.
        return sorted(dict.fromkeys(found), key=lambda fault: fault.pointer)[:MOST_FAULTS]

    def _of(self, error: jsonschema_rs.ValidationError) -> Iterator[Fault]:
        kind = error.kind
        if isinstance(kind, jsonschema_rs.ValidationErrorKind.AdditionalProperties):
            for name in itertools.islice(kind.unexpected, MOST_FAULTS):
                yield self._unknown_field(name)
        elif isinstance(kind, jsonschema_rs.ValidationErrorKind.Required):
            name = kind.property
            yield Fault(
                detail=f"the field {name!r} is missing",
                pointer=pointer_of(name),
                expected=self._fields[name].option.help,
            )
        elif isinstance(kind, jsonschema_rs.ValidationErrorKind.MaxItems):
            most = f"at most {kind.limit:,} values"
            pointer = pointer_of(*error.instance_path)
            yield Fault(detail=f"expected {most}", pointer=pointer, expected=most)
        elif not error.instance_path:
            yield Fault(detail="expected a JSON object", expected="a JSON object")
        else:
            yield self._wrong_value(error)

    def _unknown_field(self, name: str) -> Fault:
        near = tuple(nearest_names(name, self._fields))
        hint = f" (did you mean {' or '.join(map(repr, near))}?)" if near else ""
        return Fault(
            detail=f"unknown field {_shown(name)}{hint}",
            pointer=pointer_of(name),
            nearest=near or None,
        )

    def _wrong_value(self, error: jsonschema_rs.ValidationError) -> Fault:
        name = str(error.instance_path[0])
        field = self._fields[name]
        pointer = pointer_of(*error.instance_path)
        choices = field.option.choices
        if choices and isinstance(error.instance, str):
            unknown = unknown_name(name.replace("_", " "), error.instance, choices)
            return Fault(detail=str(unknown), pointer=pointer, nearest=unknown.nearest or None)
        expected = self._expected(field)
        return Fault(detail=f"expected {expected}", pointer=pointer, expected=expected)

    def _expected(self, field: RequestField) -> str:
        """What a field takes, in words, with the bounds that this surface puts."""
        words = field.expected
        if field.option.choices:
            words = f"one of {', '.join(field.option.choices)}"
        most = self._properties[field.name].get("maximum")
        if most is not None and most != field.option.le:
            words = f"a whole number, {field.option.ge:g} to {most}"
        return words


def pointer_of(*path: str | int) -> str:
    """A JSON pointer (RFC 6901) as the fragment of a URI.

    Example:
        >>> pointer_of("symbols", 0), pointer_of("a/b"), pointer_of()
        ('#/symbols/0', '#/a~1b', '#')
    """
    return "#" + "".join(f"/{_token(str(part))}" for part in path)


def _outlined(value: object) -> object:
    """A request as far as its schema looks into it.

    Requests are flat: of what lies in a list only the kind counts, and of a list that is too long
    only that it is. What is nested deep or endless would take long to judge, or cannot be.

    Example:
        >>> _outlined({"a": [1, [2, [3]]], "b": {"c": {}}})
        {'a': [1, []], 'b': {}}
    """
    if not isinstance(value, dict):
        return _kind_alone(value)
    return {
        name: [_kind_alone(item) for item in one[: LONGEST_LIST + 1]]
        if isinstance(one, list)
        else _kind_alone(one)
        for name, one in value.items()
    }


def _kind_alone(value: object) -> object:
    """A value, or an empty one where it could hold others."""
    return type(value)() if isinstance(value, dict | list) else value


def _token(text: str) -> str:
    return quote(text.replace("~", "~0").replace("/", "~1"), safe="~!$&'()*+,;=:@")


def _shown(name: str) -> str:
    return repr(name) if len(name) <= _LONGEST_SHOWN else f"{name[:_LONGEST_SHOWN]!r}..."
