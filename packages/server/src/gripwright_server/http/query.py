"""Requests that stand in a query: parameters as text, read as the fields of a request take them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import unquote_plus

import attrs

from gripwright.named import nearest_names
from gripwright_server.http.kinds import BAD_REQUEST, INVALID
from gripwright_server.http.problem import Fault
from gripwright_server.http.routes import CURSOR, FORMAT, parameter_name
from gripwright_server.http.validation import pointer_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright_server.operations import RequestField

_BOOLEANS: Final = {"true": True, "false": False}
_SYMBOL: Final = "SYMBOL"
_LONGEST_NUMBER: Final = 40
_LONGEST_NAME: Final = 60
_MOST_PARAMETERS: Final = 1000
_PLUS: Final = "in a query + means a space: write %2B for +, and %20 for a space"


@attrs.frozen
class Query:
    """A query, decoded.

    Args:
        parameters: Each name with its values, in order.
        spaced: Names of parameters in which a ``+`` stood, which means a space.
    """

    parameters: dict[str, list[str]]
    spaced: frozenset[str]

    @classmethod
    def parse(cls, text: str) -> Query:
        """Decode a query (application/x-www-form-urlencoded, in UTF-8).

        Raises:
            ProblemError: It is not UTF-8, or endless.

        Example:
            >>> Query.parse("symbol=C%237&symbol=G7").parameters
            {'symbol': ['C#7', 'G7']}
        """
        if not text:
            return cls({}, frozenset())
        parts = text.split("&")
        if len(parts) > _MOST_PARAMETERS:
            raise BAD_REQUEST.error(f"more than {_MOST_PARAMETERS} parameters")
        parameters: dict[str, list[str]] = {}
        spaced = set()
        for part in filter(None, parts):
            written, _, value = part.partition("=")
            try:
                name = unquote_plus(written, errors="strict")
                parameters.setdefault(name, []).append(unquote_plus(value, errors="strict"))
            except UnicodeDecodeError:
                raise BAD_REQUEST.error("the query is not percent-encoded UTF-8") from None
            if "+" in value:
                spaced.add(name)
        return cls(parameters, frozenset(spaced))

    def own(self, name: str) -> str | None:
        """The value of a parameter of the surface itself, where it is given.

        Raises:
            ProblemError: It is given twice.
        """
        values = self.parameters.get(name, [None])
        if len(values) > 1:
            fault = Fault(detail="given more than once", pointer=pointer_of(name), parameter=name)
            raise INVALID.error(errors=[fault])
        return values[0]

    def alone(self, *names: str) -> None:
        """Make sure that nothing is given but some parameters.

        Raises:
            ProblemError: Something is.
        """
        strangers = [name for name in self.parameters if name not in names]
        if strangers:
            raise INVALID.error(
                errors=[
                    Fault(
                        detail=f"unknown parameter {name[:_LONGEST_NAME]!r}",
                        pointer=pointer_of(name),
                        parameter=name,
                        expected=f"one of {', '.join(names)}" if names else "no parameter",
                    )
                    for name in strangers
                ]
            )

    def values(self, fields: Iterable[RequestField]) -> tuple[dict[str, Any], list[Fault]]:
        """The fields of a request, as JSON would have them.

        A text that is no number where one is wanted stays text, for the schema to refuse.

        Returns:
            The fields given, and the faults that a schema cannot see.
        """
        by_name = {parameter_name(field): field for field in fields}
        given: dict[str, Any] = {}
        faults: list[Fault] = []
        for name, texts in self.parameters.items():
            if name in {FORMAT, CURSOR}:
                continue
            field = by_name.get(name)
            if field is None:
                faults.append(_unknown(name, by_name))
                continue
            if len(texts) > 1 and not field.many:
                faults.append(_fault(field, "given more than once"))
            elif name in self.spaced and field.option.form == _SYMBOL:
                faults.append(_fault(field, _PLUS))
            read = [_read(text, field) for text in texts]
            given[field.name] = read if field.many else read[0]
        return given, faults


def _unknown(name: str, known: Iterable[str]) -> Fault:
    near = nearest_names(name[:_LONGEST_NAME], known)
    hint = f" (did you mean {' or '.join(map(repr, near))}?)" if near else ""
    return Fault(
        detail=f"unknown parameter {name[:_LONGEST_NAME]!r}{hint}",
        pointer=pointer_of(name),
        parameter=name,
        nearest=tuple(near) or None,
    )


def _fault(field: RequestField, detail: str) -> Fault:
    return Fault(detail=detail, pointer=pointer_of(field.name), parameter=parameter_name(field))


def _read(text: str, field: RequestField) -> object:
    """The value that a text means for a field, or the text where it means none."""
    if field.base is bool:
        return _BOOLEANS.get(text, text)
    if field.base is str or len(text) > _LONGEST_NUMBER or not text.isascii():
        return text
    try:
        if field.base is int:
            # What Python reads beyond JSON: spaces, underscores, a plus.
            return int(text) if text.removeprefix("-").isdigit() else text
        number = float(text)
    except ValueError:
        return text
    return number if math.isfinite(number) and "_" not in text else text
