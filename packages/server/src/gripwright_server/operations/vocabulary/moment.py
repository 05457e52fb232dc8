"""Moments as a request writes them."""

from datetime import datetime
from typing import Final

from gripwright.errors import ConditionError

_EXPECTED: Final = "a date and time with a time zone, such as 2026-01-05T20:00:00+01:00"


def moment_of(text: str, name: str = "at") -> datetime:
    """A moment with its time zone.

    Args:
        text: Written by ISO 8601.
        name: The field that holds it.

    Raises:
        ConditionError: It is no such text, or has no time zone.

    Example:
        >>> moment_of("2026-01-05T20:00:00+01:00").isoformat()
        '2026-01-05T20:00:00+01:00'
    """
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.utcoffset() is None:
        raise ConditionError(name=name, value=text, expected=_EXPECTED)
    return moment
