"""What one service may do: who may ask, how much it holds, how long it works."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import attrs

LOOPBACK: Final = ("localhost", "127.0.0.1", "[::1]")
"""The names by which a machine calls itself."""

LARGEST_BODY: Final = 1_048_576
"""Bytes of a body: 1 MiB."""

PAGE: Final = 100
"""Rows of a page where no number is asked for."""

LONGEST_PAGE: Final = 1000
"""Rows of a page at most."""

LONGEST_LIST: Final = 200
"""Values of a field that holds many, at most."""


@attrs.frozen(kw_only=True)
class Settings:
    """The settings of a service.

    Args:
        hosts: Names by which it may be called, without port; one that starts with a dot stands
            for every name that ends so. A request for any other is refused.
        origins: Origins of web pages that may read answers, such as ``https://app.example``.
        static: A folder whose files are served beside the API, or None.
        disabled: Names of plugins that are switched off.
        time_limit_s: Seconds that an answer may take to work out.
        row_bound: Voicings above which a search refuses.
        longest_sound_s: Seconds of sound that are rendered; a minute of it takes some 10 MB.
        sounds_at_once: Sounds that are rendered at one time; who asks for one more is told to come
            again. Half of the workers, of which there are eight where nothing is said, so that the
            others stay free for what is quick.
        cached_rows: Rows of answers that are kept in memory; a voicing takes some 50 bytes, and
            what takes more counts for more rows.
        cached_bytes: Bytes of written answers that are kept in memory.
    """

    hosts: tuple[str, ...] = LOOPBACK
    origins: tuple[str, ...] = ()
    static: Path | None = None
    disabled: tuple[str, ...] = ()
    time_limit_s: float = 10.0
    row_bound: int = 1_000_000
    longest_sound_s: float = 600.0
    sounds_at_once: int = 4
    cached_rows: int = 2_000_000
    cached_bytes: int = 32_000_000
