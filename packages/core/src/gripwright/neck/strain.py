"""Strain: how hard a hand works to hold a shape, in millimetres of reach.

The strain of a fingering is a sum of five parts::

    reach    the distance along the neck between the nearest and the farthest fretted string
    gaps     for each finger in use and the next: stretch beyond their natural gap, or squeeze
    barres   for each finger on several strings: the strings that it covers, more for other
             fingers than the index, and clearing a lower string on its treble side
    fingers  for each finger in use its weakness, and each finger beyond the fewest presses
    mutes    each muted string between sounding ones

Each part but the first is weighed in the millimetres of reach that would be as hard. What to weigh
follows published models: hand travel and finger spread with joints kept in mid-range ("J. Motor
Behavior 34(4), 2002, guitar complexity"; "Measuring Behavior 2000"), constraints on the fingers of
a chord ("Computational Modeling of Chord Fingering"), movement along the neck against movement
across it ("Guitar Fingering for Music Performance", ICMC 2005) and the least cost, judged by
professionals ("Ergonomic fingerings for guitar chord sequences", KTH). That the ring and the
little finger are the weakest pair is common practice. Every number is our own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import Any, Final, TypeVar

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import Press

Numbers = TypeVar("Numbers", float, NDArray[np.float64])
"""One number, or a number for each row."""


def _floats(values: Iterable[float]) -> tuple[float, ...]:
    return tuple(map(float, values))


def _check_weight(_owner: object, field: attrs.Attribute[Any], value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise ConditionError(name=field.name, value=value, expected="a number from 0 up")


def _check_weights(owner: object, field: attrs.Attribute[Any], value: tuple[float, ...]) -> None:
    count = len(field.default or ())
    if len(value) != count:
        raise ConditionError(name=field.name, value=value, expected=f"{count} numbers")
    for number in value:
        _check_weight(owner, field, number)


@attrs.frozen
class StrainWeights:
    """What each part of the strain weighs; all are numbers from 0 up, and our own.

    Args:
        reach: For each mm of reach; 1, the unit of the others.
        natural_gap_mm: For fingers 1-2, 2-3, 3-4 and 4-5, how far apart they lie at rest; about a
            finger a fret near the nut of a 648 mm neck. For fingers that are no neighbours the
            gaps between add up.
        stretch: For the same pairs, each mm beyond the natural gap; more for 3-4, the weakest
            pair (common practice). For fingers that are no neighbours the heaviest between holds.
        squeeze: Each mm short of the natural gap.
        finger: The weakness of fingers 1 to 5; the index is the strongest (common practice).
        extra_finger: Each finger beyond the fewest presses. A large number, such as 1000, keeps
            every fingering to the fewest presses.
        barre: For fingers 1 to 5, each string that the finger covers when it lies on several;
            the index bars best, then the ring finger (common practice).
        clearing: A barre that must clear an open or lower string on its treble side, from where
            the finger comes.
        inner_mute: Each muted string between sounding ones.

    Raises:
        ConditionError: A number below 0 or not finite, or too few or too many of them.

    Example:
        >>> round(StrainWeights().gap(1, 2, 40.0), 1)
        8.0
        >>> StrainWeights(reach=-1)
        Traceback (most recent call last):
            ...
        gripwright.errors.ConditionError: reach cannot be -1.0: expected a number from 0 up
    """

    reach: float = attrs.field(default=1.0, converter=float, validator=_check_weight)
    natural_gap_mm: tuple[float, ...] = attrs.field(
        default=(32.0, 30.0, 26.0, 24.0), converter=_floats, validator=_check_weights
    )
    stretch: tuple[float, ...] = attrs.field(
        default=(1.0, 1.0, 1.5, 1.5), converter=_floats, validator=_check_weights
    )
    squeeze: float = attrs.field(default=0.15, converter=float, validator=_check_weight)
    finger: tuple[float, ...] = attrs.field(
        default=(0.0, 2.0, 2.5, 6.5, 9.0), converter=_floats, validator=_check_weights
    )
    extra_finger: float = attrs.field(default=0.5, converter=float, validator=_check_weight)
    barre: tuple[float, ...] = attrs.field(
        default=(3.4, 8.5, 4.25, 8.5, 8.5), converter=_floats, validator=_check_weights
    )
    clearing: float = attrs.field(default=4.0, converter=float, validator=_check_weight)
    inner_mute: float = attrs.field(default=5.0, converter=float, validator=_check_weight)

    def gap(self, low: int, high: int, gap_mm: Numbers) -> Numbers:
        """What the distance between two fingers adds.

        Args:
            low: The lower finger number, from 1.
            high: The next finger in use, above it.
            gap_mm: How far the higher finger lies above the lower one along the neck, in mm;
                negative where a fanned fret puts it below.
        """
        beyond = gap_mm - sum(self.natural_gap_mm[low - 1 : high - 1])
        stretch = max(self.stretch[low - 1 : high - 1])
        # A line with a bend at the natural gap: stretch above it, squeeze below.
        return beyond * ((stretch - self.squeeze) / 2) + abs(beyond) * (
            (stretch + self.squeeze) / 2
        )

    def lying(self, finger: int, covered: Numbers, clearing: Numbers) -> Numbers:
        """What a press adds by lying on several strings.

        Args:
            finger: The finger number, from 1.
            covered: Strings from its first to its last, 0 where it is one.
            clearing: 1 where it covers several and an open or lower string sounds on its treble
                side, else 0.
        """
        return covered * self.barre[finger - 1] + clearing * self.clearing

    def held(self, fingers: tuple[int, ...], presses: int) -> float:
        """What the fingers in use add by their weakness and number.

        Args:
            fingers: Finger numbers, from 1.
            presses: The fewest presses that hold the shape.
        """
        weakness = sum(self.finger[finger - 1] for finger in fingers)
        return weakness + (len(fingers) - presses) * self.extra_finger


USUAL_WEIGHTS: Final = StrainWeights()


@attrs.frozen
class Strain:
    """The strain of one fingering by its parts, each in mm of reach.

    Args:
        reach: The distance from the nearest to the farthest fretted string.
        gaps: Stretch and squeeze between fingers.
        barres: Fingers on several strings.
        fingers: Weakness and number of fingers.
        mutes: Muted strings between sounding ones.

    Example:
        >>> Strain(reach=60.0, gaps=3.5, barres=4.0, fingers=2.5, mutes=0.0).total
        70.0
    """

    reach: float
    gaps: float
    barres: float
    fingers: float
    mutes: float

    @property
    def total(self) -> float:
        """The sum of the parts."""
        return self.reach + self.mutes + self.chosen

    @property
    def chosen(self) -> float:
        """The sum of those parts that depend on which fingers press."""
        return self.gaps + self.barres + self.fingers


def strain_of(
    frets: tuple[int, ...],
    instrument: Instrument,
    held: tuple[tuple[int, Press], ...],
    presses: int,
    weights: StrainWeights = USUAL_WEIGHTS,
) -> Strain:
    """The strain of fingers that press a shape.

    Args:
        frets: The shape, muted -1, from the bass side.
        instrument: The instrument.
        held: Finger numbers and what they press, in order of fingers.
        presses: The fewest presses that hold the shape.
        weights: What each part weighs.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> held = ((1, Press(5, (2, 3, 4))), (4, Press(8, (5,))))
        >>> strain_of((-1, -1, 5, 5, 5, 8), guitar, held, 2).barres  # doctest: +ELLIPSIS
        10.2...
    """
    fretted = [instrument.place_mm(s, fret) for s, fret in enumerate(frets) if fret > 0]
    gaps = barres = 0.0
    for (low, nearer), (high, farther) in pairwise(held):
        near = instrument.place_mm(nearer.strings[0], nearer.fret)
        far = instrument.place_mm(farther.strings[0], farther.fret)
        gaps += weights.gap(low, high, far - near)
    for finger, press in held:
        if len(press.strings) > 1:
            covered = press.strings[-1] - press.strings[0] + 1
            clearing = any(0 <= other < press.fret for other in frets[press.strings[0] :])
            barres += weights.lying(finger, float(covered), float(clearing))
    return Strain(
        reach=weights.reach * (max(fretted) - min(fretted)) if fretted else 0.0,
        gaps=gaps,
        barres=barres,
        fingers=weights.held(tuple(finger for finger, _ in held), presses),
        mutes=weights.inner_mute * len(muted_inside(frets)),
    )


def muted_inside(frets: tuple[int, ...]) -> tuple[int, ...]:
    """Indices of the muted strings between sounding ones, from the bass side.

    Args:
        frets: The shape, muted -1, from the bass side.

    Example:
        >>> muted_inside((3, -1, 4, 4, 3, -1))
        (1,)
    """
    sounding = [string for string, fret in enumerate(frets) if fret >= 0]
    return tuple(
        string
        for string, fret in enumerate(frets)
        if fret < 0 and sounding and sounding[0] < string < sounding[-1]
    )
