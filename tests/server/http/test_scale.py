"""Many processes: the application under gunicorn, whose workers share nothing."""

import contextlib
import json
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.server.http.live import LiveServer


@contextlib.contextmanager
def _gunicorn(folder: Path) -> Iterator[LiveServer]:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [
        sys.executable,
        "-m",
        "gunicorn",
        "--workers=2",
        f"--bind=127.0.0.1:{port}",
        "gripwright_server.http:create_app(trusted_hosts=['localhost', 'practice.example'])",
    ]
    log = folder / "log"
    with log.open("wb") as stream, subprocess.Popen(command, stderr=stream) as process:
        server = LiveServer(process, port, log)
        try:
            until = time.monotonic() + 60
            while time.monotonic() < until and process.poll() is None:
                with contextlib.suppress(OSError):
                    server.get("/healthz")
                    break
                time.sleep(0.1)
            yield server
        finally:
            process.kill()


@pytest.fixture(scope="module")
def scaled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveServer]:
    """Two workers."""
    with _gunicorn(tmp_path_factory.mktemp("gunicorn")) as server:
        yield server


def test_every_worker_gives_every_page(scaled: LiveServer) -> None:
    """A page is asked of whichever comes; entity tags are the same in all."""
    asked = {"symbol": "Cmaj7", "strategy": "drop-2", "limit": 20}
    address = scaled.post("/v1/voicings", asked)["next"]
    tags = set()
    for _ in range(12):
        with scaled.connection() as one:
            one.sendall(scaled.head("GET", address))
            received = b""
            while part := one.recv(65_536):
                received += part
        head = received.partition(b"\r\n\r\n")[0].lower()
        tags.add(head.partition(b"etag: ")[2].partition(b"\r\n")[0])
    assert len(tags) == 1
    assert tags != {b""}


def test_stream_has_its_end(scaled: LiveServer) -> None:
    """As with one process."""
    asked = json.dumps({"symbol": "Dm7"}).encode()
    head = scaled.head("POST", "/v1/voicings", asked, {"Accept": "application/x-ndjson"})
    status, body = scaled.ask(head + asked)
    assert status == 200
    assert json.loads(body.splitlines()[-1])["end"] is True


@pytest.mark.parametrize(
    ("head", "status"),
    [
        ("Host: evil.example\r\nContent-Length: 2\r\n", 400),
        ("Host: localhost\r\nContent-Length: 1048577\r\n", 413),
        ("Host: localhost\r\nTransfer-Encoding: chunked\r\n", 411),
        ("Host: practice.example\r\nContent-Length: 2\r\n", 422),
    ],
)
def test_what_is_refused_is_refused_here_too(scaled: LiveServer, head: str, status: int) -> None:
    """The application refuses it, whatever the server."""
    line = "POST /v1/voicings HTTP/1.1\r\nContent-Type: application/json\r\nConnection: close\r\n"
    body = "2\r\n{}\r\n0\r\n\r\n" if "chunked" in head else "{}"
    assert scaled.ask(f"{line}{head}\r\n{body}".encode())[0] == status


def test_request_in_flight_is_finished_here_too(tmp_path: Path) -> None:
    """Gunicorn does so by itself."""
    with _gunicorn(tmp_path) as server, server.connection() as one:
        asked = json.dumps({"symbol": "Cmaj9"}).encode()
        headers = {"Accept": "application/x-ndjson"}
        one.sendall(server.head("POST", "/v1/voicings", asked, headers) + asked)
        received = one.recv(100)
        server.process.send_signal(signal.SIGTERM)
        while part := one.recv(65_536):
            received += part
    assert b'{"end":true' in received
