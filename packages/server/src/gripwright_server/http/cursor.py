"""Cursors: the address of a page, which holds its whole request.

So a page can be asked of any process, one that never saw the request before; and a page has a URL
that a cache can hold. A cursor is opaque to clients, but no secret: what it holds is judged as
strictly as a request.
"""

from __future__ import annotations

import base64
import binascii
import zlib
from typing import Any, Final

import attrs

from gripwright_server.http.encoding import UnreadableJSONError, decoded, encoded
from gripwright_server.http.kinds import INVALID, STALE
from gripwright_server.http.problem import Fault
from gripwright_server.http.routes import CURSOR
from gripwright_server.http.validation import pointer_of

LONGEST: Final = 2000
"""Characters of a cursor: what every server and proxy lets stand in a URL."""

_LARGEST: Final = 65_536

_LEAST_BITS: Final = 9


@attrs.frozen
class Cursor:
    """A page of an answer.

    Args:
        version: What the answer was worked out by; another one may order it otherwise.
        start: The first row, counted from 0.
        request: The fields of the request that are not the usual ones.

    Example:
        >>> cursor = Cursor("1a2b", 100, {"symbol": "C#7"})
        >>> Cursor.parse(str(cursor), "1a2b") == cursor
        True
    """

    version: str
    start: int
    request: dict[str, Any]

    def __str__(self) -> str:
        packed = _packed(encoded([self.version, self.start, self.request]))
        return base64.urlsafe_b64encode(packed).decode("ascii").rstrip("=")

    @classmethod
    def parse(cls, text: str, version: str) -> Cursor:
        """Read a cursor.

        Args:
            text: The cursor.
            version: What answers are worked out by now.

        Raises:
            ProblemError: It is none of ours, or of another version.
        """
        try:
            packed = base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
            unpacking = zlib.decompressobj()
            data = unpacking.decompress(packed, _LARGEST)
            held = decoded(data)
        except (binascii.Error, zlib.error, UnreadableJSONError, ValueError):
            raise _unreadable() from None
        match held:
            case [str(made_by), int(start), dict(request)] if start >= 0:
                if made_by != version:
                    raise STALE.error()
                return cls(version, start, request)
        raise _unreadable()


def _packed(data: bytes) -> bytes:
    # Most cursors are short; a window for longer texts would take five times as long to make.
    bits = min(zlib.MAX_WBITS, max(_LEAST_BITS, len(data).bit_length()))
    packing = zlib.compressobj(9, zlib.DEFLATED, bits, bits - _LEAST_BITS + 3)
    return packing.compress(data) + packing.flush()


def _unreadable() -> Exception:
    return INVALID.error(
        errors=[
            Fault(
                detail="this is no cursor of this service",
                pointer=pointer_of(CURSOR),
                parameter=CURSOR,
            )
        ]
    )
