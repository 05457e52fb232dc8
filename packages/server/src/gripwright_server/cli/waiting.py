"""Waiting: a word on stderr where an answer takes its time, on a terminal only."""

from __future__ import annotations

import contextlib
import sys
import threading
import time
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import TextIO

PATIENCE_S: Final = 1.0
"""Seconds before the first word, and between one and the next."""

_WIDTH: Final = 78
_LOGGED_S: Final = 10.0


class _Log:
    """Lines for a file: how far the work is, now and then."""

    def __init__(self, stream: TextIO) -> None:
        self._stream: Final = stream
        self._said = time.monotonic()

    def __call__(self, number: int, count: int, words: str) -> None:
        now = time.monotonic()
        if now - self._said < _LOGGED_S:
            return
        self._said = now
        self._stream.write(f"Working: {number} of {count}, {words}\n")
        self._stream.flush()


def _unheard(number: int, count: int, words: str) -> None:
    del number, count, words


@contextlib.contextmanager
def told_to_wait(patience_s: float = PATIENCE_S) -> Iterator[Callable[[int, int, str], None]]:
    """Say on stderr every second that the work goes on, and wipe it out at the end.

    Where stderr is no terminal, only what the work itself tells is said, a line every ten
    seconds.

    Args:
        patience_s: Seconds before the first word, and between one and the next.

    Yields:
        What work of many parts may tell how far it is: the number of the part that begins, from
        1, how many there are, and what it is.
    """
    stream = sys.stderr
    if stream is None:
        yield _unheard
        return
    if not stream.isatty():
        yield _Log(stream)
        return
    done = threading.Event()
    parts: list[str] = []

    def tell_part(number: int, count: int, words: str) -> None:
        parts[:] = [f"{number} of {count}, {words}"]

    def tell() -> None:
        seconds = 0.0
        while not done.wait(patience_s):
            seconds += patience_s
            text = f"Working, {seconds:.0f} s; Ctrl-C ends it"
            if parts:
                text = f"{text}; {parts[0]}"[:_WIDTH].ljust(_WIDTH)
            stream.write(f"\r{text}")
            stream.flush()
        if seconds:
            stream.write("\r" + " " * _WIDTH + "\r")
            stream.flush()

    teller = threading.Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield tell_part
    finally:
        done.set()
        teller.join()
