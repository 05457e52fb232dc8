"""The HTTP surface: what it costs above a bare route, how its streams behave, how it bears load.

Run from the root of the repository::

    python -m tests.benchmarks.bench_http
    python -m tests.benchmarks.bench_http load

The rival of the first is a bare Flask route that returns the same bytes, asked by the same test
client in the same run, in turn with ours, so that what else the machine does bears on both alike.
What is asked again is compared by the least of many times. What was never asked before can be
measured but once, so it is compared by the median, and by that of the processor time of the
thread beside it, which tells the work from what other processes broke into.

The second starts ``gripwright serve`` and puts wrk (Debian, https://github.com/wg/wrk) on it for
60 s with 16 connections, alone and beside 40 clients who send and read as slowly as they can.
Nothing is asserted: the targets stand beside what was measured.
"""

import contextlib
import gc
import json
import re
import shutil
import statistics
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable, Iterator
from urllib.parse import quote

import attrs
from flask import Flask, Response

from gripwright.theory import QUALITIES
from gripwright_server.http import create_app
from tests.server.http.client import Client, client_of
from tests.server.http.live import LiveServer, served

SPELL = "/v1/spell?symbol=C%237"
SEARCH = {"symbol": "Cmaj7", "limit": 100}
WIDE = {"symbol": "Cmaj9", "reach_mm": 121.0}
NDJSON = {"Accept": "application/x-ndjson"}
MEGABYTE = 1_000_000
SLOW_CLIENTS = 40
SECONDS = 60


@attrs.frozen
class Times:
    """The times of some runs of a work, in seconds: by the clock on the wall, and of the thread."""

    wall: list[float] = attrs.field(factory=list)
    processor: list[float] = attrs.field(factory=list)

    def take(self, work: Callable[[], object]) -> None:
        """Do the work once more."""
        wall, processor = time.perf_counter(), time.thread_time()
        work()
        self.processor.append(time.thread_time() - processor)
        self.wall.append(time.perf_counter() - wall)


def in_turn(
    route: Callable[[str], object], client: Client, addresses: list[str]
) -> tuple[Times, Times]:
    """Return the times of the bare route and of ours, asked in turn by the same queries."""
    plain, own = Times(), Times()
    for address in addresses:
        query = address.partition("?")[2]
        plain.take(lambda query=query: route(query))  # type: ignore[misc]
        own.take(lambda address=address: client.get(address).data)  # type: ignore[misc]
    return plain, own


def row(what: str, measured: str, target: str = "") -> None:
    """Print a line of the table."""
    print(f"{what:<62}{measured:>16}  {target}")


def bare(body: bytes) -> Callable[[str], object]:
    """A request, with some query, for a route that returns bytes and does nothing else."""
    app = Flask("bare")
    app.add_url_rule("/bare", "bare", lambda: Response(body, content_type="application/json"))
    client = client_of(app)
    return lambda query: client.get(f"/bare?{query}").data


def ratios() -> None:
    """Measure the cost above a bare route."""
    client = client_of(create_app())
    compared("spell", client, SPELL, fresh_spellings()[:600], "< 2")
    first = client.post("/v1/voicings", json=SEARCH)
    page = first.headers["Content-Location"]
    name = f"page of 100, {len(first.data):,} bytes"
    compared(name, client, page, page_addresses(first.json["next"]), "< 5")


def compared(name: str, client: Client, known: str, fresh: list[str], target: str) -> None:
    """Measure what is asked many times, and requests each of which is the first of its kind.

    The bare route gets the same queries: to ask by a new one takes the client itself longer.
    """
    route = bare(client.get(known).data)
    plain, own = in_turn(route, client, [known] * 2000)
    row(f"{name}: bare route", f"{min(plain.wall) * 1e6:.0f} us")
    row("  ours / bare, asked again", f"{min(own.wall) / min(plain.wall):.2f} times", target)
    plain, own = in_turn(route, client, fresh)
    median = statistics.median(own.wall) / statistics.median(plain.wall)
    row("  ours / bare, never asked before", f"{median:.2f} times", target)
    median = statistics.median(own.processor) / statistics.median(plain.processor)
    row("    by processor time", f"{median:.2f} times")
    # With what is worked out for many rows at once, which falls to a few of the requests.
    mean = statistics.fmean(own.processor) / statistics.fmean(plain.processor)
    row("    by processor time, all requests together", f"{mean:.2f} times")


def fresh_spellings() -> list[str]:
    """Addresses that each spell another symbol."""
    roots = [f"{letter}{sign}" for letter in "CDEFGAB" for sign in ("", "#", "b")]
    symbols = [f"{root}{quality}" for quality in QUALITIES for root in roots]
    return [f"/v1/spell?symbol={quote(symbol, safe='')}" for symbol in symbols if symbol != "C#7"]


def page_addresses(address: str | None) -> list[str]:
    """The addresses of all pages from one on, as another process tells them."""
    client = client_of(create_app())
    found = []
    while address is not None:
        found.append(address)
        address = client.get(address).json["next"]
    return found


def streams() -> None:
    """Measure the first byte and the memory of a stream."""
    client = client_of(create_app())
    count = client.post("/v1/voicings", json={**WIDE, "limit": 1}).json["count"]
    gc.collect()
    tracemalloc.start()
    held = tracemalloc.get_traced_memory()[0]
    response = client.post("/v1/voicings", json=WIDE, headers=NDJSON, buffered=False)
    for _ in response.response:
        pass
    peak = tracemalloc.get_traced_memory()[1] - held
    tracemalloc.stop()
    row(f"stream of {count:,} rows: held above the table", f"{peak / MEGABYTE:.1f} MB", "< 30")
    with served() as server:
        server.post("/v1/voicings", {**WIDE, "limit": 1})
        first, total = first_byte(server)
    row("  first byte", f"{first * 1000:.0f} ms")
    row("  first byte / whole", f"{first / total:.3f}", "< 0.1")


def first_byte(server: LiveServer) -> tuple[float, float]:
    """Return the seconds to the first byte of a stream and to its last."""
    body = json.dumps(WIDE).encode()
    start = time.perf_counter()
    with server.connection() as connection:
        connection.sendall(server.head("POST", "/v1/voicings", body, NDJSON) + body)
        connection.recv(1)
        first = time.perf_counter() - start
        while connection.recv(1 << 20):
            pass
    return first, time.perf_counter() - start


def load() -> None:
    """Measure under wrk, alone and beside slow clients."""
    wrk = shutil.which("wrk")
    if wrk is None:
        raise SystemExit("wrk is not installed: apt-get install wrk")
    with served() as server:
        page = server.post("/v1/voicings", SEARCH)["next"]
        for name, path in (("spell", SPELL), ("page of 100", page)):
            alone = under_wrk(wrk, server, path)
            with slow_clients(server):
                beside = under_wrk(wrk, server, path)
            row(f"{name}: requests a second, 16 connections", f"{alone.rate:.0f}")
            row("  errors", f"{alone.errors}", "0")
            row("  median", f"{alone.median_ms:.2f} ms")
            row(f"  errors beside {SLOW_CLIENTS} slow clients", f"{beside.errors}", "0")
            row("  median beside them / alone", f"{beside.median_ms / alone.median_ms:.2f}", "< 2")


class Measured:
    """What wrk reports.

    Args:
        text: Its output.
    """

    def __init__(self, text: str) -> None:
        self.rate = float(re.search(r"Requests/sec:\s+([\d.]+)", text)[1])  # type: ignore[index]
        value, unit = re.search(r"50%\s+([\d.]+)(us|ms|s)", text).groups()  # type: ignore[union-attr]
        self.median_ms = float(value) * {"us": 0.001, "ms": 1.0, "s": 1000.0}[unit]
        sockets = re.search(r"Socket errors: .*", text)
        statuses = re.search(r"Non-2xx or 3xx responses: \d+", text)
        found = [match[0] for match in (sockets, statuses) if match]
        self.errors = "; ".join(found) or "0"


def under_wrk(wrk: str, server: LiveServer, path: str) -> Measured:
    """Put wrk on a path."""
    command = [wrk, "-t1", "-c16", f"-d{SECONDS}s", "--latency", f"{server.url}{path}"]
    run = subprocess.run(command, check=True, capture_output=True, text=True)
    return Measured(run.stdout)


@contextlib.contextmanager
def slow_clients(server: LiveServer) -> Iterator[None]:
    """Keep slow clients on the server: some send a header, some a body, some read nothing.

    Those whom the server has closed come again, as such clients do.
    """
    code = _SLOW.format(port=server.port, clients=SLOW_CLIENTS)
    process = subprocess.Popen([sys.executable, "-c", code])
    time.sleep(2)
    try:
        yield
    finally:
        process.kill()
        process.wait()


_SLOW = """
import json, socket, time
HEAD = b"POST /v1/voicings HTTP/1.1\\r\\nHost: localhost\\r\\nContent-Type: application/json\\r\\n"
ASK = json.dumps({{"symbol": "Cmaj9"}}).encode()

def opened(kind):
    one = socket.create_connection(("127.0.0.1", {port}))
    if kind == 1:
        one.sendall(HEAD + b"Content-Length: 900000\\r\\n\\r\\n")
    if kind == 2:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        one.sendall(HEAD + b"Accept: application/x-ndjson\\r\\n")
        one.sendall(b"Content-Length: %d\\r\\n\\r\\n" % len(ASK) + ASK)
    return one

clients = [(number % 3, opened(number % 3)) for number in range({clients})]
sent = HEAD
while True:
    for place, (kind, one) in enumerate(clients):
        try:
            if kind == 0:
                one.sendall(b"X")
            if kind == 1:
                one.sendall(b" ")
            if kind == 2 and not one.recv(1):
                raise OSError
        except OSError:
            clients[place] = (kind, opened(kind))
    time.sleep(0.5)
"""


if __name__ == "__main__":
    if sys.argv[1:] == ["load"]:
        load()
    else:
        ratios()
        streams()
