"""The bound on the time of an answer."""

import contextlib
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from gripwright_server.http.deadline import TimeLimitError, time_limited
from tests.core.plugins.traced import traced_after

_LATE = """
from gripwright_server.http.deadline import TimeLimitError, time_limited

try:
    with time_limited(0.1):
        while True:
            pass
except TimeLimitError as error:
    print(error)
"""


def _spin(seconds: float) -> None:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        pass


def _hold_on() -> None:
    """Work as careless plugins do."""
    while True:
        with contextlib.suppress(Exception):
            _spin(1)


def test_work_within_its_time_is_left_alone() -> None:
    """Its value comes out, and nothing comes after it."""
    for _ in range(50):
        with time_limited(5):
            _spin(0.001)
    _spin(0.2)


def test_work_past_its_time_is_broken_off() -> None:
    """Soon after, and no handler for ordinary errors holds it."""
    start = time.monotonic()
    with pytest.raises(TimeLimitError) as caught, time_limited(0.1):
        _hold_on()
    assert caught.value.seconds == 0.1
    assert time.monotonic() - start < 2


def test_threads_are_told_apart() -> None:
    """Only the one whose time is up is broken off."""
    barrier = threading.Barrier(4)

    def work(seconds: float) -> bool:
        barrier.wait()
        try:
            with time_limited(seconds):
                _spin(0.6)
        except TimeLimitError:
            return False
        return True

    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(work, [0.1, 9, 0.1, 9])) == [False, True, False, True]


def test_nothing_is_raised_after_the_end() -> None:
    """Work that ends as its time does is broken off or not, and the thread is sound after."""
    for _ in range(12):
        with contextlib.suppress(TimeLimitError), time_limited(0.05):
            _spin(0.1)
        _spin(0.03)


def test_own_errors_pass() -> None:
    """What the work raises is what comes out."""
    with pytest.raises(ZeroDivisionError), time_limited(5):
        _ = 1 / 0


def test_code_can_be_traced_after_work_was_broken_off() -> None:
    """Coverage tools and debuggers go on."""
    assert traced_after(_LATE) == ["it would take more than 0.1 s", "done"]
