"""The loop of the server: connections served, clients that take too long closed, an orderly end."""

from __future__ import annotations

import contextlib
import logging
import signal
import time
from typing import TYPE_CHECKING, Any, Final

import attrs
import waitress
from waitress import wasyncore
from waitress.server import BaseWSGIServer

from gripwright_server.http.server.connection import Connection
from gripwright_server.http.server.pausing import Pausing
from gripwright_server.http.settings import LARGEST_BODY

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import FrameType
    from wsgiref.types import WSGIApplication

_LARGEST_HEADER: Final = 32_768
_MOST_CONNECTIONS: Final = 800
_SPARED: Final = 32
_HIGH: Final = 1 << 30
"""Bytes of an answer at which waitress would hold a worker: more than any answer has."""


@attrs.frozen(kw_only=True)
class Patience:
    """How long the server waits for clients, in seconds.

    Args:
        arrival_s: For a request, from its first byte to its last.
        stall_s: For a reader who takes nothing of what waits for him.
        idle_s: For the next request on a connection that is kept.
        drain_s: For all requests in flight, once the server is told to end.
    """

    arrival_s: float = 30.0
    stall_s: float = 30.0
    idle_s: float = 65.0
    drain_s: float = 30.0


class Server:
    """A server of one application, in one process.

    Args:
        application: The application.
        host: The address to listen on, or a name of it.
        port: The port; 0 lets the system choose.
        threads: Workers.
        patience: How long it waits for clients.

    Raises:
        OSError: The address is taken or not there.

    Example:
        >>> from gripwright_server.http import create_app
        >>> server = Server(create_app(), port=0)
        >>> server.address[0]
        '127.0.0.1'
        >>> server.stop()
        >>> server.run()
    """

    def __init__(
        self,
        application: WSGIApplication,
        *,
        host: str = "127.0.0.1",
        port: int = 8000,
        threads: int = 8,
        patience: Patience | None = None,
    ) -> None:
        self._patience: Final = patience or Patience()
        self._map: Final[dict[int, Any]] = {}
        # That many ask is no fault of a server, and who floods it shall not flood the log.
        for name in ("waitress", "waitress.queue"):
            logging.getLogger(name).setLevel(logging.ERROR)
        try:
            waitress.create_server(
                Pausing(application),
                map=self._map,
                host=host,
                port=port,
                threads=threads,
                ident="gripwright",
                asyncore_use_poll=True,
                connection_limit=_MOST_CONNECTIONS,
                log_socket_errors=False,
                max_request_body_size=LARGEST_BODY + 1,
                max_request_header_size=_LARGEST_HEADER,
                outbuf_high_watermark=_HIGH,
            )
        except (OSError, ValueError) as error:
            # What it opened before it failed stands in the map.
            wasyncore.close_all(self._map, ignore_all=True)
            reason = (isinstance(error, OSError) and error.strerror) or str(error)
            raise OSError(f"cannot listen on {host}, port {port}: {reason}") from error
        self._listeners: Final = [
            one for one in self._map.values() if isinstance(one, BaseWSGIServer)
        ]
        for listener in self._listeners:
            listener.channel_class = Connection
        self._orders = 0

    @property
    def address(self) -> tuple[str, int]:
        """Where it listens: address and port."""
        first = self._listeners[0]
        return str(first.effective_host), int(first.effective_port)

    def stop(self) -> None:
        """Let it end: it takes no new connection, and finishes what is in flight.

        A second call ends it at once. May be called from a signal handler or another thread.
        """
        self._orders += 1
        with contextlib.suppress(OSError):
            self._listeners[0].pull_trigger()

    def run(self) -> None:
        """Serve until told to stop; return when the last request in flight is answered."""
        try:
            while not self._orders:
                self._turn(1.0)
                self._close_overdue()
            self._drain()
        finally:
            self._listeners[0].task_dispatcher.shutdown(timeout=0 if self._orders > 1 else 5)
            wasyncore.close_all(self._map, ignore_all=True)

    @contextlib.contextmanager
    def stopped_by_signals(self) -> Iterator[None]:
        """Let SIGTERM and SIGINT stop it, in the main thread."""

        def handler(number: int, frame: FrameType | None) -> None:
            del number, frame
            self.stop()

        before = {one: signal.signal(one, handler) for one in (signal.SIGTERM, signal.SIGINT)}
        try:
            yield
        finally:
            for one, former in before.items():
                signal.signal(one, former)

    def _turn(self, timeout_s: float) -> None:
        """Read and write what can be read and written."""
        wasyncore.loop(timeout_s, use_poll=True, map=self._map, count=1)

    def _connections(self) -> list[Connection]:
        return [one for one in self._map.values() if isinstance(one, Connection)]

    def _close_overdue(self) -> None:
        now, patience = time.time(), self._patience
        connections = self._connections()
        for one in connections:
            if one.overdue(
                now,
                arrival_s=patience.arrival_s,
                stall_s=patience.stall_s,
                idle_s=patience.idle_s,
            ):
                one.handle_close()
        if len(self._map) >= _MOST_CONNECTIONS:
            # Room for others at the cost of those who have kept us waiting longest.
            idle = [one for one in self._connections() if not one.busy]
            for one in sorted(idle, key=lambda one: one.last_activity)[:_SPARED]:
                one.handle_close()

    def _drain(self) -> None:
        """Finish what is in flight."""
        for listener in self._listeners:
            # The listening socket alone: the pipe that wakes this loop stays.
            wasyncore.dispatcher.close(listener)
            listener.accepting = False
        until = time.time() + self._patience.drain_s
        while self._orders == 1 and time.time() < until:
            waiting = False
            for one in self._connections():
                if one.busy or one.receiving:
                    waiting = True
                else:
                    one.handle_close()
            if not waiting:
                return
            self._turn(0.1)
            self._close_overdue()
