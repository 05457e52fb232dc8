"""Waiting: a word on stderr where an answer takes its time, on a terminal only."""

from __future__ import annotations

import contextlib
import sys
import threading
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

PATIENCE_S: Final = 1.0
"""Seconds before the first word, and between one and the next."""


@contextlib.contextmanager
def told_to_wait(patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Say on stderr every second that the work goes on, and wipe it out at the end.

    Nothing is said where stderr is no terminal.

    Args:
        patience_s: Seconds before the first word, and between one and the next.
    """
    stream = sys.stderr
    if stream is None or not stream.isatty():
        yield
        return
    done = threading.Event()

    def tell() -> None:
        seconds = 0.0
        while not done.wait(patience_s):
            seconds += patience_s
            stream.write(f"\rWorking, {seconds:.0f} s; Ctrl-C ends it")
            stream.flush()
        if seconds:
            stream.write("\r" + " " * 40 + "\r")
            stream.flush()

    teller = threading.Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()
