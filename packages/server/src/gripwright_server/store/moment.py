"""Moments: times with a zone, kept as text of one length that sorts as they do."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from typing import Final

from gripwright.errors import ConditionError

_EARLIEST: Final = 1900
_LATEST: Final = 2999
_FORM: Final = "%Y-%m-%dT%H:%M:%S.%fZ"
_EXPECTED: Final = "a date and time with a time zone, from 1900 to 2999"


def to_text(moment: datetime, *, name: str = "time") -> str:
    """A moment in UTC as text, to the microsecond.

    Args:
        moment: With a time zone.
        name: What it is, for the error.

    Raises:
        ConditionError: It has no time zone, or lies beyond the years 1900 to 2999.

    Example:
        >>> from datetime import timezone
        >>> to_text(datetime(2026, 3, 1, 9, tzinfo=timezone(timedelta(hours=2))))
        '2026-03-01T07:00:00.000000Z'
    """
    if not isinstance(moment, datetime) or moment.utcoffset() is None:
        raise ConditionError(name=name, value=str(moment), expected=_EXPECTED)
    if not _EARLIEST < moment.year < _LATEST:
        raise ConditionError(name=name, value=str(moment), expected=_EXPECTED)
    return moment.astimezone(UTC).strftime(_FORM)


def from_text(text: str) -> datetime:
    """A moment from its text.

    Raises:
        ValueError: The text is none of `to_text`.

    Example:
        >>> from_text("2026-03-01T07:00:00.000000Z").isoformat()
        '2026-03-01T07:00:00+00:00'
    """
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None or moment.strftime(_FORM) != text:
        message = f"{text!r} is not written as moments are"
        raise ValueError(message)
    return moment


def day_of(now: datetime) -> tuple[datetime, datetime]:
    """The moments at which the day of a moment begins and ends, in its own time zone.

    A day can have 23 or 25 hours, where clocks are put forward or back.

    Args:
        now: With a time zone.

    Returns:
        Both in UTC; the day ends where the next begins.

    Raises:
        ConditionError: `now` has no time zone.

    Example:
        >>> from zoneinfo import ZoneInfo
        >>> begin, end = day_of(datetime(2026, 3, 29, 12, tzinfo=ZoneInfo("Europe/Berlin")))
        >>> (end - begin) / timedelta(hours=1)
        23.0
    """
    if now.utcoffset() is None:
        raise ConditionError(name="now", value=str(now), expected=_EXPECTED)
    begin, end = (
        datetime.combine(now.date() + timedelta(days=days), time.min, tzinfo=now.tzinfo)
        for days in (0, 1)
    )
    return begin.astimezone(UTC), end.astimezone(UTC)
