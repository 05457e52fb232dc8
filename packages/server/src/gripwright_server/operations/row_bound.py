"""How many voicings a search may find: the surface's own to say, and no part of a request.

A command line has one user and all the memory; a service has many. The bound of the library holds
where a surface says nothing.
"""

import contextlib
import contextvars
from collections.abc import Iterator
from typing import Final

_BOUND: Final[contextvars.ContextVar[int | None]] = contextvars.ContextVar(
    "gripwright_row_bound", default=None
)


@contextlib.contextmanager
def rows_bounded(bound: int) -> Iterator[None]:
    """Let searches refuse more than so many voicings, in this context alone.

    Args:
        bound: The most voicings that a search may find, 1 or more.

    Example:
        >>> with rows_bounded(1000):
        ...     bound_of_surface()
        {'row_bound': 1000}
        >>> bound_of_surface()
        {}
    """
    token = _BOUND.set(bound)
    try:
        yield
    finally:
        _BOUND.reset(token)


def bound_of_surface() -> dict[str, int]:
    """The condition of a search that the surface puts, or none."""
    bound = _BOUND.get()
    return {} if bound is None else {"row_bound": bound}
