"""The terminal: what changes when there is one."""

import os
import pty
import re
import subprocess
import sys

import pytest

_ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


def _on_terminal(*arguments: str, **environment: str) -> str:
    """Run the command line on a terminal of its own and return what that shows."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "gripwright_server", *arguments],
        stdout=theirs,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "80", "NO_COLOR": "", **environment},
    )
    os.close(theirs)
    shown = b""
    while True:
        try:
            piece = os.read(ours, 4096)
        except OSError:
            # Linux says EIO when the other side is closed.
            break
        if not piece:
            break
        shown += piece
    os.close(ours)
    assert process.wait(timeout=60) == 0
    return shown.decode("utf-8")


def test_terminal_gets_a_table_with_emphasis() -> None:
    """Someone who looks gets diagrams; bold and faint text help the eye."""
    shown = _on_terminal("voicings", "Cmaj7", "--limit", "2")
    assert "●" in shown
    assert _ESCAPE.search(shown)


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_emphasis_can_be_switched_off_and_tells_nothing(environment: dict[str, str]) -> None:
    """Without it the text is the same."""
    plain = _on_terminal("voicings", "Cmaj7", "--limit", "2", **environment)
    assert "\x1b" not in plain
    assert plain == _ESCAPE.sub("", _on_terminal("voicings", "Cmaj7", "--limit", "2"))


def test_width_of_the_terminal_is_used() -> None:
    """A wider terminal has more diagrams side by side."""
    lines = {
        width: len(_on_terminal("voicings", "C", "--limit", "8", COLUMNS=width).splitlines())
        for width in ("40", "160")
    }
    assert lines["160"] < lines["40"]
