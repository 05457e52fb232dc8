"""The running server: slow clients, an orderly end, and what it refuses before any application."""

import contextlib
import json
import re
import signal
import socket
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from http.client import HTTPConnection, HTTPResponse
from typing import TYPE_CHECKING

import pytest

from gripwright_server.http.server.connection import FULL
from gripwright_server.http.server.server import Patience, Server
from tests.server.http.live import LiveServer, served

if TYPE_CHECKING:
    from wsgiref.types import WSGIApplication

SPELL = "/v1/spell?symbol=C%237"
NDJSON = {"Accept": "application/x-ndjson"}
WORK = {"chart": "| Dm7 G7 | Cmaj7 A7 " * 12 + "|", "candidates": 600, "choruses": 3}
"""A request that takes about a second."""
STREAM = json.dumps({"symbol": "Cmaj9"}).encode()


def test_answer_comes_whole(live: LiveServer) -> None:
    """With its length."""
    status, body = live.ask(live.head("GET", SPELL))
    assert status == 200
    assert json.loads(body)["chords"][0]["symbol"] == "C#7"


def test_stream_comes_whole(live: LiveServer) -> None:
    """In chunks (RFC 9112, section 7.1), with the record of its end."""
    status, body = live.ask(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
    lines = body.splitlines()
    assert status == 200
    assert json.loads(lines[-1]) == {"end": True, "count": len(lines) - 1}
    assert len(lines) > 10_000


def test_connection_is_kept(live: LiveServer) -> None:
    """Several requests on one, a refused one among them."""
    connection = HTTPConnection("127.0.0.1", live.port, timeout=30)
    connection.connect()
    one = connection.sock
    for path, status in ((SPELL, 200), ("/v1/spell?symbol=Q", 422), (SPELL, 200)):
        connection.request("GET", path, headers={"Host": "localhost"})
        response = connection.getresponse()
        response.read()
        assert response.status == status
    assert connection.sock is one
    connection.close()


@pytest.mark.parametrize(
    ("head", "status"),
    [
        (b"Content-Length: 1048577\r\n", 413),
        (b"Content-Length: 99999999999999\r\n", 413),
        (b"Transfer-Encoding: chunked\r\n", 411),
        (b"Transfer-Encoding: gzip, chunked\r\n", 501),
        (b"Content-Length: 2\r\nTransfer-Encoding: chunked\r\n", 411),
        (b"Content-Length: -1\r\n", 400),
        (b"Content-Length: 2\r\nContent-Length: 3\r\n", 400),
        (b"X: " + b"x" * 40_000 + b"\r\n", 431),
        (b"no header\r\n", 400),
        (b"Host: evil.example\r\n", 400),
        (b"Expect: 100-continue\r\nContent-Length: 1048577\r\n", 413),
        (b"Expect: 100-continue\r\nTransfer-Encoding: chunked\r\n", 411),
    ],
)
def test_refused_by_the_header(live: LiveServer, head: bytes, status: int) -> None:
    """Before a body is read, and as a problem."""
    start = b"POST /v1/voicings HTTP/1.1\r\nContent-Type: application/json\r\n"
    host = b"" if b"Host" in head else b"Host: localhost\r\n"
    found, body = live.ask(start + host + head + b"Connection: close\r\n\r\n")
    assert found == status
    assert json.loads(body)["status"] == status


def test_host_of_the_target_counts(live: LiveServer) -> None:
    """RFC 9112, section 3.2.2: where the target names a host, the header is ignored."""
    for target, header, status in (("localhost", "evil", 200), ("evil", "localhost", 400)):
        head = f"GET http://{target}/healthz HTTP/1.1\r\nHost: {header}\r\n"
        assert live.ask(f"{head}Connection: close\r\n\r\n".encode())[0] == status


def test_body_that_is_awaited_is_asked_for(live: LiveServer) -> None:
    """RFC 9110, section 10.1.1: a client that waits is told to go on."""
    with live.connection() as one:
        head = live.head("POST", "/v1/voicings", STREAM, {"Expect": "100-continue"})
        one.sendall(head)
        assert one.recv(100).startswith(b"HTTP/1.1 100 Continue")
        one.sendall(STREAM)
        assert one.recv(100).startswith(b"HTTP/1.1 200 OK")


@pytest.mark.parametrize("line", [b"GET", b"\x00\x01", b"GET / HTTP/9.9", b"get / HTTP/1.1", b" "])
def test_nonsense_is_refused(live: LiveServer, line: bytes) -> None:
    """The server stays up, whatever comes."""
    with live.connection() as one, contextlib.suppress(OSError):
        one.sendall(line + b"\r\n\r\n")
        one.shutdown(socket.SHUT_WR)
        assert b"200" not in one.recv(64)
    assert live.get(SPELL)["count"] == 1


def test_large_body_is_refused_while_it_is_sent(live: LiveServer) -> None:
    """The client can read the answer, though it sends on: the connection is not reset."""
    with live.connection() as one:
        size = 6_000_000
        one.sendall(
            live.head("POST", "/v1/voicings", b"", {"Content-Length": str(size)}) + b" " * size
        )
        response = HTTPResponse(one)
        response.begin()
        assert response.status == 413
        assert json.loads(response.read())["type"] == "/v1/docs#problem-too-large"


def test_chunked_body_is_refused_before_it_comes(live: LiveServer) -> None:
    """Nothing of it is taken for a request, the next one included."""
    smuggled = b"0\r\n\r\nGET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n"
    head = live.head("POST", "/v1/voicings", b"", {"Transfer-Encoding": "chunked"})
    with live.connection() as one:
        one.sendall(head + smuggled)
        received = b""
        while part := one.recv(65_536):
            received += part
    assert received.startswith(b"HTTP/1.1 411")
    assert received.count(b"HTTP/1.1") == 1


@contextlib.contextmanager
def _slow_clients(live: LiveServer, count: int) -> Iterator[list[socket.socket]]:
    """Clients that send a header, or a body, and no more; and some that read nothing."""
    clients = []
    for number in range(count):
        one = live.connection(receives=4096)
        clients.append(one)
        if number % 3 == 0:
            one.sendall(b"POST /v1/voicings HTTP/1.1\r\nHost: localhost\r\nX-Sl")
        elif number % 3 == 1:
            one.sendall(live.head("POST", "/v1/voicings", b" " * 900_000) + b" " * 10)
        else:
            one.sendall(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
    try:
        yield clients
    finally:
        for one in clients:
            one.close()


def test_slow_clients_do_not_starve_others(live: LiveServer) -> None:
    """Forty of them, five for each worker: others are answered as before, streams too."""
    live.get(SPELL)
    with _slow_clients(live, 40):
        time.sleep(1.5)
        times = []
        for _ in range(20):
            start = time.monotonic()
            assert live.get(SPELL)["count"] == 1
            times.append(time.monotonic() - start)
        assert statistics.median(times) < 1
        status, body = live.ask(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
        assert status == 200
        assert json.loads(body.splitlines()[-1])["end"] is True
    assert live.get(SPELL)["count"] == 1


def test_slow_reader_gets_all_in_the_end(live: LiveServer) -> None:
    """A stream that was laid aside goes on where it was, and nothing is lost or doubled."""
    fast = live.ask(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)[1]
    with live.connection(receives=8192) as one:
        one.sendall(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
        time.sleep(1)
        response = HTTPResponse(one)
        response.begin()
        slow = b""
        while part := response.read(400_000):
            slow += part
            time.sleep(0.02)
    assert len(fast) > 4 * FULL
    assert slow == fast


def test_reader_who_goes_away_leaves_the_server_sound(live: LiveServer) -> None:
    """In the midst of a stream; the log says that it broke off."""
    for _ in range(12):
        with live.connection(receives=4096) as one:
            one.sendall(live.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
            one.recv(1000)
    assert live.get(SPELL)["count"] == 1
    until = time.monotonic() + 10
    while "broken off" not in live.log.read_text() and time.monotonic() < until:
        time.sleep(0.1)
    assert "broken off" in live.log.read_text()
    assert "Traceback" not in live.log.read_text()


def test_log_is_one_line_a_request(live: LiveServer) -> None:
    """On stderr; what a client sends can forge none."""
    live.ask(live.head("GET", "/v1/spell?symbol=%0aforged\x1b[2J"))
    until = time.monotonic() + 5
    while "forged" not in live.log.read_text() and time.monotonic() < until:
        time.sleep(0.05)
    lines = [line for line in live.log.read_text().splitlines() if "forged" in line]
    assert len(lines) == 1
    assert re.fullmatch(
        r"127\.0\.0\.1 - - \[\d\d/\w{3}/\d{4}:\d\d:\d\d:\d\d \+0000\]"
        r' "GET /v1/spell\?symbol=%0aforged\\x1b\[2J HTTP/1\.1" 422 \d+ \d+ ms',
        lines[0],
    )


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_idle_server_ends_at_once(number: int) -> None:
    """Also with a connection that is kept; and nothing but a word is said."""
    with served() as server:
        kept = HTTPConnection("127.0.0.1", server.port, timeout=30)
        kept.request("GET", SPELL, headers={"Host": "localhost"})
        kept.getresponse().read()
        start = time.monotonic()
        code, said = server.end(number)
        kept.close()
    assert code == 0
    assert time.monotonic() - start < 10
    assert said.splitlines()[-1] == "Ended"
    assert "Traceback" not in said


def test_request_in_flight_is_finished() -> None:
    """SIGTERM while it is worked on: it is answered, and no new one is taken."""
    with served() as server:
        answers: list[tuple[int, bytes]] = []
        body = json.dumps(WORK).encode()
        head = server.head("POST", "/v1/lead", body)
        worker = threading.Thread(target=lambda: answers.append(server.ask(head + body)))
        worker.start()
        time.sleep(0.25)
        assert not answers
        server.process.send_signal(signal.SIGTERM)
        time.sleep(0.1)
        with pytest.raises(OSError, match=r"refused|reset"):
            server.get(SPELL)
        worker.join(60)
        code = server.process.wait(timeout=60)
    assert code == 0
    status, answer = answers[0]
    assert status == 200
    assert json.loads(answer)["steps"]


def test_stream_in_flight_is_finished() -> None:
    """To its last record, though it was laid aside for a slow reader."""
    with served() as server, server.connection(receives=8192) as one:
        one.sendall(server.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
        response = HTTPResponse(one)
        response.begin()
        first = response.read(1000)
        server.process.send_signal(signal.SIGTERM)
        time.sleep(0.3)
        lines = (first + response.read()).splitlines()
        assert server.process.wait(timeout=60) == 0
    assert json.loads(lines[-1]) == {"end": True, "count": len(lines) - 1}


def test_second_signal_ends_it_at_once() -> None:
    """For who cannot wait."""
    with served() as server, server.connection(receives=4096) as one:
        one.sendall(server.head("POST", "/v1/voicings", STREAM, NDJSON) + STREAM)
        one.recv(10)
        server.process.send_signal(signal.SIGTERM)
        time.sleep(0.5)
        assert server.process.poll() is None
        start = time.monotonic()
        code, said = server.end(signal.SIGTERM)
    assert code == 0
    assert time.monotonic() - start < 10
    assert "Traceback" not in said


def _ok(environ: object, start_response: object) -> list[bytes]:
    del environ
    start_response("200 OK", [("Content-Length", "2")])  # type: ignore[operator]
    return [b"ok"]


@contextlib.contextmanager
def _running(patience: Patience, application: "WSGIApplication") -> Iterator[LiveServer]:
    """A server in this process."""
    server = Server(application, port=0, threads=2, patience=patience)
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        yield LiveServer(None, server.address[1], None)  # type: ignore[arg-type]
    finally:
        server.stop()
        thread.join(30)
    assert not thread.is_alive()


@pytest.mark.parametrize(
    "sent", [b"", b"GET / HTTP/1.1\r\n", b"POST / HTTP/1.1\r\nContent-Length: 9\r\n\r\n1234"]
)
def test_client_that_takes_too_long_is_closed(sent: bytes) -> None:
    """Whether nothing comes, half a header or half a body; also where it trickles."""
    with _running(Patience(arrival_s=1, stall_s=1, idle_s=1), _ok) as server:
        with server.connection() as one:
            one.settimeout(10)
            one.sendall(sent)
            start = time.monotonic()
            while time.monotonic() - start < 8:
                one.settimeout(0.3)
                with contextlib.suppress(TimeoutError):
                    assert one.recv(10) == b""
                    break
                if sent:
                    with contextlib.suppress(OSError):
                        one.sendall(b"x" if b"Length" not in sent else b"")
            assert 0.9 < time.monotonic() - start < 6
        assert server.ask(b"GET / HTTP/1.0\r\n\r\n") == (200, b"ok")


def test_answers_that_are_not_read_are_not_made() -> None:
    """Who asks and asks on one connection, and reads nothing, fills no memory."""
    made = 0

    def application(environ: object, start_response: object) -> list[bytes]:
        nonlocal made
        del environ
        made += 1
        start_response("200 OK", [("Content-Length", str(FULL))])  # type: ignore[operator]
        return [b"x" * FULL]

    asked = 60
    with _running(Patience(), application) as server, server.connection(receives=4096) as one:
        ask = b"GET / HTTP/1.1\r\nHost: localhost\r\n"
        one.sendall((ask + b"\r\n") * (asked - 1) + ask + b"Connection: close\r\n\r\n")
        time.sleep(1)
        # What the system takes for the reader, and a little more.
        assert made < asked // 2
        received = 0
        while part := one.recv(1 << 20):
            received += part.count(b"x")
    assert made == asked
    assert received == asked * FULL


def test_many_idle_connections_make_room() -> None:
    """Far more than are kept: who comes next is served soon, and the log is not flooded."""
    with served() as server, contextlib.ExitStack() as stack:
        for _ in range(950):
            stack.enter_context(server.connection())
        start = time.monotonic()
        assert server.get(SPELL)["count"] == 1
        assert time.monotonic() - start < 10
        assert "limit" not in server.log.read_text()


def test_port_that_is_taken_is_told() -> None:
    """Which one, in words."""
    with served() as server:
        command = [sys.executable, "-m", "gripwright_server", "serve", "--port", str(server.port)]
        second = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert second.returncode == 1
    assert second.stderr == (
        f"Error: cannot listen on 127.0.0.1, port {server.port}: Address already in use\n"
    )
