"""Metres: how long a bar is, and where its beats fall."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

import attrs

from gripwright.errors import ConditionError, NotationError

MOST_UNITS: Final = 64
"""Units that a bar holds at most."""

UNITS: Final = (1, 2, 4, 8, 16, 32)
"""Note values that a metre counts, as parts of a whole note."""

_METER: Final = re.compile(r"([1-9][0-9]?(?:\+[1-9][0-9]?)*)/([1-9][0-9]?)")
_START: Final = re.compile(r"(?:[1-9][0-9]?\+?)*/?")
_EXPECTED: Final = "a metre such as '4/4', '6/8' or '3+2/4'"


def _as_groups(groups: Iterable[int]) -> tuple[int, ...]:
    return tuple(groups)


@attrs.frozen
class Meter:
    """A metre, such as 4/4, 6/8 or 3+2/4.

    A beat is a pulse: the dotted note where the metre is compound (6, 9, 12 or more units in
    threes, of eighths or shorter: 6/8 has two), the unit itself everywhere else (common
    practice). Beats are counted from 1, so that 2.5 is the and of two.

    Args:
        count: Units in a bar, 1 to 64.
        unit: The unit as a part of a whole note: 1, 2, 4, 8, 16 or 32.
        groups: Units in each group, where the metre is written as a sum; they add up to `count`.

    Raises:
        ConditionError: A value outside its range, or groups that do not add up.

    Example:
        >>> Meter(6, 8).length, Meter(6, 8).pulse, Meter(6, 8).pulses
        (Fraction(3, 1), Fraction(3, 2), 2)
        >>> str(Meter(5, 4, (3, 2)))
        '3+2/4'
    """

    count: int = attrs.field(default=4)
    unit: int = attrs.field(default=4)
    groups: tuple[int, ...] = attrs.field(default=(), converter=_as_groups)

    @count.validator
    def _check_count(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_UNITS:
            raise ConditionError(name="count", value=value, expected=f"1 to {MOST_UNITS} units")

    @unit.validator
    def _check_unit(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or value not in UNITS:
            raise ConditionError(name="unit", value=value, expected="1, 2, 4, 8, 16 or 32")

    @groups.validator
    def _check_groups(self, _attribute: object, value: tuple[int, ...]) -> None:
        if value and (len(value) == 1 or min(value) < 1 or sum(value) != self.count):
            raise ConditionError(
                name="groups",
                value=value,
                expected=f"two groups or more that add up to {self.count}",
            )

    @classmethod
    def parse(cls, text: str) -> Meter:
        """Read a metre.

        Raises:
            NotationError: The text is no metre, or one out of range.

        Example:
            >>> Meter.parse("7/8") == Meter(7, 8)
            True
        """
        match = _METER.fullmatch(text)
        if match is None:
            good = _METER.match(text) or _START.match(text)
            position = good.end() if good else 0
            raise NotationError(what="metre", text=text, position=position, expected=_EXPECTED)
        groups = tuple(map(int, match[1].split("+")))
        try:
            return cls(sum(groups), int(match[2]), groups if len(groups) > 1 else ())
        except ConditionError as error:
            position = match.start(1) if error.name == "count" else match.start(2)
            raise NotationError(
                what="metre", text=text, position=position, expected=error.expected
            ) from None

    def __str__(self) -> str:
        return f"{'+'.join(map(str, self.groups)) or self.count}/{self.unit}"

    @property
    def compound(self) -> bool:
        """Whether the pulse is a dotted note.

        Example:
            >>> Meter(12, 8).compound, Meter(6, 4).compound, Meter(3, 8).compound
            (True, False, False)
        """
        return self.unit >= 8 and self.count > 3 and self.count % 3 == 0 and not self.groups  # noqa: PLR2004 - eighths, threes

    @property
    def length(self) -> Fraction:
        """Quarters in a bar."""
        return Fraction(4 * self.count, self.unit)

    @property
    def pulse(self) -> Fraction:
        """Quarters in a beat."""
        return Fraction(12 if self.compound else 4, self.unit)

    @property
    def pulses(self) -> int:
        """Beats in a bar."""
        return self.count // 3 if self.compound else self.count

    def matches(self, other: Meter) -> bool:
        """Whether a rhythm in one can be played in the other.

        Both have bars of the same units and the same beats; groups count where both write them.

        Example:
            >>> five = Meter(5, 4)
            >>> five.matches(Meter(5, 4, (3, 2))), Meter(5, 4, (2, 3)).matches(Meter(5, 4, (3, 2)))
            (True, False)
        """
        return (self.count, self.unit, self.pulse) == (other.count, other.unit, other.pulse) and (
            not self.groups or not other.groups or self.groups == other.groups
        )

    def beat_of(self, onset: Fraction) -> Fraction:
        """The beat at a place of the bar, counted from 1.

        Args:
            onset: Quarters from the start of the bar.

        Example:
            >>> Meter(4, 4).beat_of(Fraction(7, 2)), Meter(6, 8).beat_of(Fraction(3, 2))
            (Fraction(9, 2), Fraction(2, 1))
        """
        return 1 + onset / self.pulse

    def onset_of(self, beat: Fraction) -> Fraction:
        """The place of a beat, in quarters from the start of the bar; `beat_of` undone.

        Example:
            >>> Meter(6, 8).onset_of(Fraction(2))
            Fraction(3, 2)
        """
        return (beat - 1) * self.pulse
