"""A bound on the time that an answer takes: work past it is broken off, and its worker is free.

Work that is computed in a thread cannot be ended from outside, save by an exception raised in it,
which comes between two bytecodes. One thread watches over all the others.
"""

from __future__ import annotations

import contextlib
import os
import threading
import time
from typing import TYPE_CHECKING, Final

from gripwright.errors import GripwrightError
from gripwright.plugins.interruption import interrupt, settle

if TYPE_CHECKING:
    from collections.abc import Iterator

_TICK_S: Final = 0.05


class TimeLimitError(GripwrightError, TimeoutError):
    """Work that took longer than it may.

    Args:
        seconds: How long it may take.
    """

    seconds: float

    def __init__(self, *, seconds: float) -> None:
        super().__init__(f"it would take more than {seconds:g} s", seconds=seconds)


class _BreakOff(BaseException):
    """Raised in a thread whose time is up; no handler for ordinary errors stops it."""


class _Watch:
    """The threads at work and until when each may be."""

    def __init__(self) -> None:
        self._lock: Final = threading.Lock()
        self._busy: Final = threading.Event()
        self._until: Final[dict[int, float]] = {}
        self._process: int | None = None

    def begin(self, seconds: float) -> None:
        """Watch the thread that calls."""
        with self._lock:
            self._until[threading.get_ident()] = time.monotonic() + seconds
            if self._process != os.getpid():
                # The first call, or the first in a process that was forked: threads stay behind.
                self._process = os.getpid()
                threading.Thread(target=self._watch, name="time-limit", daemon=True).start()
            if not self._busy.is_set():
                self._busy.set()

    def end(self) -> None:
        """Watch the thread that calls no longer; what was not yet raised in it never is."""
        with self._lock:
            broken_off = self._until.pop(threading.get_ident(), None) is None
        if broken_off:
            settle()

    def _watch(self) -> None:
        while True:
            self._busy.wait()
            with self._lock:
                now = time.monotonic()
                for thread in [one for one, until in self._until.items() if until < now]:
                    del self._until[thread]
                    interrupt(thread, _BreakOff)
                if not self._until:
                    self._busy.clear()
            time.sleep(_TICK_S)


_WATCH: Final = _Watch()


@contextlib.contextmanager
def time_limited(seconds: float) -> Iterator[None]:
    """Break the work inside off after some seconds.

    A single call into compiled code is let go to its end.

    Args:
        seconds: How long the work may take.

    Raises:
        TimeLimitError: It took longer.

    Example:
        >>> with time_limited(0.05):
        ...     while True:
        ...         pass
        Traceback (most recent call last):
        ...
        gripwright_server.http.deadline.TimeLimitError: it would take more than 0.05 s
    """
    try:
        _WATCH.begin(seconds)
        try:
            yield
        finally:
            _WATCH.end()
    except _BreakOff:
        raise TimeLimitError(seconds=seconds) from None
