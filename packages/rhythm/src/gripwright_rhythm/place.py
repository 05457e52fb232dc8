"""Places of the bar: its beats, what lies between them, and the groups that beats form."""

from __future__ import annotations

import functools
from fractions import Fraction
from typing import Final

import attrs

from gripwright.meter import Meter
from gripwright.meter.pattern_text import number_text

# The usual groups of beats where a metre is written without them (common practice): by the number
# of beats, and for metres of quarters alone by their count.
_GROUPS: Final = {2: (2,), 3: (3,), 4: (2, 2)}
_GROUPS_OF_QUARTERS: Final = {5: (3, 2), 7: (4, 3)}
_QUARTER: Final = 4
_UNITS: Final = {8: ("8th", "eighth"), 16: ("16th", "sixteenth"), 32: ("32nd", "thirty-second")}


@attrs.frozen
class Place:
    """A place of the bar.

    Args:
        beat: Where it is, in beats from 1: 5/2 is the and of two.
        label: What a name calls it: ``2.5``; in a compound metre, where units are counted,
            ``8th-4``.
        words: What a sentence calls it.
    """

    beat: Fraction
    label: str
    words: str

    @property
    def on_beat(self) -> bool:
        """Whether it is a beat."""
        return self.beat.denominator == 1


def beats(meter: Meter) -> tuple[Place, ...]:
    """The beats of a metre.

    Example:
        >>> [place.label for place in beats(Meter(3, 4))]
        ['1', '2', '3']
        >>> [place.label for place in beats(Meter(6, 8))]
        ['8th-1', '8th-4']
    """
    return tuple(place for place in places(meter) if place.on_beat)


def off_beats(meter: Meter) -> tuple[Place, ...]:
    """One place off each beat: its half; in a compound metre its last third, as a shuffle has it.

    Example:
        >>> [place.label for place in off_beats(Meter(3, 4))]
        ['1.5', '2.5', '3.5']
        >>> [place.label for place in off_beats(Meter(6, 8))]
        ['8th-3', '8th-6']
    """
    return places(meter)[_parts(meter) - 1 :: _parts(meter)]


@functools.lru_cache(maxsize=64)
def places(meter: Meter) -> tuple[Place, ...]:
    """Every place of the bar: beats and their halves; in a compound metre its units.

    Example:
        >>> [place.label for place in places(Meter(2, 4))]
        ['1', '1.5', '2', '2.5']
        >>> [str(place.beat) for place in places(Meter(6, 8))]
        ['1', '4/3', '5/3', '2', '7/3', '8/3']
    """
    parts = _parts(meter)
    return tuple(
        _place(meter, Fraction(index, parts) + 1, index + 1)
        for index in range(meter.pulses * parts)
    )


def groups(meter: Meter) -> tuple[int, ...]:
    """The beats in each group: as the metre is written, else as is usual (common practice).

    Returns:
        The groups; none where the metre is not written with them and no grouping is usual.

    Example:
        >>> groups(Meter(4, 4)), groups(Meter(7, 4)), groups(Meter(12, 8)), groups(Meter(11, 8))
        ((2, 2), (4, 3), (2, 2), ())
    """
    if meter.groups:
        return meter.groups
    usual = _GROUPS.get(meter.pulses)
    if usual is None and meter.unit == _QUARTER:
        usual = _GROUPS_OF_QUARTERS.get(meter.count)
    return usual or ()


def group_beats(meter: Meter, nth: int) -> tuple[int, ...]:
    """The nth beat of each group: the first ones are strong, the second ones the backbeats.

    Returns:
        The beats; none where a group is too short, or no grouping is known.

    Example:
        >>> group_beats(Meter(4, 4), 2), group_beats(Meter(5, 4, (2, 3)), 2)
        ((2, 4), (2, 4))
    """
    known = groups(meter)
    if not known or min(known) < nth:
        return ()
    return tuple(sum(known[:index]) + nth for index in range(len(known)))


def middle_beat(meter: Meter) -> int | None:
    """The beat on which a chord usually changes inside the bar (common practice).

    Returns:
        The first beat of the second group; the last beat where there is one group of two or
        three; None where no grouping is known.

    Example:
        >>> [middle_beat(Meter.parse(text)) for text in ("4/4", "3/4", "6/8", "2+3/4", "11/8")]
        [3, 3, 2, 3, None]
    """
    starts = group_beats(meter, 1)
    if len(starts) == 1:
        return meter.pulses
    return starts[1] if starts else None


def _parts(meter: Meter) -> int:
    return 3 if meter.compound else 2


def _place(meter: Meter, beat: Fraction, unit: int) -> Place:
    number = number_text(beat)
    on_beat = beat.denominator == 1
    if meter.compound:
        label, word = _UNITS[meter.unit]
        return Place(beat, f"{label}-{unit}", f"beat {number}" if on_beat else f"{word} {unit}")
    return Place(beat, number, f"beat {number}" if on_beat else f"the and of {int(beat)}")
