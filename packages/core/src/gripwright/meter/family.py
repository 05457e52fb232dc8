"""Rhythm families: patterns that belong together, written out or made by a rule."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from functools import cached_property
from typing import Protocol, runtime_checkable

import attrs

from gripwright.errors import ConditionError
from gripwright.meter.meter import Meter
from gripwright.meter.meter_set import MeterSet
from gripwright.meter.pattern import RhythmPattern


@runtime_checkable
class RhythmFamily(Protocol):
    """A family of rhythm patterns that belong together, for the metres that it knows.

    `WrittenFamily` and `MadeFamily` are such families; any other object of this form is one too.

    Example:
        >>> from gripwright import RhythmPattern
        >>> one = WrittenFamily("ones", "A chord on one.", [RhythmPattern.parse("1")])
        >>> isinstance(one, RhythmFamily), Meter(4, 4) in one.meters, Meter(3, 4) in one.meters
        (True, True, False)
    """

    @property
    def name(self) -> str:
        """Its name: lower-case ASCII letters, digits and hyphens, starting with a letter."""

    @property
    def summary(self) -> str:
        """One line for a list of families."""

    @property
    def meters(self) -> Collection[Meter]:
        """The metres that it has patterns for.

        ``meter in family.meters`` says whether it knows one; iterating yields those worth
        listing. A tuple of metres will do; `gripwright.meter.ANY_METER` stands for all there are.
        """

    def patterns(self, meter: Meter, /, *, seed: int) -> Iterable[RhythmPattern]:
        """Give the patterns in one of its metres, equal for equal arguments.

        Args:
            meter: One of `meters`.
            seed: Chooses among patterns where the family varies them.

        Returns:
            Rhythm patterns, the plainest first; their names differ.

        Raises:
            ConditionError: The family does not know the metre; says which it knows.
        """


def _as_patterns(patterns: Iterable[RhythmPattern]) -> tuple[RhythmPattern, ...]:
    return tuple(patterns)


@attrs.frozen(slots=False)
class WrittenFamily:
    """A family whose patterns are written out.

    A pattern whose metre has groups is for the metre without them too: one in 3+2/4 is played
    in 5/4.

    Args:
        name: Its name: lower-case ASCII letters, digits and hyphens, starting with a letter.
        summary: One line for a list of families.
        written: The patterns, the plainest first, in one metre or several.

    Raises:
        ConditionError: No pattern, or two of one name in one metre.

    Example:
        >>> family = WrittenFamily("waltz", "Waltz time.", [
        ...     RhythmPattern.parse("2' 3'", Meter(3, 4), name="waltz-2-3"),
        ... ])
        >>> [str(pattern) for pattern in family.patterns(Meter(3, 4))]
        ["2' 3'"]
        >>> try:
        ...     family.patterns(Meter(5, 4))
        ... except ConditionError as error:
        ...     print(error)
        metre of rhythm family 'waltz' cannot be '5/4': expected 3/4
    """

    name: str
    summary: str
    written: tuple[RhythmPattern, ...] = attrs.field(converter=_as_patterns)

    @written.validator
    def _check_written(self, _attribute: object, value: tuple[RhythmPattern, ...]) -> None:
        if not value:
            raise ConditionError(name="patterns", value=value, expected="one pattern or more")
        named: dict[str, list[Meter]] = {}
        for pattern in value:
            meters = named.setdefault(pattern.name, [])
            if any(meter.matches(pattern.meter) for meter in meters):
                raise ConditionError(
                    name=f"pattern of rhythm family {self.name!r}",
                    value=pattern.name,
                    expected=f"one pattern of that name in {pattern.meter}",
                )
            meters.append(pattern.meter)

    @cached_property
    def meters(self) -> MeterSet:
        """The metres of its patterns."""
        return MeterSet.of(pattern.meter for pattern in self.written)

    def patterns(self, meter: Meter, /, *, seed: int = 0) -> tuple[RhythmPattern, ...]:
        """Give the patterns that can be played in a metre, in their order.

        Args:
            meter: One of `meters`.
            seed: Changes nothing: the patterns are written out.

        Raises:
            ConditionError: The family does not know the metre; says which it knows.
        """
        del seed
        _check_known(self.name, meter, self.meters)
        return tuple(pattern for pattern in self.written if meter.matches(pattern.meter))


@attrs.frozen
class MadeFamily:
    """A family whose patterns are made for the metre that is asked for.

    Args:
        name: Its name: lower-case ASCII letters, digits and hyphens, starting with a letter.
        summary: One line for a list of families.
        meters: The metres that it knows.
        make: Gives the patterns in one of them, from the metre and a seed, the plainest first.

    Example:
        >>> from gripwright.meter import ANY_METER
        >>> def last_beat(meter: Meter, seed: int) -> list[RhythmPattern]:
        ...     return [RhythmPattern.parse(f"{meter.pulses}", meter, name="last-beat")]
        >>> family = MadeFamily("last", "The last beat alone.", ANY_METER, last_beat)
        >>> [str(pattern) for pattern in family.patterns(Meter(7, 8))]
        ['7']
    """

    name: str
    summary: str
    meters: Collection[Meter]
    make: Callable[[Meter, int], Iterable[RhythmPattern]] = attrs.field(repr=False)

    def patterns(self, meter: Meter, /, *, seed: int = 0) -> tuple[RhythmPattern, ...]:
        """Give the patterns in a metre.

        Args:
            meter: One of `meters`.
            seed: Chooses among patterns where the family varies them.

        Raises:
            ConditionError: The family does not know the metre; says which it knows.
        """
        _check_known(self.name, meter, self.meters)
        return tuple(self.make(meter, seed))


def _check_known(name: str, meter: Meter, known: Collection[Meter]) -> None:
    if meter not in known:
        words = str(known) if isinstance(known, MeterSet) else ", ".join(map(str, known))
        raise ConditionError(
            name=f"metre of rhythm family {name!r}", value=str(meter), expected=words
        )
