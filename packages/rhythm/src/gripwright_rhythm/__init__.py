"""Strict-time rhythm for Gripwright: patterns, the ladder of practice, drills and exporters.

Where a chord starts and, just as much, where it ends. The public names are loaded on first use
(PEP 562), so that a list of rhythms loads no NumPy.

Example:
    >>> from gripwright_rhythm import Click
    >>> Click.parse("2 4").words()
    'on 2 and 4'
"""

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gripwright_rhythm.click import Click
    from gripwright_rhythm.drill import make_drill
    from gripwright_rhythm.ladder import RUNGS, rung

_HOMES = {
    "RUNGS": "ladder",
    "Click": "click",
    "make_drill": "drill",
    "rung": "ladder",
}

__all__ = ["RUNGS", "Click", "make_drill", "rung"]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        message = f"module 'gripwright_rhythm' has no attribute {name!r}"
        raise AttributeError(message)
    value: object = getattr(importlib.import_module(f"gripwright_rhythm.{_HOMES[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
