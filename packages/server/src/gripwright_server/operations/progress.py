"""How far a long operation is: told while it works, to whoever listens in this context."""

import contextlib
import contextvars
from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

Listener: TypeAlias = Callable[[int, int, str], None]
"""Called with the number of what is begun, from 1, how many there are, and what it is."""

_LISTENER: Final[contextvars.ContextVar[Listener | None]] = contextvars.ContextVar(
    "gripwright_progress", default=None
)


@contextlib.contextmanager
def progress_told(listener: Listener) -> Iterator[None]:
    """Have the operations of this context tell how far they are.

    Args:
        listener: What is told.

    Example:
        >>> with progress_told(lambda number, count, words: print(number, count, words)):
        ...     tell_progress(1, 2, "frets")
        1 2 frets
        >>> tell_progress(2, 2, "strings")
    """
    token = _LISTENER.set(listener)
    try:
        yield
    finally:
        _LISTENER.reset(token)


def tell_progress(number: int, count: int, words: str) -> None:
    """Tell that something begins; nobody need listen.

    Args:
        number: Which of them, from 1.
        count: How many there are.
        words: What begins.
    """
    listener = _LISTENER.get()
    if listener is not None:
        listener(number, count, words)
