"""The text of a rhythm pattern: a word for each attack, its beat and its marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final

from gripwright.errors import ConditionError, NotationError
from gripwright.meter.attack import APPROACH_ROLES, Attack, Length, Stroke
from gripwright.meter.meter import Meter

LONGEST_TEXT: Final = 2000
"""Characters that the text of a pattern holds at most."""

_MOST_BARS: Final = 64
_WORD: Final = re.compile(r"[^\s|]+")
_NUMBER: Final = re.compile(r"[0-9]{1,8}(?:\.[0-9]{1,5}|/[1-9][0-9]{0,5})?")
_ROLE: Final = re.compile(r"\(([^()\s]*)\)?")
_STROKES: Final[dict[str, Stroke]] = {"v": "down", "^": "up", "p": "pluck"}
_SIGNS: Final[dict[Stroke, str]] = {stroke: sign for sign, stroke in _STROKES.items()}
_MARKS: Final = "a mark: ' : > ! ~ ^ v p or (above), or the next beat after a space"
_BEAT: Final = "a beat such as 1, 2.5 or 5/2"


def read_attacks(text: str, meter: Meter) -> tuple[tuple[Attack, ...], int]:
    """Read the attacks of a pattern.

    Args:
        text: A word for each attack, ``|`` between bars.
        meter: The metre in which beats are counted.

    Returns:
        The attacks and the number of bars.

    Raises:
        NotationError: Something in the text is no attack; says where and what was expected.

    Example:
        >>> attacks, bars = read_attacks("1 2.5' | 4>", Meter(4, 4))
        >>> bars, [str(attack.onset) for attack in attacks]
        (2, ['0', '3/2', '7'])
    """
    if len(text) > LONGEST_TEXT:
        raise _error(text, LONGEST_TEXT, f"at most {LONGEST_TEXT} characters")
    bars = text.split("|")
    if len(bars) > _MOST_BARS:
        raise _error(text, len("|".join(bars[:_MOST_BARS])), f"at most {_MOST_BARS} bars")
    attacks: list[Attack] = []
    start = 0
    for number, bar in enumerate(bars):
        for word in _WORD.finditer(bar):
            reader = _Word(text, start + word.start(), start + word.end(), meter)
            attack = reader.attack(number)
            if any(attack.onset == other.onset for other in attacks):
                raise _error(text, start + word.start(), "each place once")
            attacks.append(attack)
        start += len(bar) + 1
    if not attacks:
        raise _error(text, len(text), _BEAT)
    return tuple(attacks), len(bars)


def write_attacks(attacks: Iterable[Attack], meter: Meter, bars: int) -> str:
    """Write the attacks of a pattern, so that they read back.

    Args:
        attacks: The attacks.
        meter: The metre in which beats are counted.
        bars: Bars of the pattern.

    Example:
        >>> write_attacks([Attack(Fraction(3, 2), Fraction(1, 3))], Meter(4, 4), 2)
        '2.5:1/3 |'
    """
    words: list[list[str]] = [[] for _ in range(bars)]
    for attack in attacks:
        words[int(attack.onset // meter.length)].append(_word(attack, meter))
    return " | ".join(" ".join(bar) for bar in words).strip()


def number_text(value: Fraction) -> str:
    """A number as patterns write it: with a point where that is exact and short, else a fraction.

    Example:
        >>> number_text(Fraction(5, 2)), number_text(Fraction(4, 3)), number_text(Fraction(2))
        ('2.5', '4/3', '2')
    """
    if value.denominator == 1:
        return str(value.numerator)
    for places in (1, 2, 3):
        if (value * 10**places).denominator == 1:
            return f"{float(value):.{places}f}"
    return str(value)


def _word(attack: Attack, meter: Meter) -> str:
    beat = meter.beat_of(attack.onset % meter.length)
    parts = [number_text(beat)]
    if attack.length == "short":
        parts.append("'")
    elif isinstance(attack.length, Fraction):
        parts.append(f":{number_text(attack.length / meter.pulse)}")
    parts += [">"] * attack.push + ["!"] * attack.accent + ["~"] * attack.ring_over
    if attack.stroke is not None:
        parts.append(_SIGNS[attack.stroke])
    if attack.approach is not None:
        parts.append(f"({attack.approach})")
    return "".join(parts)


class _Word:
    """One word of the text, read from left to right."""

    def __init__(self, text: str, start: int, end: int, meter: Meter) -> None:
        self._text = text
        self._place = start
        self._end = end
        self._meter = meter

    def attack(self, bar: int) -> Attack:
        """The attack, in a bar counted from 0."""
        start = self._place
        onset = self._meter.onset_of(self._number(_BEAT))
        if not 0 <= onset < self._meter.length:
            raise _error(
                self._text, start, f"a beat of {self._meter}, from 1 to below {self._past}"
            )
        found: dict[str, object] = {}
        for name, value in self._marks():
            if name in found:
                raise _error(self._text, self._place - 1, f"{name} said once")
            found[name] = value
        try:
            return Attack(bar * self._meter.length + onset, **found)  # type: ignore[arg-type]
        except ConditionError as error:
            raise _error(self._text, start, error.expected) from None

    @property
    def _past(self) -> int:
        return self._meter.pulses + 1

    def _number(self, expected: str) -> Fraction:
        match = _NUMBER.match(self._text, self._place, self._end)
        if match is None:
            raise _error(self._text, self._place, expected)
        self._place = match.end()
        return Fraction(match[0])

    def _marks(self) -> Iterator[tuple[str, object]]:
        while self._place < self._end:
            sign = self._text[self._place]
            if sign == "(":
                yield "approach", self._role()
                continue
            if sign not in "':>!~" and sign not in _STROKES:
                raise _error(self._text, self._place, _MARKS)
            self._place += 1
            if sign == ":":
                yield "length", self._length()
            elif sign == "'":
                yield "length", "short"
            elif sign in _STROKES:
                yield "stroke", _STROKES[sign]
            else:
                yield {">": "push", "!": "accent", "~": "ring_over"}[sign], True

    def _length(self) -> Length:
        start = self._place
        length = self._number("a number of beats such as 1.5") * self._meter.pulse
        if not 0 < length <= 256:  # noqa: PLR2004 - the length of the longest bar
            raise _error(self._text, start, "more than 0 beats, and not past any bar")
        return length

    def _role(self) -> str:
        start = self._place
        match = _ROLE.match(self._text, start, self._end)
        role = match[1] if match else ""
        if match is None or not match[0].endswith(")") or role not in APPROACH_ROLES:
            raise _error(self._text, start + 1, f"one of {', '.join(APPROACH_ROLES)} and a )")
        self._place = match.end()
        return role


def _error(text: str, position: int, expected: str) -> NotationError:
    return NotationError(what="rhythm pattern", text=text, position=position, expected=expected)
