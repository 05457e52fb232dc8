"""Cells of a CSV file that a spreadsheet can open without running any of them."""

from __future__ import annotations

import re
from typing import Final

_NUMBER: Final = re.compile(r"-\d+(?:/\d+)?", re.ASCII)
_GUARD: Final = "'"
_GUARDED: Final = ("=", "+", "-", "@", "\t", "\r", "\n", _GUARD)


def guarded(text: str) -> str:
    """A cell that no spreadsheet takes for a formula.

    A number below 0 stays as it is, so that it is a number for whoever reads the table. Any other
    cell that begins with ``=``, ``+``, ``-``, ``@``, a tab, a line end or an apostrophe is written
    with an apostrophe before it: the sign with which spreadsheets mark a text. So a cell that
    begins with an apostrophe always has one too many, and nothing is lost (`unguarded`).

    Args:
        text: What the cell says.

    Example:
        >>> guarded("-4"), guarded("-4-4"), guarded("Dm7"), guarded("'tis")
        ('-4', "'-4-4", 'Dm7', "''tis")
    """
    safe = _NUMBER.fullmatch(text) or not text.startswith(_GUARDED)
    return text if safe else f"{_GUARD}{text}"


def unguarded(cell: str) -> str:
    """What a cell says: `guarded` undone.

    Args:
        cell: The cell as it stands in the file.

    Example:
        >>> unguarded("'-4-4"), unguarded("-4"), unguarded("''tis")
        ('-4-4', '-4', "'tis")
    """
    return cell[1:] if cell.startswith(_GUARD) else cell
