"""Links to other pages, as the header Link has them (RFC 8288)."""

from __future__ import annotations

import attrs


@attrs.frozen
class Link:
    """A link.

    Args:
        target: Where it leads: a reference of a URI, in ASCII.
        rel: What it leads to, a registered relation such as ``next``.
        title: The same for a reader, in ASCII, or None.

    Example:
        The first example of RFC 8288, section 3.5:

        >>> print(Link("http://example.com/TheBook/chapter2", "previous", "previous chapter"))
        <http://example.com/TheBook/chapter2>; rel="previous"; title="previous chapter"
    """

    target: str
    rel: str
    title: str | None = None

    def __str__(self) -> str:
        title = "" if self.title is None else f"; title={_quoted(self.title)}"
        return f"<{self.target}>; rel={_quoted(self.rel)}{title}"


def _quoted(text: str) -> str:
    """A text as a quoted string (RFC 9110, section 5.6.4)."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
