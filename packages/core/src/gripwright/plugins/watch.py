"""Running a stranger's code under a limit of time, so that code without end harms nobody else.

The code runs in a thread of its own. Where its time is up an exception is raised in it, which
comes between two bytecodes; code that even so goes on, such as a long sleep, is left behind.
"""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING, Final, Generic, TypeVar

from gripwright.plugins.interruption import interrupt, settle

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")

_TICK_S: Final = 0.05
_FAREWELL_S: Final = 0.5


class HangError(Exception):
    """Code that took longer than it may.

    Args:
        seconds: How long it may take.
        doing: What it was doing, where that was said.

    Example:
        >>> print(HangError(2.0))
        it took more than 2 s
    """

    def __init__(self, seconds: float, doing: str = "") -> None:
        super().__init__(f"it took more than {seconds:g} s")
        self.seconds: Final = seconds
        self.doing: Final = doing


class BreakOff(BaseException):
    """Raised in a thread whose time is up; no handler for ordinary errors stops it."""


class Pulse:
    """Since when the code at work has been working on one thing, and on what."""

    def __init__(self) -> None:
        self._since: float | None = None
        self.doing = ""

    def begin(self, doing: str = "") -> None:
        """One thing begins."""
        self.doing = doing
        self._since = time.monotonic()

    def end(self) -> None:
        """It is done; what follows is not the stranger's."""
        self._since = None

    @property
    def seconds(self) -> float:
        """How long the thing at hand has taken so far; 0 where there is none."""
        since = self._since
        return 0.0 if since is None else time.monotonic() - since


class _Outcome(Generic[T]):
    """What a thread leaves behind: a value, or what it raised."""

    value: T
    error: BaseException | None = None


def watched(work: Callable[[Pulse], T], seconds: float) -> T:
    """Run some work in a thread; each thing that it does may take so many seconds.

    Args:
        work: The work; it tells the pulse when a thing begins and ends.
        seconds: How long one thing may take.

    Returns:
        What the work returns.

    Raises:
        HangError: One thing took longer. A single call into compiled code may be left running.
        BaseException: Whatever the work raises.

    Example:
        >>> def endless(pulse):
        ...     pulse.begin()
        ...     while True:
        ...         pass
        >>> try:
        ...     watched(endless, 0.1)
        ... except HangError as error:
        ...     print(error)
        it took more than 0.1 s
    """
    pulse: Pulse = Pulse()
    outcome: _Outcome[T] = _Outcome()

    def run() -> None:
        try:
            outcome.value = work(pulse)
        except BaseException as error:  # noqa: BLE001 - raised again where the work was asked for
            outcome.error = error

    thread = threading.Thread(target=run, name="watched", daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(_TICK_S)
        if thread.is_alive() and pulse.seconds > seconds:
            _break_off(thread)
            raise HangError(seconds, pulse.doing)
    if outcome.error is not None:
        raise outcome.error
    return outcome.value


def _break_off(thread: threading.Thread) -> None:
    ident = thread.ident
    assert ident is not None  # noqa: S101 - it has been started
    interrupt(ident, BreakOff)
    thread.join(_FAREWELL_S)
    settle()
