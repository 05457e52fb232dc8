"""Strangers' code under a limit of time, and plugins that take too long to load."""

import time
from collections.abc import Iterable

import pytest

from gripwright import Instrument, hookimpl, load_registry
from gripwright.plugins.discovery import Candidate
from gripwright.plugins.loading import Loading
from gripwright.plugins.plugin import PluginInfo
from gripwright.plugins.watch import HangError, Pulse, watched
from tests.core.plugins.samples import Gives, three_strings
from tests.core.plugins.traced import traced_after

_LEFT_BEHIND = """
import time
from gripwright.plugins.watch import HangError, watched

def asleep(pulse):
    pulse.begin()
    time.sleep(60)

try:
    watched(asleep, 0.1)
except HangError as error:
    print(error)
"""


class Sleeper:
    """A plugin that answers much too late."""

    @hookimpl
    def gripwright_instruments(self) -> Iterable[Instrument]:
        """Give an instrument, one day."""
        time.sleep(30)
        return [three_strings("late")]


def test_a_plugin_that_hangs_is_set_aside_and_the_rest_go_on() -> None:
    """It is named with its hook and the limit."""
    began = time.monotonic()
    given = [("slow", Sleeper()), ("quick", Gives(instruments=[three_strings("small")]))]
    registry = load_registry(plugins=given, time_limit_s=2.0)
    assert "small" in registry.instruments
    assert "late" not in registry.instruments
    (failure,) = registry.failures
    hook = "hook gripwright_instruments"
    assert str(failure) == f"plugin 'slow' (given by the caller), {hook}: it took more than 2 s"
    assert time.monotonic() - began < 25


def test_a_plugin_that_hangs_when_it_is_imported_is_set_aside() -> None:
    """No hook is named, since none was asked."""
    loading = Loading([], time_limit_s=0.2)
    loading.take(Candidate(PluginInfo("slow"), lambda: time.sleep(30)))
    (failure,) = loading.failures
    expected = "plugin 'slow' (given by the caller): cannot be loaded: it took more than 0.2 s"
    assert str(failure) == expected
    assert [info.set_aside for info in loading.plugins] == [True]


def test_under_a_limit_the_registry_is_the_same() -> None:
    """A limit changes nothing for plugins that keep it."""
    free, limited = load_registry(), load_registry(time_limit_s=60.0)
    assert free.plugins == limited.plugins
    assert list(free.strategies) == list(limited.strategies)


def test_what_the_work_raises_comes_out() -> None:
    """The thread is not where errors end."""

    def work(_pulse: Pulse) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        watched(work, 1.0)


def test_only_what_the_pulse_counts_is_limited() -> None:
    """Work between two things may take its time."""

    def work(pulse: Pulse) -> str:
        pulse.begin()
        pulse.end()
        time.sleep(0.4)
        return "done"

    assert watched(work, 0.2) == "done"


def test_a_busy_loop_is_broken_off() -> None:
    """Its thread ends, so that it takes no more time from others."""
    ended: list[bool] = []

    def work(pulse: Pulse) -> None:
        pulse.begin()
        try:
            while True:
                time.sleep(0)
        finally:
            ended.append(True)

    with pytest.raises(HangError):
        watched(work, 0.2)
    until = time.monotonic() + 10
    while not ended and time.monotonic() < until:
        time.sleep(0.01)
    assert ended == [True]


def test_what_is_left_behind_troubles_nobody() -> None:
    """Not even who traces its calls."""
    assert traced_after(_LEFT_BEHIND) == ["it took more than 0.1 s", "done"]
