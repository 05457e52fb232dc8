"""Problems: what is wrong with a request, as RFC 9457 has it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright_server.http.encoding import encoded

if TYPE_CHECKING:
    from collections.abc import Iterable

MEDIA_TYPE: Final = "application/problem+json"
"""The media type of a problem."""

MOST_FAULTS: Final = 100
"""Faults that a problem lists."""


@attrs.frozen(kw_only=True)
class Fault:
    """One fault of a request.

    Args:
        detail: What is wrong, for a reader.
        pointer: Its place in the request (RFC 6901, as the fragment of a URI); ``#`` is the whole.
        parameter: The parameter of the query that holds it, where the request is one.
        position: The first character that does not fit, counted from 0, in a text.
        line: Its line in a text of several, counted from 1.
        column: The first character that does not fit in that line, counted from 1.
        expected: What could have stood there, in words.
        nearest: What is known or readable near it, best first.
    """

    detail: str
    pointer: str = "#"
    parameter: str | None = None
    position: int | None = None
    line: int | None = None
    column: int | None = None
    expected: str | None = None
    nearest: tuple[str, ...] | None = None


@attrs.frozen(kw_only=True)
class Problem:
    """A problem (RFC 9457).

    Args:
        type: A reference to what kind it is; the same for every problem of the kind.
        title: The kind in words.
        status: The status of the response, or None where it is left to that.
        detail: What is so in this case.
        errors: Every fault of the request.
        extra: Further members.

    Example:
        >>> print(Problem(type="/v1/docs#problem-too-large", title="Too large").body().decode())
        {"type":"/v1/docs#problem-too-large","title":"Too large"}
    """

    type: str
    title: str
    status: int | None = None
    detail: str | None = None
    errors: tuple[Fault, ...] = ()
    extra: Mapping[str, Any] = MappingProxyType({})

    def document(self) -> dict[str, Any]:
        """The members of the problem, ready for JSON; what is None or empty is left out."""
        members = {
            "type": self.type,
            "title": self.title,
            "status": self.status,
            "detail": self.detail,
            "errors": [_given(attrs.asdict(fault, recurse=False)) for fault in self.errors],
            **self.extra,
        }
        return {name: value for name, value in _given(members).items() if value != []}

    def body(self) -> bytes:
        """The problem as JSON."""
        return encoded(self.document())


@attrs.frozen
class Kind:
    """A kind of problem.

    Args:
        name: One word or several with dashes; the anchor of the kind in the documentation.
        status: The status of the response.
        title: The kind in words.
        advice: What to do about it, a sentence.
    """

    name: str
    status: int
    title: str
    advice: str

    @property
    def type(self) -> str:
        """The reference that names the kind: its place in the documentation."""
        return f"/v1/docs#problem-{self.name}"

    def problem(
        self, detail: str | None = None, errors: Iterable[Fault] = (), **extra: Any
    ) -> Problem:
        """A problem of this kind."""
        return Problem(
            type=self.type,
            title=self.title,
            status=self.status,
            detail=detail,
            errors=tuple(errors)[:MOST_FAULTS],
            extra=extra,
        )

    def error(
        self, detail: str | None = None, errors: Iterable[Fault] = (), **extra: Any
    ) -> ProblemError:
        """A problem of this kind, to be raised."""
        return ProblemError(self.problem(detail, errors, **extra))


class ProblemError(Exception):
    """A problem that ends a request.

    Args:
        problem: The problem.
        headers: Headers of the response that belong to it.
    """

    def __init__(self, problem: Problem, headers: Mapping[str, str] | None = None) -> None:
        super().__init__(problem.title)
        self.problem: Final = problem
        self.headers: Final = dict(headers or {})


def _given(members: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in members.items() if value is not None}
