"""Attacks: where a chord of a rhythm pattern starts, and what says where it ends."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal, TypeAlias, get_args

import attrs

from gripwright.errors import ConditionError
from gripwright.meter.hit import LONGEST, exact

LengthName = Literal["long", "short"]

Length: TypeAlias = LengthName | Fraction
"""How long an attack lasts: long, short, or an exact number of quarters."""

ApproachRole = Literal[
    "above", "below", "double-above", "double-below", "dominant", "tritone", "diminished"
]
"""How an approach leads to the chord that follows it; as `gripwright.leading.approach` has it."""

Stroke = Literal["down", "up", "pluck"]
"""What the right hand does."""

LENGTH_NAMES: Final[tuple[LengthName, ...]] = get_args(LengthName)
APPROACH_ROLES: Final[tuple[ApproachRole, ...]] = get_args(ApproachRole)
STROKES: Final[tuple[Stroke, ...]] = get_args(Stroke)

LATEST: Final = 64 * LONGEST
"""Quarters from the start of a pattern to its last attack at most: 64 of the longest bars."""


def _as_onset(value: Fraction | int) -> Fraction:
    return exact(value, LATEST)


def as_length(value: Length | int) -> Length:
    """Take a length as it stands in an attack.

    Args:
        value: ``"long"``, ``"short"``, or quarters above 0 and up to 256.

    Raises:
        ConditionError: Any other value.

    Example:
        >>> as_length(2), as_length("short")
        (Fraction(2, 1), 'short')
    """
    if isinstance(value, str):
        if value not in LENGTH_NAMES:
            raise ConditionError(name="length", value=value, expected="long, short or quarters")
        return value
    quarters = exact(value)
    if quarters == 0:
        raise ConditionError(name="length", value=value, expected="above 0 quarters")
    return quarters


@attrs.frozen
class Attack:
    """One attack of a rhythm pattern.

    - A *long* one lasts until the next attack or change of chord, whichever is first.
    - A *short* one ends on the next pulse or attack, whichever is first.
    - An exact one lasts its quarters, but never past the next attack or change of chord.

    Args:
        onset: Quarters from the start of the pattern, 0 to 16,384.
        length: ``"long"``, ``"short"`` or quarters.
        push: Whether it belongs to the chord of the next pulse, which it anticipates.
        approach: How it leads to the chord after, where it is an approach; None where it is the
            chord itself.
        ring_over: Whether it holds through changes of chord: a long one until the next attack, an
            exact one for its quarters, whatever comes.
        accent: Whether it is louder than the others.
        stroke: What the right hand does; None leaves it to the player: down on a pulse, up off
            it, or plucked.

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> Attack(Fraction(7, 2), push=True).length
        'long'
    """

    onset: Fraction = attrs.field(converter=_as_onset)
    length: Length = attrs.field(default="long", converter=as_length)
    push: bool = attrs.field(default=False)
    approach: ApproachRole | None = attrs.field(default=None)
    ring_over: bool = attrs.field(default=False)
    accent: bool = attrs.field(default=False)
    stroke: Stroke | None = attrs.field(default=None)

    @approach.validator
    def _check_approach(self, _attribute: object, value: str | None) -> None:
        if value is not None and value not in APPROACH_ROLES:
            raise ConditionError(
                name="approach", value=value, expected=f"one of {', '.join(APPROACH_ROLES)}"
            )
        if value is not None and self.push:
            raise ConditionError(
                name="approach", value=value, expected="none beside a push: it leads to its chord"
            )

    @stroke.validator
    def _check_stroke(self, _attribute: object, value: str | None) -> None:
        if value is not None and value not in STROKES:
            raise ConditionError(
                name="stroke", value=value, expected=f"one of {', '.join(STROKES)}"
            )
