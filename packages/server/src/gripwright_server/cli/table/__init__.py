"""Tables for people: how the answer of each operation looks on a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from gripwright_server.cli.table.chords import chord_lines
from gripwright_server.cli.table.instruments import instrument_lines
from gripwright_server.cli.table.plugins import plugin_lines
from gripwright_server.cli.table.voicings import voicing_lines

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gripwright_server.cli.screen import Screen

TABLES: Final[dict[str, Callable[[Any, Screen], Iterator[str]]]] = {
    "instruments": instrument_lines,
    "plugins": plugin_lines,
    "spell": chord_lines,
    "voicings": voicing_lines,
}
"""The table of each operation, by its name: from the result and the screen to lines."""

__all__ = ["TABLES"]
