"""Bars: the chords, hits and signs written between two bar lines."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any, Final, Generic, Literal, TypeVar, cast

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Hit, Meter
from gripwright.meter.hit import exact

S = TypeVar("S")
T = TypeVar("T")

JumpText = Literal["D.C.", "D.C. al Fine", "D.C. al Coda", "D.S.", "D.S. al Fine", "D.S. al Coda"]
"""Where to go after a bar: back to the start or to the segno, and how far from there."""

JUMPS: Final[tuple[JumpText, ...]] = (
    *("D.C.", "D.C. al Fine", "D.C. al Coda"),
    *("D.S.", "D.S. al Fine", "D.S. al Coda"),
)

OPEN: Final = 0
"""The `repeat_end` of a vamp that is left open: played as often as whoever plays it likes."""

PLAIN: Final = 2
"""The `repeat_end` of a repeat that says nothing: played twice."""

MOST_PLAYED: Final = 99
"""How often a repeat is played at most."""


@attrs.frozen
class Slot(Generic[S]):
    """A chord at its place in a bar.

    It lasts until the next slot of the bar or of the bars that follow: a bar whose first slot
    stands after its start continues the chord before.

    Args:
        symbol: The chord, or whatever the reader of the chart makes of a symbol; None for N.C.,
            no chord.
        onset: Quarters from the start of the bar, 0 to 256.
        held: Whether it is attacked once and held to its end, whatever the rhythm is.

    Raises:
        ConditionError: The onset is out of range, or N.C. is held.

    Example:
        >>> from gripwright import Chord
        >>> Slot(Chord.parse("G7"), Fraction(2)).onset
        Fraction(2, 1)
    """

    symbol: S | None = attrs.field()
    onset: Fraction = attrs.field(default=Fraction(0), converter=exact)
    held: bool = attrs.field(default=False)

    @held.validator
    def _check_held(self, _attribute: object, value: bool) -> None:  # noqa: FBT001 - attrs calls it
        if value and self.symbol is None:
            raise ConditionError(name="held", value=value, expected="a chord to hold, not N.C.")


def _rising(places: Iterable[Fraction]) -> bool:
    return all(one < two for one, two in itertools.pairwise(places))


def _as_slots(slots: Iterable[Slot[S]]) -> tuple[Slot[S], ...]:
    return tuple(slots)


def _as_hits(hits: Iterable[Hit] | None) -> tuple[Hit, ...] | None:
    return None if hits is None else tuple(hits)


def _as_endings(endings: Iterable[int]) -> tuple[int, ...]:
    return tuple(endings)


@attrs.frozen
class Bar(Generic[S]):
    """What is written between two bar lines, and on them.

    Args:
        slots: The chords, with rising onsets; none where the chord before goes on.
        hits: The attacks that the bar prescribes, with rising onsets; empty for a break in which
            nobody attacks, None where the rhythm is the player's.
        same: ``%``: chords and hits are those of the bar written before; it has none of its own.
        meter: The metre of this bar alone, where it is not that of its section.
        repeat_start: ``|:`` stands before the bar.
        repeat_end: ``:|`` stands after it: how often the repeat is played in all, 2 to 99, or
            `OPEN` for a vamp left open; None where no repeat ends.
        endings: The passes that begin an ending here, 1 or more and rising.
        segno: The segno stands before the bar: ``D.S.`` leads here.
        coda: The coda starts here.
        to_coda: After this bar the coda is played, once an ``al Coda`` was followed.
        fine: The tune ends after this bar, once a jump was followed that is not ``al Coda``.
        jump: One of `JUMPS`, followed once, after the bar.

    Raises:
        ConditionError: A value outside its range, or signs that exclude each other.

    Example:
        >>> from gripwright import Chord
        >>> bar = Bar([Slot(Chord.parse("Dm7")), Slot(Chord.parse("G7"), 2)], repeat_end=2)
        >>> [str(slot.symbol) for slot in bar.slots]
        ['Dm7', 'G7']
    """

    slots: tuple[Slot[S], ...] = attrs.field(default=(), converter=_as_slots)
    hits: tuple[Hit, ...] | None = attrs.field(default=None, converter=_as_hits, kw_only=True)
    same: bool = attrs.field(default=False, kw_only=True)
    meter: Meter | None = attrs.field(default=None, kw_only=True)
    repeat_start: bool = attrs.field(default=False, kw_only=True)
    repeat_end: int | None = attrs.field(default=None, kw_only=True)
    endings: tuple[int, ...] = attrs.field(default=(), converter=_as_endings, kw_only=True)
    segno: bool = attrs.field(default=False, kw_only=True)
    coda: bool = attrs.field(default=False, kw_only=True)
    to_coda: bool = attrs.field(default=False, kw_only=True)
    fine: bool = attrs.field(default=False, kw_only=True)
    jump: JumpText | None = attrs.field(default=None, kw_only=True)

    @slots.validator
    def _check_slots(self, _attribute: object, value: tuple[Slot[Any], ...]) -> None:
        if len(value) > 1 and not _rising(slot.onset for slot in value):
            raise ConditionError(name="slots", value=value, expected="rising onsets")

    @hits.validator
    def _check_hits(self, _attribute: object, value: tuple[Hit, ...] | None) -> None:
        if value and not _rising(hit.onset for hit in value):
            raise ConditionError(name="hits", value=value, expected="rising onsets")

    @same.validator
    def _check_same(self, _attribute: object, value: bool) -> None:  # noqa: FBT001 - attrs calls it
        if value and (self.slots or self.hits is not None):
            raise ConditionError(
                name="same", value=value, expected="a bar with no chords or hits of its own"
            )

    @repeat_end.validator
    def _check_repeat_end(self, _attribute: object, value: int | None) -> None:
        if value is not None and value != OPEN and not PLAIN <= value <= MOST_PLAYED:
            raise ConditionError(
                name="repeat_end", value=value, expected=f"{PLAIN} to {MOST_PLAYED}, OPEN or None"
            )

    @endings.validator
    def _check_endings(self, _attribute: object, value: tuple[int, ...]) -> None:
        if not value:
            return
        rising = all(one < two for one, two in itertools.pairwise(value))
        if not (rising and value[0] >= 1 and value[-1] <= MOST_PLAYED):
            raise ConditionError(
                name="endings", value=value, expected=f"rising passes from 1 to {MOST_PLAYED}"
            )

    @jump.validator
    def _check_jump(self, _attribute: object, value: str | None) -> None:
        if value is not None and value not in JUMPS:
            raise ConditionError(name="jump", value=value, expected=" or ".join(JUMPS))

    def mapped(self, function: Callable[[S], T]) -> Bar[T]:
        """The bar with every symbol replaced by what a function makes of it; N.C. stays.

        Example:
            >>> Bar([Slot("ii"), Slot(None, 2)]).mapped(str.upper).slots[0].symbol
            'II'
        """
        slots = tuple(
            Slot(None if slot.symbol is None else function(slot.symbol), slot.onset, slot.held)
            for slot in self.slots
        )
        # evolve() cannot change the type parameter.
        mapped: Any = attrs.evolve(self, slots=cast("Any", slots))
        return cast("Bar[T]", mapped)

    @property
    def signed(self) -> bool:
        """Whether a sign stands in it or on its bar lines: a repeat, an ending, a jump."""
        return (
            self.repeat_start
            or self.repeat_end is not None
            or self.endings != ()
            or self.segno
            or self.coda
            or self.to_coda
            or self.fine
            or self.jump is not None
        )
