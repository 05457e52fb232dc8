"""Sets of metres: those that rhythms of one kind are made for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from typing import Final

import attrs

from gripwright.meter.meter import Meter

USUAL_METERS: Final = tuple(
    map(Meter.parse, ("4/4", "3/4", "2/4", "2/2", "5/4", "7/4", "6/8", "9/8", "12/8"))
)
"""The metres that lists show (common practice)."""


@attrs.frozen
class MeterSet(Collection[Meter]):
    """Metres given by a rule, of which some are worth listing.

    ``meter in metres`` asks the rule; iterating yields the listed ones.

    Args:
        words: What they have in common, for messages: ``"any metre of 2 beats or more"``.
        listed: Those that a list shows; each fits the rule.
        rule: Whether a metre belongs to them.

    Example:
        >>> even = MeterSet.where("any metre of an even count", lambda meter: meter.count % 2 == 0)
        >>> Meter(10, 8) in even, Meter(5, 4) in even
        (True, False)
        >>> [str(meter) for meter in even]
        ['4/4', '2/4', '2/2', '6/8', '12/8']
        >>> Meter(5, 4) in MeterSet.of([Meter(5, 4, (3, 2))])
        True
    """

    words: str
    listed: tuple[Meter, ...]
    rule: Callable[[Meter], bool] = attrs.field(repr=False)

    @classmethod
    def where(cls, words: str, rule: Callable[[Meter], bool]) -> MeterSet:
        """The metres that fit a rule; the usual ones of them are listed.

        Args:
            words: What they have in common, for messages.
            rule: Whether a metre belongs to them.
        """
        return cls(words, tuple(filter(rule, USUAL_METERS)), rule)

    @classmethod
    def of(cls, meters: Iterable[Meter]) -> MeterSet:
        """Certain metres, and each that a rhythm in one of them can be played in.

        Args:
            meters: The metres; each is listed once.
        """
        listed = tuple(dict.fromkeys(meters))
        words = ", ".join(map(str, listed))
        return cls(words, listed, lambda meter: any(meter.matches(one) for one in listed))

    def __contains__(self, meter: object) -> bool:
        return isinstance(meter, Meter) and self.rule(meter)

    def __iter__(self) -> Iterator[Meter]:
        return iter(self.listed)

    def __len__(self) -> int:
        return len(self.listed)

    def __str__(self) -> str:
        return self.words


ANY_METER: Final = MeterSet.where("any metre", lambda _meter: True)
"""Every metre that there is; the usual ones are listed."""
