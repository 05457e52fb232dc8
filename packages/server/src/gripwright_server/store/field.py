"""The fields of a record: read with their type, and refused with their name."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from gripwright.errors import GripwrightError

Record = Mapping[str, Any]
"""What JSON calls an object."""

_WORDS: Final[dict[type, str]] = {
    bool: "true or false",
    float: "a number",
    int: "a whole number",
    list: "a list",
    str: "text",
}


class RecordError(GripwrightError, ValueError):
    """A record that is not what it should be.

    Args:
        field: The field that is wrong; empty for the record as a whole.
        reason: What is wrong, in words.

    Example:
        >>> print(RecordError(field="frets", reason="expected text"))
        frets: expected text
    """

    field: str
    reason: str

    def __init__(self, *, field: str, reason: str) -> None:
        place = f"{field}: " if field else ""
        super().__init__(f"{place}{reason}", field=field, reason=reason)


def read(
    record: Record, field: str, kind: type, convert: Callable[[Any], Any] | None = None
) -> Any:  # noqa: ANN401 - of the kind asked for, or what the conversion makes of it
    """A field of a record.

    Args:
        record: The record.
        field: The name of the field.
        kind: Its type in JSON: bool, float (any number), int, list or str.
        convert: What to make of it.

    Raises:
        RecordError: It is missing, of another type, text that no file holds (half of a surrogate
            pair), or cannot be converted.

    Example:
        >>> read({"frets": 22}, "frets", int)
        22
        >>> try:
        ...     read({"frets": "22"}, "frets", int)
        ... except RecordError as error:
        ...     print(error)
        frets: expected a whole number
    """
    if not isinstance(record, Mapping):
        raise RecordError(field="", reason="expected an object")
    if field not in record:
        raise RecordError(field=field, reason="it is missing")
    value = record[field]
    fits = isinstance(value, kind) or (kind is float and isinstance(value, int))
    if not fits or (isinstance(value, bool) and kind is not bool):
        raise RecordError(field=field, reason=f"expected {_WORDS[kind]}")
    with refusals(field):
        if kind is str:
            check_text(value)
        return value if convert is None else convert(value)


def check_text(text: str) -> None:
    """Refuse what JSON can write and UTF-8 cannot: half of a surrogate pair (RFC 8259, 8.2).

    Raises:
        ValueError: There is one in the text.

    Example:
        >>> check_text("the flat side")
        >>> check_text(chr(0xD800))
        Traceback (most recent call last):
        ...
        ValueError: expected text without half of a surrogate pair
    """
    try:
        text.encode()
    except UnicodeEncodeError:
        message = "expected text without half of a surrogate pair"
        raise ValueError(message) from None


def texts(values: list[Any]) -> tuple[str, ...]:
    """A list of texts.

    Raises:
        ValueError: One is none.
    """
    if not all(isinstance(value, str) for value in values):
        message = "expected a list of texts"
        raise ValueError(message)
    for value in values:
        check_text(value)
    return tuple(values)


@contextlib.contextmanager
def refusals(field: str) -> Iterator[None]:
    """Turn the refusal of a value into that of a field.

    Args:
        field: Its name; empty for the record as a whole.

    Raises:
        RecordError: A value was refused.
    """
    try:
        yield
    except RecordError:
        raise
    except (GripwrightError, ValueError) as error:
        raise RecordError(field=field, reason=str(error)) from error
