"""The media type and the ending of the file name of each format."""

from __future__ import annotations

from typing import Final

import attrs


@attrs.frozen
class Media:
    """How a format is called where it leaves the program.

    Args:
        media_type: Its media type (RFC 6838), with its parameters.
        suffix: The ending of a file in it, with its dot.

    Example:
        >>> Media("text/csv; charset=utf-8", ".csv").suffix
        '.csv'
    """

    media_type: str
    suffix: str

    @property
    def essence(self) -> str:
        """The media type without parameters.

        Example:
            >>> MEDIA["csv"].essence
            'text/csv'
        """
        return self.media_type.partition(";")[0]


MEDIA: Final[dict[str, Media]] = {
    "json": Media("application/json", ".json"),
    "ndjson": Media("application/x-ndjson", ".ndjson"),
    # RFC 4180 registers the type; header=present is its parameter for a line of names.
    "csv": Media("text/csv; charset=utf-8; header=present", ".csv"),
    "svg": Media("image/svg+xml", ".svg"),
    "text": Media("text/plain; charset=utf-8", ".txt"),
    "musicxml": Media("application/vnd.recordare.musicxml+xml", ".musicxml"),
    "pdf": Media("application/pdf", ".pdf"),
}
"""Media type and ending of every format, by name."""
