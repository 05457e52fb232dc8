"""The word that is said where an answer takes its time."""

import io
import sys
import time

import pytest

from gripwright_server.cli.waiting import told_to_wait


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_terminal_is_told_and_wiped(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was said is gone when the answer comes."""
    stream = _Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    with told_to_wait(0.01):
        while "Working" not in stream.getvalue():
            time.sleep(0.01)
    assert stream.getvalue().endswith("\r")
    last = stream.getvalue().split("\r")[-2]
    assert last.isspace()
    assert len(last) >= max(map(len, stream.getvalue().split("\r")))


@pytest.mark.parametrize("stream", [io.StringIO(), _Terminal()])
def test_nothing_is_said_to_a_file_or_of_a_quick_answer(
    monkeypatch: pytest.MonkeyPatch, stream: io.StringIO
) -> None:
    """Logs stay clean, and nothing flickers."""
    monkeypatch.setattr(sys, "stderr", stream)
    with told_to_wait(0.05 if not stream.isatty() else 60.0):
        time.sleep(0.12 if not stream.isatty() else 0.0)
    assert stream.getvalue() == ""


def test_error_ends_the_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    """The thread ends with the work, whatever way that ends."""
    monkeypatch.setattr(sys, "stderr", _Terminal())
    with pytest.raises(ZeroDivisionError), told_to_wait(0.01):
        raise ZeroDivisionError
