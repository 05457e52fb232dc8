"""One connection: requests of known length in, answers out at the pace of the reader."""

from __future__ import annotations

import socket
import time
from typing import TYPE_CHECKING, Any, Final

from waitress.channel import ClientDisconnected, HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.task import ErrorTask, WSGITask
from waitress.utilities import BadRequest, Error

from gripwright_server.http import kinds
from gripwright_server.http.problem import MEDIA_TYPE
from gripwright_server.http.server.access import log_line, write_log
from gripwright_server.http.server.pausing import REST

if TYPE_CHECKING:
    from collections.abc import Iterator

FULL: Final = 262_144
"""Bytes waiting for a reader above which a stream is laid aside."""

ROOM: Final = 65_536
"""Bytes waiting below which it goes on."""

SLICE_S: Final = 0.2
"""Seconds that a stream may keep a worker while others wait."""

LINGER_S: Final = 2.0
"""Seconds in which a client that was refused can read the answer while it still sends."""

_OF_CODE: Final = {
    400: kinds.BAD_REQUEST,
    411: kinds.LENGTH_REQUIRED,
    413: kinds.TOO_LARGE,
    431: kinds.HEADER,
    501: kinds.UNSUPPORTED,
}


class PausedError(BaseException):
    """A stream was laid aside: the worker is free, and the request is not at its end."""


class _LengthRequired(BadRequest):  # type: ignore[misc]
    code = 411
    reason = "Length Required"


class Parser(HTTPRequestParser):  # type: ignore[misc]
    """Reads one request; a chunked body is refused before it is read.

    Nobody is told to go on with a body that is refused (RFC 9110, section 10.1.1), and a target
    that names a host goes before the header Host (RFC 9112, section 3.2.2).
    """

    error: Error | None
    proxy_netloc = ""

    def received(self, data: bytes) -> int:
        """Take some bytes; return how many belonged to this request."""
        taken: int = super().received(data)
        if self.chunked and not self.error:
            self.error = _LengthRequired("a chunked body is not read here")
            self.completed = True
        if self.error:
            self.expect_continue = False
        elif self.completed and self.proxy_netloc:
            self.headers["HOST"] = self.proxy_netloc
        return taken


class Task(WSGITask):  # type: ignore[misc]
    """One request being answered; a stream in slices of time."""

    def __init__(self, channel: Connection, request: Parser) -> None:
        super().__init__(channel, request)
        self._rest: Any = None
        self._chunks: Iterator[bytes] | None = None
        self._sent = 0

    def service(self) -> None:
        """Answer, or go on answering.

        Raises:
            PausedError: A stream was laid aside.
        """
        try:
            if self._chunks is None:
                self.start()
                self.execute()
                self._rest = self.environ.pop(REST, ())
                self._chunks = iter(self._rest)
            self._write_chunks(self._chunks)
            self.finish()
        except PausedError:
            raise
        except OSError:
            self.close_on_finish = True
            self.end(broken=True)
        except BaseException as error:
            self.end(broken=isinstance(error, ClientDisconnected))
            raise
        else:
            self.end()

    def end(self, *, broken: bool = False) -> None:
        """Close the stream, if there is one, and log the request."""
        rest, self._rest = self._rest, None
        close = getattr(rest, "close", None)
        if close is not None:
            close()
        _log(self, self._sent, broken=broken)

    def write(self, data: bytes) -> None:
        """Write a part of the body, the header before the first."""
        self._sent += len(data)
        super().write(data)

    def _write_chunks(self, chunks: Iterator[bytes]) -> None:
        until = time.monotonic() + SLICE_S
        for chunk in chunks:
            if chunk:
                self.write(chunk)
            if self.channel.total_outbufs_len > FULL or time.monotonic() > until:
                self.channel.lay_aside(self)


class ProblemTask(ErrorTask):  # type: ignore[misc]
    """A request that the server itself refuses, answered by a problem."""

    def execute(self) -> None:
        """Answer."""
        error = self.request.error
        kind = _OF_CODE.get(error.code, kinds.INTERNAL)
        body = kind.problem().body()
        self.status = f"{kind.status} {error.reason}"
        self.response_headers += [
            ("Content-Type", MEDIA_TYPE),
            ("Cache-Control", "no-store"),
            ("X-Content-Type-Options", "nosniff"),
        ]
        self.channel.lingers = True
        self.set_close_on_finish()
        self.content_length = len(body)
        self.write(body)
        _log(self, len(body))


class Connection(HTTPChannel):  # type: ignore[misc]
    """One connection.

    The main thread reads and writes it; a worker answers one request of it at a time.
    """

    parser_class = Parser
    error_task_class = ProblemTask

    lingers = False
    began = 0.0
    _aside: Task | None = None
    _wants_room = False
    _closes_at = 0.0

    # Called by workers.

    def task_class(self, channel: Connection, request: Parser) -> Task:
        """The task of a request: the one that was laid aside, or a new one."""
        with self.outbuf_lock:
            task, self._aside = self._aside, None
        if task is None:
            return Task(channel, request)
        if not self.connected:
            task.end(broken=True)
        return task

    def service(self) -> None:
        """Answer one request, or a slice of one, where there is room for more."""
        if self._waits_for_room():
            return
        try:
            super().service()
        except PausedError:
            self.server.pull_trigger()

    def lay_aside(self, task: Task) -> None:
        """Leave a task until there is room, or until others had their turn.

        Raises:
            PausedError: The worker is to be set free. The task may already run in another.
            ClientDisconnected: There is nobody to wait for.
        """
        with self.outbuf_lock:
            if not self.connected:
                raise ClientDisconnected
            self._wants_room = self.total_outbufs_len > FULL
            waits = self._wants_room
            self._aside = task
        if not waits:
            self.server.add_task(self)
        raise PausedError

    def _waits_for_room(self) -> bool:
        """Whether a request must wait until the answers before it are read.

        Who asks and asks and reads nothing would else fill the memory with answers.
        """
        with self.outbuf_lock:
            waits = self.connected and self._aside is None and self.total_outbufs_len > FULL
            if waits:
                self._wants_room = True
        if waits:
            self.server.pull_trigger()
        return bool(waits)

    # Called by the main thread.

    @property
    def receiving(self) -> bool:
        """Whether a request has begun to come and is not complete."""
        return self.request is not None

    @property
    def busy(self) -> bool:
        """Whether an answer is owed or not yet sent."""
        return bool(self.requests or self.total_outbufs_len)

    def received(self, data: bytes) -> bool:
        """Take some bytes of a request."""
        if self.request is None:
            self.began = time.time()
        return bool(super().received(data))

    def readable(self) -> bool:
        """Whether bytes are wanted."""
        return bool(self._closes_at or super().readable())

    def handle_read(self) -> None:
        """Read; what a refused client still sends is thrown away."""
        if not self._closes_at:
            super().handle_read()
        elif not self.recv(self.adj.recv_bytes):
            self.handle_close()

    def handle_write(self) -> None:
        """Write what waits, and let a stream go on where there is room for more."""
        if self.lingers and self.close_when_flushed:
            self._flush_exception(self._flush_some)
            if not self.total_outbufs_len and not self.will_close:
                self._linger()
            return
        super().handle_write()
        with self.outbuf_lock:
            goes_on = self._wants_room and self.total_outbufs_len <= ROOM and self.connected
            if goes_on:
                self._wants_room = False
        if goes_on:
            self.server.add_task(self)

    def handle_close(self) -> None:
        """Close, and give up what was laid aside."""
        super().handle_close()
        with self.outbuf_lock:
            task = self._aside if self._wants_room else None
            if task is not None:
                self._aside = None
                self._wants_room = False
        if task is not None:
            task.end(broken=True)

    def overdue(self, now: float, *, arrival_s: float, stall_s: float, idle_s: float) -> bool:
        """Whether the client has taken too long.

        Args:
            now: Seconds since the epoch.
            arrival_s: How long a request may take to come, from its first byte to its last.
            stall_s: How long a reader may take nothing of what waits for it.
            idle_s: How long a connection may be kept without a request.
        """
        if self._closes_at:
            return bool(now > self._closes_at)
        if self.total_outbufs_len:
            return bool(now - self.last_activity > stall_s)
        if self.receiving:
            return now - self.began > arrival_s
        return bool(not self.requests and now - self.last_activity > idle_s)

    def _linger(self) -> None:
        # Closing with bytes unread would reset the connection, and the answer could be lost.
        self.close_when_flushed = False
        self._closes_at = time.time() + LINGER_S
        try:
            self.socket.shutdown(socket.SHUT_WR)
        except OSError:
            self.handle_close()


def _log(task: WSGITask, sent: int, *, broken: bool = False) -> None:
    write_log(
        log_line(
            client=str(task.channel.addr[0]),
            first_line=getattr(task.request, "first_line", b"-").decode("latin-1"),
            status=task.status,
            sent=sent,
            seconds=time.time() - task.start_time,
            at=task.start_time,
            broken=broken,
        )
    )
