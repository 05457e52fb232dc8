"""The command ``serve``: what it refuses before it serves."""

import importlib.abc
import socket
import sys
from collections.abc import Iterator, Sequence

import pytest

from tests.server.conftest import Run
from tests.server.http.live import served

_EXTRA = ("flask", "waitress", "werkzeug")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--host", "0.0.0.0"), "--trusted-host NAME"),  # noqa: S104 - what is refused
        (("--host", "192.0.2.1"), "--trusted-host NAME"),
        (("--host", "practice.example"), "--trusted-host NAME"),
        (("--trusted-host", "http://a.example"), "no name of a host"),
        (("--trusted-host", "a.example:80"), "no name of a host"),
        (("--trusted-host", "*"), "no name of a host"),
        (("--origin", "*"), "no origin"),
        (("--origin", "app.example"), "no origin"),
        (("--origin", "https://app.example/"), "no origin"),
        (("--origin", "https://user@app.example"), "no origin"),
        (("--static", "/nothing/here"), "does not exist"),
        (("--port", "70000"), "70000"),
        (("--threads", "0"), "1<=x<=64"),
        (("--time-limit", "0"), "0.1<=x<=600"),
    ],
)
def test_wrong_usage_is_refused(run: Run, arguments: tuple[str, ...], says: str) -> None:
    """With exit code 2, and nothing served."""
    result = run("serve", *arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stdout == ""


def test_port_in_use_is_told(run: Run) -> None:
    """Exit code 1, one line."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        result = run("serve", "--port", str(taken.getsockname()[1]))
    assert result.exit_code == 1
    assert result.stderr.startswith("Error: ")
    assert "in use" in result.stderr


class _Missing(importlib.abc.MetaPathFinder):
    """Makes libraries missing that are installed."""

    def find_spec(self, name: str, path: Sequence[str] | None, target: object = None) -> None:
        """Refuse the libraries of the extra."""
        del path, target
        if name.partition(".")[0] in _EXTRA:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)


@pytest.fixture
def _without_extra(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    for name in list(sys.modules):
        if name.partition(".")[0] in _EXTRA or name.startswith("gripwright_server.http"):
            monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(sys, "meta_path", [_Missing(), *sys.meta_path])
    yield
    for name in list(sys.modules):
        if name.startswith("gripwright_server.http"):
            monkeypatch.delitem(sys.modules, name, raising=False)


@pytest.mark.usefixtures("_without_extra")
def test_missing_extra_is_named(run: Run) -> None:
    """What to install, and no traceback."""
    result = run("serve")
    assert result.exit_code == 1
    assert "pip install 'gripwright-server[http]'" in result.stderr
    assert "is not installed" in result.stderr


def test_plugins_can_be_switched_off() -> None:
    """As for every command."""
    with served(before=("--disable", "tunings")) as server:
        status, body = server.ask(server.head("GET", "/v1/instruments"))
    assert status == 422
    assert b"gripwright-tunings" in body
