"""What a law is: a statement about the values of one kind, and a check that can be tried."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final, Literal, TypeAlias, get_args

import attrs
from hypothesis import strategies as st

from gripwright.errors import GripwrightError

Kind: TypeAlias = Literal["theory", "plugin", "instrument", "strategy", "rhythm family", "exporter"]
"""What a law is about."""

KINDS: Final[tuple[Kind, ...]] = get_args(Kind)

Draws: TypeAlias = Mapping[str, st.SearchStrategy[Any]]
"""What a law is tried on, by the name of the argument."""


class LawBrokenError(GripwrightError, AssertionError):
    """A law that does not hold.

    Args:
        fault: What is so and should not be, one sentence without a capital and a full stop.

    Example:
        >>> print(LawBrokenError(fault="fret 4 lies below fret 3"))
        fret 4 lies below fret 3
    """

    fault: str

    def __init__(self, *, fault: str) -> None:
        super().__init__(fault, fault=fault)


def demand(condition: object, fault: str | Callable[[], str]) -> None:
    """Raise where a condition does not hold.

    Args:
        condition: True where the law holds.
        fault: What is so and should not be; a function where the words take time to find.

    Raises:
        LawBrokenError: The condition does not hold.

    Example:
        >>> demand(1 < 2, "one is not less than two")
    """
    if not condition:
        raise LawBrokenError(fault=fault if isinstance(fault, str) else fault())


@attrs.frozen(eq=False)
class Law:
    """A law that values of one kind keep.

    Args:
        name: Its name, such as ``"recipes-repeat"``.
        kind: What it is about.
        statement: What holds, one sentence.
        holds: Raises where it does not: called with a value and what is drawn, by name.
        draws: From the value to what the law is tried on; none where it is tried once.
        share: The part of the examples that it is tried on, above 0 and up to 1: a dear law is
            tried on fewer.
        least_s: Seconds that one example may take whatever limit is set, where it does more than
            ask the value.

    Example:
        >>> def even(value: int, *, other: int) -> None:
        ...     '''Twice any number is even.'''
        ...     demand((value * other) % 2 == 0, f"{value} times {other} is odd")
        >>> law = Law.of("theory", even, lambda value: {"other": st.integers()})
        >>> law.name, law.statement
        ('even', 'Twice any number is even.')
    """

    name: str
    kind: Kind
    statement: str
    holds: Callable[..., None]
    draws: Callable[[Any], Draws] = attrs.field(repr=False)
    share: float = 1.0
    least_s: float = 0.0

    @classmethod
    def of(
        cls,
        kind: Kind,
        holds: Callable[..., None],
        draws: Callable[[Any], Draws] | None = None,
        *,
        share: float = 1.0,
        least_s: float = 0.0,
    ) -> Law:
        """A law from its check: the function's name, and the first line of its docstring.

        Args:
            kind: What it is about.
            holds: The check.
            draws: From the value to what the law is tried on; none if not given.
            share: The part of the examples that it is tried on.
            least_s: Seconds that one example may take whatever limit is set.
        """
        statement = (holds.__doc__ or "").strip().splitlines()[0]
        name = holds.__name__.replace("_", "-")
        return cls(name, kind, statement, holds, draws or _nothing, share, least_s)


def _nothing(_value: object) -> Draws:
    return {}
