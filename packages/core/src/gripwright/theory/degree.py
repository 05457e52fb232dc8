"""Degrees: intervals above a root, in the writing of chord symbols."""

from __future__ import annotations

import re
from typing import Final, Self

from gripwright.errors import NotationError
from gripwright.theory.interval import (
    SEMITONES_IN_OCTAVE,
    STEPS_IN_OCTAVE,
    Interval,
    natural_semitones,
)

_BELOW_TENSIONS: Final = frozenset({2, 4, 6})
_DEGREE: Final = re.compile(r"(b*|#*)([1-9][0-9]?)")


class Degree(str):  # noqa: SLOT000 - text may hold no slots of its own that are not empty
    """A tone of a chord by its place above the root: ``"1"``, ``"b3"``, ``"#11"``, ``"bb7"``.

    A degree is its own text, equal to the plain string, and knows its interval. The number
    counts from the root in the major scale; each flat or sharp moves it by a semitone.

    Args:
        text: Flats or sharps and a number from 1 to 99.

    Raises:
        NotationError: The text is no degree.

    Example:
        >>> Degree("bb7").semitones
        9
        >>> Degree("9") == "9"
        True
    """

    interval: Interval
    """The interval above the root."""

    pitch_class: int
    """Semitones above the root within the octave, 0 to 11."""

    def __new__(cls, text: str) -> Self:
        """Read a degree; `text` may already be one."""
        if isinstance(text, cls):
            return text
        match = _DEGREE.fullmatch(text)
        if match is None:
            good = re.match("b*|#*", text)
            raise NotationError(
                what="degree",
                text=text,
                position=good.end() if good else 0,
                expected="flats or sharps and a number, such as 'b3' or '#11'",
            )
        self = super().__new__(cls, text)
        steps = int(match[2]) - 1
        shift = len(match[1]) if match[1].startswith("#") else -len(match[1])
        self.interval = Interval(steps, natural_semitones(steps) + shift)
        self.pitch_class = self.interval.semitones % SEMITONES_IN_OCTAVE
        return self

    def __getnewargs__(self) -> tuple[str]:
        return (str(self),)

    @classmethod
    def of(cls, interval: Interval) -> Degree:
        """The degree of an interval that does not go down.

        Raises:
            ValueError: The interval has negative steps.

        Example:
            >>> Degree.of(Interval.parse("m3"))
            'b3'
        """
        if interval.steps < 0:
            message = f"a degree lies above the root, and {interval} goes down"
            raise ValueError(message)
        shift = interval.semitones - natural_semitones(interval.steps)
        return cls(f"{'#' * shift or 'b' * -shift}{interval.steps + 1}")

    @property
    def as_tension(self) -> Degree:
        """The degree as a tension is named: a 2, 4 or 6 as 9, 11 or 13, any other as it is.

        Example:
            >>> Degree("#4").as_tension, Degree("b7").as_tension
            ('#11', 'b7')
        """
        if self.number not in _BELOW_TENSIONS:
            return self
        octave = Interval(STEPS_IN_OCTAVE, SEMITONES_IN_OCTAVE)
        return Degree.of(self.interval + octave)

    @property
    def steps(self) -> int:
        """Diatonic steps above the root, 0 for the root itself."""
        return self.interval.steps

    @property
    def semitones(self) -> int:
        """Semitones above the root."""
        return self.interval.semitones

    @property
    def number(self) -> int:
        """The number without its accidentals, 1 for the root."""
        return self.interval.steps + 1

    @property
    def alteration(self) -> int:
        """Semitones above (sharp) or below (flat) the tone of the major scale."""
        return self.interval.semitones - natural_semitones(self.interval.steps)
