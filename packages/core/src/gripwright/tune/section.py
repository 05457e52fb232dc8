"""Sections: bars under one letter, with their own key, metre, tempo and feel."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, Generic, TypeVar

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.tune.bar import Bar
from gripwright.tune.key import Key

S = TypeVar("S")

LOWEST_TEMPO: Final = 10
HIGHEST_TEMPO: Final = 400
LONGEST_NAME: Final = 120
"""Characters that a title or the name of a section or a feel holds at most."""

NAME_EXPECTED: Final = (
    f"1 to {LONGEST_NAME} characters of one line, without brackets, bar lines and semicolons"
)

_NAME: Final = re.compile(rf"[^\[\]|;]{{1,{LONGEST_NAME}}}")


def is_name(text: str) -> bool:
    """Whether a text can stand as a title or name in a chart.

    Example:
        >>> is_name("Verse 2"), is_name("A|B")
        (True, False)
    """
    return (
        _NAME.fullmatch(text) is not None and text == text.strip() and len(text.splitlines()) == 1
    )


def check_name(
    _instance: object, attribute: attrs.Attribute[str | None], value: str | None
) -> None:
    """Check a name that stands in the text of a chart.

    Raises:
        ConditionError: It is empty or too long, or holds a sign that ends it.
    """
    if value is not None and not is_name(value):
        raise ConditionError(name=attribute.name, value=value, expected=NAME_EXPECTED)


@attrs.frozen
class Settings:
    """What a chart or a section says about itself; None where it says nothing.

    Args:
        key: The key.
        meter: The metre.
        tempo_bpm: Beats a minute, 10 to 400, a beat being the pulse of the metre.
        feel: The feel in a word or two, such as ``"swing"`` or ``"bossa"``.

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> Settings(feel="swing").over(Settings(tempo_bpm=120, feel="even")).feel
        'swing'
    """

    key: Key | None = attrs.field(default=None)
    meter: Meter | None = attrs.field(default=None)
    tempo_bpm: int | None = attrs.field(default=None)
    feel: str | None = attrs.field(default=None, validator=check_name)

    @tempo_bpm.validator
    def _check_tempo(self, _attribute: object, value: int | None) -> None:
        if value is not None and (
            isinstance(value, bool)
            or not isinstance(value, int)
            or not LOWEST_TEMPO <= value <= HIGHEST_TEMPO
        ):
            raise ConditionError(
                name="tempo_bpm",
                value=value,
                expected=f"{LOWEST_TEMPO} to {HIGHEST_TEMPO} beats a minute",
            )

    def over(self, other: Settings) -> Settings:
        """These settings, with those of another where these say nothing."""
        return Settings(
            self.key or other.key,
            self.meter or other.meter,
            self.tempo_bpm or other.tempo_bpm,
            self.feel or other.feel,
        )


def as_comments(comments: Iterable[str]) -> tuple[str, ...]:
    """Comments, each a line of its own, as a tuple."""
    return tuple(comments)


def check_comments(_instance: object, _attribute: object, value: tuple[str, ...]) -> None:
    """Check that each comment is one line.

    Raises:
        ConditionError: A comment holds a line break, or spaces around it.
    """
    for comment in value:
        if comment != comment.strip() or len(comment.splitlines()) > 1:
            raise ConditionError(
                name="comments", value=comment, expected="one line, without spaces around it"
            )


def _as_bars(bars: Iterable[Bar[S]]) -> tuple[Bar[S], ...]:
    return tuple(bars)


@attrs.frozen
class Section(Generic[S]):
    """Bars that belong together.

    Args:
        bars: The bars, one or more.
        name: The letter or name, such as ``"A"`` or ``"Intro"``; None for a section without.
        settings: What holds in this section alone; where it says nothing, the chart's holds.
        comments: Comments, for readers.

    Raises:
        ConditionError: There is no bar, or a name or comment that cannot be written.

    Example:
        >>> Section([Bar(same=True)], "A").name
        'A'
    """

    bars: tuple[Bar[S], ...] = attrs.field(converter=_as_bars)
    name: str | None = attrs.field(default=None, validator=check_name)
    settings: Settings = attrs.field(default=Settings())
    comments: tuple[str, ...] = attrs.field(
        default=(), converter=as_comments, validator=check_comments
    )

    @bars.validator
    def _check_bars(self, _attribute: object, value: tuple[Bar[S], ...]) -> None:
        if not value:
            raise ConditionError(name="bars", value=value, expected="one bar or more")
