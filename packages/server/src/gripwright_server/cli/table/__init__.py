"""Tables for people: how the answer of each operation looks on a terminal.

Each operation has a module here under its own name, whose ``lines`` goes from the result and the
screen to lines of text.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations import Operation, Result


def table_lines(operation: Operation, result: Result, screen: Screen) -> Iterator[str]:
    """The table of an answer.

    The module is loaded here and not before: diagrams need NumPy, which spelling must not load.

    Args:
        operation: The operation.
        result: Its answer.
        screen: What the table is drawn for.
    """
    module = importlib.import_module(f"{__name__}.{operation.module}")
    lines = cast("Callable[[Result, Screen], Iterator[str]]", module.lines)
    return lines(result, screen)
