"""Which operations are asked by GET and which by POST: the one table."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from gripwright_server.operations import Declaration, RequestField

BY_GET: Final = frozenset(
    {
        "explain",
        "instruments",
        "ladder",
        "name",
        "plugins",
        "rhythms",
        "spell",
        "strategies",
    }
)
"""What names a thing, or asks about one: its request stands in the query. All others, which search
or make something, are asked by POST with a request in JSON."""

UNCACHED: Final = frozenset({"plugins"})
"""What tells about the service and not about music."""

ROOT: Final = "/v1"
"""Where the paths begin."""

FORMAT: Final = "format"
"""The parameter that names the form of the answer, where a client cannot send Accept."""

CURSOR: Final = "cursor"
"""The parameter that names a page of an answer."""

NOW: Final = "now"
"""The parameter that says what time it is where the player is."""

IDEMPOTENCY_KEY: Final = "Idempotency-Key"
"""The header that can name a review."""

NAMES_A_REVIEW: Final = "review_id"
"""The field of a request that names a review."""

LIMIT: Final = "limit"
"""The field of a request that says how many rows it wants: here the length of a page."""


def path_of(operation: Declaration) -> str:
    """The path of an operation."""
    return "/".join(filter(None, (ROOT, operation.group, operation.name)))


def parameter_name(field: RequestField) -> str:
    """The parameter of a query for a field: one that holds many is given once for each of them.

    Example:
        >>> from gripwright_server.operations import request_fields
        >>> from gripwright_server.operations.spell import SpellRequest
        >>> [parameter_name(field) for field in request_fields(SpellRequest)][:2]
        ['symbol', 'literal']
    """
    return field.name.removesuffix("s") if field.many else field.name
