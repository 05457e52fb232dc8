"""The settings of a chart as text: ``key: Bb``, ``metre: 3/4``, ``tempo: 120`` and the like."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any, Final

from gripwright.errors import ConditionError, NotationError
from gripwright.meter import Meter
from gripwright.tune.key import Key
from gripwright.tune.section import (
    HIGHEST_TEMPO,
    LOWEST_TEMPO,
    NAME_EXPECTED,
    Settings,
    is_name,
)
from gripwright.tune.text_numbers import number_text, read_number

LINE: Final = re.compile(r"\s*([A-Za-z]+)\s*:(?!\s*\|)\s*(.*?)\s*$")
"""A line that holds a setting; a bar line never follows the colon."""

FIELDS: Final = {
    "title": "title",
    "key": "key",
    "metre": "meter",
    "meter": "meter",
    "time": "meter",
    "tempo": "tempo_bpm",
    "feel": "feel",
    "pickup": "pickup",
}
"""The words of the lines, each with the field that it sets."""

CHART_ONLY: Final = frozenset({"title", "pickup"})
"""Fields that only the whole chart has."""


def _tempo(text: str) -> int:
    if re.fullmatch("[0-9]{1,9}", text) is None:
        raise NotationError(
            what="tempo",
            text=text,
            position=0,
            expected=f"{LOWEST_TEMPO} to {HIGHEST_TEMPO} beats a minute",
        )
    return int(text)


def _pickup(text: str) -> Fraction:
    beats = read_number(text)
    if not beats:
        raise NotationError(
            what="pickup", text=text, position=0, expected="beats in the first bar, such as 1"
        )
    return beats


def _name(text: str) -> str:
    if not is_name(text):
        raise NotationError(what="name", text=text, position=0, expected=NAME_EXPECTED)
    return text


_READERS: Final[dict[str, Callable[[str], Any]]] = {
    "title": _name,
    "key": Key.parse,
    "meter": Meter.parse,
    "tempo_bpm": _tempo,
    "feel": _name,
    "pickup": _pickup,
}


def read_setting(field: str, text: str) -> object:
    """Read the value of a setting.

    Args:
        field: One of the values of `FIELDS`.
        text: The value as written.

    Returns:
        The value; a pickup in beats.

    Raises:
        NotationError: The text is no value of the field.

    Example:
        >>> str(read_setting("key", "Bb minor"))
        'Bbm'
    """
    value: object = _READERS[field](text)
    if field not in CHART_ONLY:
        try:
            Settings(**{field: value})  # type: ignore[arg-type]
        except ConditionError as error:
            raise NotationError(
                what=field, text=text, position=0, expected=error.expected
            ) from None
    return value


def settings_lines(settings: Settings) -> Iterator[str]:
    """Write settings, a line each.

    Example:
        >>> list(settings_lines(Settings(Key.parse("Gm"), tempo_bpm=120)))
        ['key: Gm', 'tempo: 120']
    """
    if settings.key is not None:
        yield f"key: {settings.key}"
    if settings.meter is not None:
        yield f"metre: {settings.meter}"
    if settings.tempo_bpm is not None:
        yield f"tempo: {settings.tempo_bpm}"
    if settings.feel is not None:
        yield f"feel: {settings.feel}"


def pickup_line(pickup: Fraction, meter: Meter) -> str:
    """Write a pickup, in beats of its metre."""
    return f"pickup: {number_text(pickup / meter.pulse)}"
