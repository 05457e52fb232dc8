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


def end_of_day(now: datetime) -> datetime:
    """The moment at which the day of a moment ends, in its own time zone.

    A day can have 23 or 25 hours, where clocks are put forward or back.

    Args:
        now: With a time zone.

    Example:
        >>> from zoneinfo import ZoneInfo
        >>> now = datetime(2026, 3, 29, 1, tzinfo=ZoneInfo("Europe/Berlin"))
        >>> (end_of_day(now) - now.astimezone(UTC)) / timedelta(hours=1)
        22.0
    """
    if now.utcoffset() is None:
        raise ConditionError(name="now", value=str(now), expected=_EXPECTED)
    tomorrow = now.date() + timedelta(days=1)
    return datetime.combine(tomorrow, time.min, tzinfo=now.tzinfo).astimezone(UTC)
