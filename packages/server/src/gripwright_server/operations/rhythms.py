"""The rhythm patterns that there are in a metre, as an operation."""

from collections.abc import Iterator
from typing import Any, ClassVar, Final

import attrs

from gripwright.meter import Meter, RhythmPattern
from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.rhythm_choice import patterns_of


@attrs.frozen(kw_only=True)
class RhythmsRequest:
    """A metre, and a family where one alone is wanted."""

    heading: ClassVar[str] = "Which patterns"

    meter: str = option(help="the metre, such as 4/4, 6/8 or 3+2/4", default="4/4", form="METRE")
    family: str | None = option(
        help="one family alone", default=None, names="rhythm_families", form="NAME"
    )
    seed: int = option(help="chooses where a rhythm is random", default=0, ge=0)


@attrs.frozen(kw_only=True)
class RhythmRow:
    """A row: one pattern.

    Args:
        family: The family that gives it.
        name: Its name.
        summary: One line about it.
        meter: Its metre.
        bars: Bars that it lasts.
        text: Its attacks as text, which reads back.
        dynamic: How loud, as a MIDI velocity.
        later: What the choruses after the first play, as text; empty where they play the same.
    """

    family: str
    name: str
    summary: str
    meter: str
    bars: int
    text: str
    dynamic: int
    later: tuple[str, ...]


@attrs.frozen
class RhythmsResult:
    """The patterns.

    Args:
        meter: The metre.
        patterns: Each with the name of its family.
        summaries: One line about each family.
    """

    meter: Meter
    patterns: tuple[tuple[str, RhythmPattern], ...]
    summaries: dict[str, str]

    @property
    def count(self) -> int:
        """How many patterns there are."""
        return len(self.patterns)

    @property
    def returned(self) -> int:
        """Patterns that `rows` yields: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def facts(self) -> dict[str, Any]:
        """One line about each family."""
        return {"families": self.summaries}

    def rows(self) -> Iterator[RhythmRow]:
        """One row a pattern, family by family."""
        for family, pattern in self.patterns:
            yield RhythmRow(
                family=family,
                name=pattern.name,
                summary=pattern.summary,
                meter=str(pattern.meter),
                bars=pattern.bars,
                text=str(pattern),
                dynamic=pattern.dynamic,
                later=tuple(map(str, pattern.later)),
            )


def rhythms(request: RhythmsRequest, registry: RegistrySource) -> RhythmsResult:
    """Give the rhythm patterns in a metre.

    Args:
        request: The metre, and a family where one alone is wanted.
        registry: Asked for the rhythm families.

    Raises:
        NotationError: The metre cannot be read.
        UnknownNameError: No family has that name.
        ConditionError: The family does not know the metre.
        NothingFoundError: No family knows the metre.
    """
    meter = Meter.parse(request.meter)
    families = registry().rhythm_families
    if request.family is not None:
        # A family asked for by its name says itself what it does not know.
        family = families[request.family]
        found = tuple((family.name, one) for one in family.patterns(meter, seed=request.seed))
        return RhythmsResult(meter, found, {family.name: family.summary})
    found = tuple(
        (family.name, pattern)
        for family in families.values()
        for pattern in patterns_of(family, meter, request.seed)
    )
    if not found:
        raise NothingFoundError(sentence=f"no rhythm family knows {meter}", condition="meter")
    given = {name for name, _ in found}
    summaries = {name: one.summary for name, one in families.items() if name in given}
    return RhythmsResult(meter, found, summaries)


RHYTHMS: Final = Operation(
    name="rhythms",
    summary="Show the rhythm patterns in a metre",
    collection="patterns",
    request=RhythmsRequest,
    function=rhythms,
    result=RhythmsResult,
    row=RhythmRow,
    formats=("json", "ndjson", "csv"),
)
"""Rhythm patterns as an operation."""
