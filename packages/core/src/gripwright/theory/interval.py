"""Intervals: pairs of diatonic steps and semitones.

Spelling follows from the pair, never from a table of enharmonics.
"""

from __future__ import annotations

import re
from typing import Final

import attrs

from gripwright.errors import NotationError

STEPS_IN_OCTAVE: Final = 7
SEMITONES_IN_OCTAVE: Final = 12

_MAJOR_SCALE: Final = (0, 2, 4, 5, 7, 9, 11)
_PERFECT_STEPS: Final = frozenset({0, 3, 4})
_INTERVAL: Final = re.compile(r"(-?)(P|M|m|A{1,99}|d{1,99})([1-9][0-9]{0,3})")


def natural_semitones(steps: int) -> int:
    """Semitones of the perfect or major interval of so many diatonic steps.

    Args:
        steps: Diatonic steps, any integer; negative ones go down.

    Returns:
        Semitones from the tonic of a major scale to that step of it.

    Example:
        >>> natural_semitones(8), natural_semitones(-1)
        (14, -1)
    """
    octaves, step = divmod(steps, STEPS_IN_OCTAVE)
    return octaves * SEMITONES_IN_OCTAVE + _MAJOR_SCALE[step]


@attrs.frozen(order=False)
class Interval:
    """The distance between two spelled pitches.

    Intervals add and negate as pairs, so they form a group that acts on pitches. Written, an
    interval has a quality (P perfect, M major, m minor, A augmented, d diminished; AA and dd and
    so on beyond) and a number, with a minus sign in front where it goes down.

    Args:
        steps: Diatonic steps, 0 for a unison, 2 for a third; negative where it goes down.
        semitones: Semitones, of any sign.

    Example:
        >>> Interval.parse("M3") + Interval.parse("m3")
        Interval(steps=4, semitones=7)
        >>> str(-Interval.parse("m3"))
        '-m3'
    """

    steps: int
    semitones: int

    @classmethod
    def parse(cls, text: str) -> Interval:
        """Read an interval such as ``"m3"``, ``"P5"``, ``"AA4"`` or ``"-M2"``.

        Raises:
            NotationError: The text is no interval, or joins a quality and a number that do not
                go together (``"P3"``, ``"M5"``).

        Example:
            >>> Interval.parse("d7")
            Interval(steps=6, semitones=9)
        """
        match = _INTERVAL.fullmatch(text)
        if match is None:
            good = _INTERVAL.match(text)
            raise NotationError(
                what="interval",
                text=text,
                position=good.end() if good else 0,
                expected="a quality of P, M, m, A, d and a number, such as 'm3'",
            )
        sign, quality, number = match[1], match[2], int(match[3])
        steps = number - 1
        perfect = steps % STEPS_IN_OCTAVE in _PERFECT_STEPS
        if quality in {"P", "M", "m"} and (quality == "P") != perfect:
            raise NotationError(
                what="interval",
                text=text,
                position=len(sign),
                expected="P, A or d before 1, 4, 5 and 8; M, m, A or d before the others",
            )
        if quality[0] == "A":
            shift = len(quality)
        elif quality[0] == "d":
            shift = -len(quality) - (not perfect)
        else:
            shift = -1 if quality == "m" else 0
        interval = cls(steps, natural_semitones(steps) + shift)
        return -interval if sign else interval

    def __str__(self) -> str:
        steps, semitones, sign = self.steps, self.semitones, ""
        if steps < 0 or (steps == 0 and semitones < 0):
            steps, semitones, sign = -steps, -semitones, "-"
        shift = semitones - natural_semitones(steps)
        if shift > 0:
            quality = "A" * shift
        elif steps % STEPS_IN_OCTAVE in _PERFECT_STEPS:
            quality = "d" * -shift or "P"
        else:
            quality = {0: "M", -1: "m"}.get(shift) or "d" * (-shift - 1)
        return f"{sign}{quality}{steps + 1}"

    def __add__(self, other: Interval) -> Interval:
        if not isinstance(other, Interval):
            return NotImplemented
        return Interval(self.steps + other.steps, self.semitones + other.semitones)

    def __sub__(self, other: Interval) -> Interval:
        if not isinstance(other, Interval):
            return NotImplemented
        return Interval(self.steps - other.steps, self.semitones - other.semitones)

    def __neg__(self) -> Interval:
        return Interval(-self.steps, -self.semitones)

    @property
    def simple(self) -> Interval:
        """The interval less its whole octaves, with 0 to 6 steps.

        Example:
            >>> str(Interval.parse("M9").simple)
            'M2'
        """
        octaves = self.steps // STEPS_IN_OCTAVE
        return self - Interval(octaves * STEPS_IN_OCTAVE, octaves * SEMITONES_IN_OCTAVE)

    @property
    def complement(self) -> Interval:
        """What is missing to the octave: the trade's inversion of an interval.

        An interval wider than an octave is taken within the octave first; an octave is whole,
        and its complement is the unison.

        Example:
            >>> str(Interval.parse("M3").complement)
            'm6'
        """
        octave = Interval(STEPS_IN_OCTAVE, SEMITONES_IN_OCTAVE)
        return octave - (self if self.steps == STEPS_IN_OCTAVE else self.simple)
