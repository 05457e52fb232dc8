"""A server in a process of its own, and bare sockets to it, as clients of every manner are."""

import contextlib
import json
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from http.client import HTTPResponse
from pathlib import Path
from typing import Any

import attrs

OK = 200
_READY = re.compile(r"listens on http://127\.0\.0\.1:(\d+)")


@attrs.define
class LiveServer:
    """A running server.

    Args:
        process: Its process.
        port: Its port.
        log: Where its stderr goes.
    """

    process: "subprocess.Popen[bytes]"
    port: int
    log: Path

    @property
    def url(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def connection(self, *, receives: int | None = None) -> socket.socket:
        """A socket to it.

        Args:
            receives: Size of the buffer of what comes in, in bytes.
        """
        one = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if receives is not None:
            one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receives)
        one.settimeout(30)
        try:
            one.connect(("127.0.0.1", self.port))
        except OSError:
            one.close()
            raise
        return one

    def head(
        self, method: str, path: str, body: bytes = b"", headers: Mapping[str, str] | None = None
    ) -> bytes:
        """The header of a request for a JSON body, which closes the connection."""
        lines = [f"{method} {path} HTTP/1.1", "Host: localhost", "Connection: close"]
        if body:
            lines += [f"Content-Length: {len(body)}", "Content-Type: application/json"]
        lines += [f"{name}: {value}" for name, value in (headers or {}).items()]
        return ("\r\n".join(lines) + "\r\n\r\n").encode()

    def ask(self, data: bytes) -> tuple[int, bytes]:
        """Send bytes, read to the end; return the status and the body."""
        with self.connection() as one:
            one.sendall(data)
            response = HTTPResponse(one)
            response.begin()
            return response.status, response.read()

    def get(self, path: str) -> dict[str, Any]:
        """The JSON of a path."""
        status, body = self.ask(self.head("GET", path))
        assert status == OK, body
        found: dict[str, Any] = json.loads(body)
        return found

    def post(self, path: str, value: object) -> dict[str, Any]:
        """The JSON that answers a request in JSON."""
        asked = json.dumps(value).encode()
        status, body = self.ask(self.head("POST", path, asked) + asked)
        assert status == OK, body
        found: dict[str, Any] = json.loads(body)
        return found

    def end(self, number: int = signal.SIGTERM) -> tuple[int, str]:
        """Send a signal and wait; return the exit code and what stood on stderr."""
        self.process.send_signal(number)
        code = self.process.wait(timeout=60)
        return code, self.log.read_text()


@contextlib.contextmanager
def served(*arguments: str, before: tuple[str, ...] = ()) -> Iterator[LiveServer]:
    """Run ``gripwright serve`` on a free port.

    Args:
        arguments: Further arguments of the command.
        before: Arguments that stand before its name.
    """
    program = [sys.executable, "-m", "gripwright_server", *before]
    command = [*program, "serve", "--port", "0", *arguments]
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "stderr"
        with log.open("wb") as stream, subprocess.Popen(command, stderr=stream) as process:
            try:
                yield LiveServer(process, _port(process, log), log)
            finally:
                process.kill()


def _port(process: "subprocess.Popen[bytes]", log: Path) -> int:
    """The port that the server says it has."""
    until = time.monotonic() + 30
    while time.monotonic() < until and process.poll() is None:
        ready = _READY.search(log.read_text())
        if ready is not None:
            return int(ready[1])
        time.sleep(0.02)
    raise AssertionError(log.read_text())
