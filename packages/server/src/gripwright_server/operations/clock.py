"""The clock of the machine, which only surfaces look at."""

from __future__ import annotations

from datetime import datetime


def local_time() -> datetime:
    """The moment by the clock of the machine, in its time zone.

    Example:
        >>> local_time().utcoffset() is None
        False
    """
    return datetime.now().astimezone()
