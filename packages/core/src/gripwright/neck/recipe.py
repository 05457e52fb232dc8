"""Recipes: how a voicing stacks the tones of a chord, whatever the instrument."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from typing import Final, Literal, Protocol, runtime_checkable

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

Voices = Literal["as_written", "frame", "tensions", "scale"]
"""Which chord a recipe voices: the chord as written; its frame of root, third or its substitute,
and seventh or sixth; the chord with available tensions; or its scale, essentials waived."""

VOICES: Final = ("as_written", "frame", "tensions", "scale")


def _as_degrees(degrees: Iterable[str]) -> tuple[Degree, ...]:
    return tuple(Degree(degree) for degree in degrees)


def _as_gaps(gaps: Iterable[int]) -> tuple[int, ...]:
    return tuple(gaps)


@attrs.frozen
class Recipe:
    """An ordered stack of degrees, lowest first.

    Each tone lies at the next place above the one before, or at an exact interval above it. A
    recipe of no degrees asks for no order at all.

    Args:
        degrees: The degrees, lowest first.
        voices: Which chord the recipe voices.
        gaps: Semitones from each tone to the next, where the next place is not meant; one
            fewer than there are degrees, or empty.

    Raises:
        ConditionError: Gaps that do not go with the degrees.

    Example:
        >>> Recipe(("1", "5", "7", "3")).offsets
        (0, 7, 11, 16)
    """

    degrees: tuple[Degree, ...] = attrs.field(converter=_as_degrees)
    voices: Voices = attrs.field(default="as_written")
    gaps: tuple[int, ...] = attrs.field(default=(), converter=_as_gaps)

    @voices.validator
    def _check_voices(self, _attribute: object, value: str) -> None:
        if value not in VOICES:
            raise ConditionError(name="voices", value=value, expected=" or ".join(VOICES))

    @gaps.validator
    def _check_gaps(self, _attribute: object, value: tuple[int, ...]) -> None:
        if not value:
            return
        places = [degree.pitch_class for degree in self.degrees]
        fits = len(value) == len(places) - 1 and all(
            gap > 0 and (low + gap - high) % SEMITONES_IN_OCTAVE == 0
            for gap, low, high in zip(value, places, places[1:], strict=False)
        )
        if not fits:
            raise ConditionError(
                name="gaps", value=value, expected="semitones above 0 that lead to each next degree"
            )

    @cached_property
    def mask(self) -> int:
        """The tones as a mask, bit n for the pitch class n semitones above the root."""
        mask = 0
        for degree in self.degrees:
            mask |= 1 << degree.pitch_class
        return mask

    @cached_property
    def pattern(self) -> int:
        """The stack as a mask, bit n for a voice n semitones above the lowest."""
        return sum(1 << offset for offset in self.offsets)

    @cached_property
    def offsets(self) -> tuple[int, ...]:
        """Semitones of each tone above the lowest."""
        gaps = self.gaps or tuple(
            (high.pitch_class - low.pitch_class - 1) % SEMITONES_IN_OCTAVE + 1
            for low, high in zip(self.degrees, self.degrees[1:], strict=False)
        )
        offsets = [0] if self.degrees else []
        for gap in gaps:
            offsets.append(offsets[-1] + gap)
        return tuple(offsets)


@runtime_checkable
class VoicingStrategy(Protocol):
    """A way to voice chords: a name, a sentence, and recipes for a chord.

    A strategy knows the chord alone, never an instrument.

    Example:
        >>> @attrs.frozen
        ... class Fourths:
        ...     name: str = "fourths"
        ...     summary: str = "Root, fourth, seventh."
        ...     def recipes(self, chord, /):
        ...         return [Recipe(("1", "4", "b7"), "scale")]
        >>> isinstance(Fourths(), VoicingStrategy)
        True
    """

    @property
    def name(self) -> str:
        """The name by which it is asked for; lower-case ASCII with hyphens."""

    @property
    def summary(self) -> str:
        """One sentence for players."""

    def recipes(self, chord: Chord, /) -> Iterable[Recipe]:
        """The stacks of this strategy for a chord; none where it has none for it."""
