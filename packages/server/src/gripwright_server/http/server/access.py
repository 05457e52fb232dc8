"""The log of requests: one line each, in the Common Log Format with the time taken."""

from __future__ import annotations

import sys
import time
from typing import Final

_LONGEST: Final = 300


def log_line(
    *,
    client: str,
    first_line: str,
    status: str,
    sent: int,
    seconds: float,
    at: float,
    broken: bool = False,
) -> str:
    r"""A line of the log, in which nothing of a request can move the cursor or begin a line.

    Args:
        client: The address of the client.
        first_line: Method, target and version.
        status: The status with its reason.
        sent: Bytes of the response, without its header.
        seconds: Time from the whole request to the last byte.
        at: When it came, in seconds since the epoch.
        broken: The client went away before the end.

    Example:
        >>> hostile = 'GET /"\x1b HTTP/1.1'
        >>> print(log_line(client="::1", first_line=hostile, status="404", sent=9, seconds=1, at=0))
        ::1 - - [01/Jan/1970:00:00:00 +0000] "GET /\x22\x1b HTTP/1.1" 404 9 1000 ms
    """
    stamp = time.strftime("%d/%b/%Y:%H:%M:%S +0000", time.gmtime(at))
    shown = "".join(map(_printable, first_line[:_LONGEST]))
    end = " broken off" if broken else ""
    return f'{client} - - [{stamp}] "{shown}" {status[:3]} {sent} {seconds * 1000:.0f} ms{end}'


def write_log(line: str) -> None:
    """Write a line to stderr, where that is open."""
    if sys.stderr is not None:
        sys.stderr.write(f"{line}\n")


def _printable(character: str) -> str:
    if " " <= character <= "~" and character not in '"\\':
        return character
    return f"\\x{ord(character):02x}"
