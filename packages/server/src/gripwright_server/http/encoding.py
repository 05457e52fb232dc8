"""JSON out and in: fast, ASCII, and strict about what comes in."""

from __future__ import annotations

import json
import operator
from typing import TYPE_CHECKING, Any, Final

import attrs
import msgspec

if TYPE_CHECKING:
    from collections.abc import Callable

_ENCODER: Final = msgspec.json.Encoder()


class UnreadableJSONError(ValueError):
    """Bytes that are no JSON, or none that is taken here; the message says why."""


def encoded(value: object) -> bytes:
    r"""A value as JSON in ASCII, without spaces.

    Args:
        value: What `msgspec.json` can encode.

    Example:
        >>> encoded({"symbol": "C♯7"})
        b'{"symbol":"C\\u266f7"}'
    """
    try:
        text = _ENCODER.encode(value)
    except OverflowError:
        # Whole numbers beyond 64 bits.
        return json.dumps(value, separators=(",", ":")).encode()
    if text.isascii():
        return text
    return json.dumps(json.loads(text), separators=(",", ":")).encode()


def row_encoder(row: type) -> Callable[[Any], bytes]:
    """What writes the rows of a class, their members in the order of the class.

    Args:
        row: An attrs class.
    """
    names = [attribute.name for attribute in attrs.fields(row)]
    values = operator.attrgetter(*names)

    def encode(one: Any) -> bytes:  # noqa: ANN401 - rows of any class
        # Of a single name the getter gives the bare value.
        held = (values(one),) if len(names) == 1 else values(one)
        return encoded(dict(zip(names, held, strict=True)))

    return encode


def decoded(data: bytes) -> Any:  # noqa: ANN401 - JSON
    """The value of a JSON text (RFC 8259), read strictly.

    Refused are NaN and infinities, numbers that no float or whole number of some 4,000 digits
    holds, unpaired surrogates, bytes that are not UTF-8, nesting deeper than the reader goes, and
    objects that have a member twice.

    Raises:
        UnreadableJSONError: The bytes are no such text.

    Example:
        >>> decoded(b'{"reach_mm": 100}')
        {'reach_mm': 100}
    """
    try:
        value = msgspec.json.decode(data)
        json.loads(data, object_pairs_hook=_members_once)
    except RecursionError:
        reason = "it is nested too deep"
        raise UnreadableJSONError(reason) from None
    except (msgspec.DecodeError, ValueError) as error:
        raise UnreadableJSONError(str(error)) from None
    return value


def _members_once(pairs: list[tuple[str, Any]]) -> None:
    names = set()
    for name, _ in pairs:
        if name in names:
            reason = f"the member {name[:80]!r} stands twice"
            raise UnreadableJSONError(reason)
        names.add(name)
