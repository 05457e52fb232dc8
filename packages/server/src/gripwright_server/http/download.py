"""Names of files that a client saves: safe everywhere, and different for different requests."""

from __future__ import annotations

import hashlib
import re
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from gripwright_server.http.surface import Surface

_UNSAFE: Final = re.compile(r"[^A-Za-z0-9]+")
_LONGEST: Final = 40
_NAMING: Final = ("symbol", "symbols", "notes", "form", "chord")
"""The fields that say what an answer is about, as far as a request has them."""


def file_name(surface: Surface, values: dict[str, Any], suffix: str) -> str:
    """The name of the file of an answer.

    It is made of letters, digits and dashes: the operation, what it is about, and a digest of the
    whole request, which tells apart what letters cannot, also where a file system takes capitals
    for small letters.

    Args:
        surface: The operation.
        values: Its request, complete.
        suffix: The ending, with its dot.

    Example:
        >>> from gripwright_server.http.surface import Surface
        >>> from gripwright_server.operations.voicings import VOICINGS
        >>> own = Surface(VOICINGS)
        >>> name = file_name(own, own.complete({"symbol": "C#7/E"}), ".svg")
        >>> name.startswith("voicings-Csharp7-E-"), len(name)
        (True, 31)
    """
    told = next((values[name] for name in _NAMING if values.get(name)), "")
    text = "-".join(told) if isinstance(told, list) else str(told)
    about = _UNSAFE.sub("-", text.replace("#", "sharp")).strip("-")[:_LONGEST].strip("-")
    digest = hashlib.blake2b(surface.canonical(values), digest_size=4).hexdigest()
    return "-".join(filter(None, (surface.operation.full_name, about, digest))) + suffix


def disposition(name: str, *, shown: bool) -> str:
    """The header Content-Disposition (RFC 6266) of a file.

    Args:
        name: Its name, which needs no quoting beyond that of a quoted string.
        shown: Whether a browser should show it rather than save it.
    """
    return f'{"inline" if shown else "attachment"}; filename="{name}"'
