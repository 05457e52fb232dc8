"""What a step from one voicing to the next costs, part by part.

Costs are whole thousandths of a semitone of voice motion, so that sums are exact and equal
requests give equal lines. The parts and their default weights are our own; the idea of a
cheapest path over weighed steps is Sayegh's (Computer Music Journal 13(3), 1989).
"""

from __future__ import annotations

from typing import Any, Final, Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError
from gripwright.leading.motion import matching
from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import VoicingTable
from gripwright.neck.teaching import grip_weight

Costs = NDArray[np.int32]
TopLine = Literal["free", "smooth", "rising", "falling", "held"]

THOUSANDTHS: Final = 1000
HEAVIEST: Final = 100
"""The largest weight; costs of one step then stay within 32 bits."""

TOP_LINES: Final = ("free", "smooth", "rising", "falling", "held")
_WRONG_WAY: Final = 4
_WIDEST_STEP: Final = 255


def _check_weight(_instance: object, attribute: attrs.Attribute[Any], value: float) -> None:
    if not 0 <= value <= HEAVIEST:
        raise ConditionError(
            name=attribute.name, value=value, expected=f"a weight from 0 to {HEAVIEST}"
        )


def _check_whole(_instance: object, attribute: attrs.Attribute[Any], value: object) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= HEAVIEST:
        raise ConditionError(
            name=attribute.name, value=value, expected=f"a whole number from 0 to {HEAVIEST}"
        )


@attrs.frozen(kw_only=True)
class LineWeights:
    """What each part of a step weighs.

    Args:
        motion: A semitone of voice motion.
        stranger: A voice that enters or leaves, in semitones of motion; a whole number.
        travel: A millimetre that the middle of the hand travels along the neck.
        top: A semitone by which the top line goes elsewhere than it should.
        ease: A unit of the awkwardness of the grip itself, as the teaching order weighs it.

    Raises:
        ConditionError: A weight outside 0 to 100.

    Example:
        >>> LineWeights(travel=0).travel
        0.0
    """

    motion: float = attrs.field(default=1.0, converter=float, validator=_check_weight)
    stranger: int = attrs.field(default=4, validator=_check_whole)
    travel: float = attrs.field(default=0.05, converter=float, validator=_check_weight)
    top: float = attrs.field(default=1.0, converter=float, validator=_check_weight)
    ease: float = attrs.field(default=0.12, converter=float, validator=_check_weight)


@attrs.frozen
class StepCost:
    """What one step costs, in thousandths of a semitone.

    Args:
        motion: Voices that move, enter or leave.
        travel: The hand along the neck.
        top: The top line.
        ease: The awkwardness of the grip that the step goes to.
        surcharge: For a grip that earlier lines used.

    Example:
        >>> StepCost(motion=3000, travel=500, top=1000, ease=250).total
        4750
    """

    motion: int
    travel: int
    top: int
    ease: int
    surcharge: int = 0

    @property
    def total(self) -> int:
        """All parts together."""
        return self.motion + self.travel + self.top + self.ease + self.surcharge


@attrs.frozen(eq=False)
class Candidates:
    """Voicings of one chord, with what their costs need.

    Args:
        table: The voicings.
        voices: By number of voices, the rows that have it and their sorted pitches.
        from_groups: (rows,) where each row stands when rows are grouped by number of voices.
        top: (rows,) int32, MIDI number of the top note.
        place: (rows,) int32, weighed place of the middle of the hand.
        placed: (rows,) boolean, whether any string is fretted.
        ease: (rows,) int32, weighed awkwardness.
    """

    table: VoicingTable
    voices: dict[int, tuple[NDArray[np.intp], NDArray[np.int16]]]
    from_groups: NDArray[np.intp]
    top: NDArray[np.int32]
    place: Costs
    placed: NDArray[np.bool_]
    ease: Costs

    @classmethod
    def of(cls, table: VoicingTable, weights: LineWeights) -> Candidates:
        """Weigh the voicings of a table."""
        silent = np.int16(np.iinfo(np.int16).max)
        pitches = np.stack(
            [np.where(sounds, pitch, silent) for sounds, pitch in sounding_pitches(table.pairs)],
            axis=1,
        )
        pitches.sort(axis=1)
        notes = table.columns["notes"]
        voices = {}
        for number in np.unique(notes).tolist():
            rows = np.flatnonzero(notes == number)
            voices[number] = rows, pitches[rows, :number]
        nearest, farthest = table.pairs.places_mm()
        placed = np.isfinite(nearest)
        middle = np.where(placed, nearest, 0.0) + np.where(placed, farthest, 0.0)
        return cls(
            table=table,
            voices=voices,
            from_groups=np.argsort(np.concatenate([rows for rows, _ in voices.values()])),
            top=table.columns["top_midi"].astype(np.int32),
            place=_whole(middle * weights.travel / 2),
            placed=placed,
            ease=_whole(grip_weight(table) * weights.ease),
        )

    def __len__(self) -> int:
        return len(self.table)


def _whole(costs: NDArray[np.float64]) -> Costs:
    return np.rint(costs * THOUSANDTHS).astype(np.int32)


def motion_costs(ones: Candidates, others: Candidates, weights: LineWeights) -> Costs:
    """What voices cost that move, enter or leave, (rows, other rows)."""
    motion = np.empty((len(ones), len(others)), np.int16)
    top = 0
    for _, pitches in ones.voices.values():
        left = 0
        for _, other_pitches in others.voices.values():
            block = matching(pitches, other_pitches, stranger=weights.stranger)
            motion[top : top + len(pitches), left : left + len(other_pitches)] = block
            left += len(other_pitches)
        top += len(pitches)
    if len(ones.voices) > 1:
        motion = motion.take(ones.from_groups, axis=0)
    if len(others.voices) > 1:
        motion = motion.take(others.from_groups, axis=1)
    return motion.astype(np.int32) * np.int32(round(weights.motion * THOUSANDTHS))


def travel_costs(ones: Candidates, others: Candidates) -> Costs:
    """What the way of the hand costs, (rows, other rows); open grips cost nothing."""
    costs: Costs = np.abs(np.subtract.outer(ones.place, others.place))
    if not (ones.placed.all() and others.placed.all()):
        costs *= np.logical_and.outer(ones.placed, others.placed)
    return costs


def top_costs(ones: Candidates, others: Candidates, top: TopLine, weights: LineWeights) -> Costs:
    """What the step of the top line costs, (rows, other rows).

    A smooth line pays its semitones; a held one four times as many; a rising or falling one pays
    its semitones, and four for each that it goes the wrong way, standing still being one.
    """
    if top == "free":
        return np.zeros((len(ones), len(others)), np.int32)
    up = np.arange(-_WIDEST_STEP, _WIDEST_STEP + 1, dtype=np.int32)
    price = np.abs(up)
    if top == "held":
        price *= _WRONG_WAY
    elif top != "smooth":
        price += _WRONG_WAY * np.maximum(1 - up if top == "rising" else 1 + up, 0)
    price *= np.int32(round(weights.top * THOUSANDTHS))
    costs: Costs = price.take(np.subtract.outer(_WIDEST_STEP - ones.top, -others.top))
    return costs


def step_costs(ones: Candidates, others: Candidates, top: TopLine, weights: LineWeights) -> Costs:
    """What each step costs but for the ease of where it goes, (rows, other rows)."""
    costs = motion_costs(ones, others, weights)
    costs += travel_costs(ones, others)
    if top != "free":
        costs += top_costs(ones, others, top, weights)
    return costs
