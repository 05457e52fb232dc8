"""The terminal that a table is for: how wide it is, and whether it shows emphasis."""

from __future__ import annotations

import os
import shutil
from typing import TYPE_CHECKING, Final

import attrs
import click

if TYPE_CHECKING:
    from typing import TextIO

PLAIN_WIDTH: Final = 80
"""Width of a table where no terminal tells one."""


@attrs.frozen
class Screen:
    """What a table is drawn for.

    Args:
        width: Characters in a line.
        emphasis: Whether bold and faint text can be used; nothing is told by them alone.
    """

    width: int = PLAIN_WIDTH
    emphasis: bool = False

    def strong(self, text: str) -> str:
        """The text in bold, where there is emphasis."""
        return click.style(text, bold=True) if self.emphasis else text

    def faint(self, text: str) -> str:
        """The text made less prominent, where there is emphasis."""
        return click.style(text, dim=True) if self.emphasis else text


def screen_of(stream: TextIO) -> Screen:
    """The screen behind a stream.

    ``COLUMNS`` sets the width. Emphasis is for terminals only, and not for one that is ``dumb``
    or where ``NO_COLOR`` is set to anything.
    """
    columns = shutil.get_terminal_size((PLAIN_WIDTH, 24)).columns
    plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    return Screen(width=columns, emphasis=stream.isatty() and not plain)
