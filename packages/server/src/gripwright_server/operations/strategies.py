"""The voicing strategies that the plugins give, and how they stack a chord."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final, TypedDict

import attrs

from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.reading import ReadingOptions, chord_of

if TYPE_CHECKING:
    from gripwright import Chord, Registry, VoicingStrategy


@attrs.frozen(kw_only=True, slots=False)
class StrategiesRequest(ReadingOptions):
    """A request for every strategy, and for what each makes of a chord."""

    heading: ClassVar[str] = "Chord"

    chord: str | None = option(
        help="show how each strategy stacks this chord", default=None, form="SYMBOL"
    )


class RecipeRow(TypedDict):
    """One stack of tones.

    Keys: ``degrees``, lowest first, none where any order will do; ``offsets``, semitones of each
    above the lowest; ``voices``, which chord it voices: ``as_written``, ``frame``, ``tensions``
    or ``scale``.
    """

    degrees: tuple[str, ...]
    offsets: tuple[int, ...]
    voices: str


@attrs.frozen(kw_only=True)
class StrategyRow:
    """A row: one strategy.

    Args:
        name: What a request calls it.
        summary: What it does, one sentence.
        distribution: The distribution that brings it, or None.
        recipes: How it stacks the chord of the request; none where it has none for that chord,
            None where the request names no chord.
    """

    name: str
    summary: str
    distribution: str | None
    recipes: tuple[RecipeRow, ...] | None


@attrs.frozen
class StrategiesResult:
    """Every strategy, by name.

    Args:
        strategies: The strategies.
        distributions: For each the distribution that brings it, or None.
        chord: The chord that they stack, if any.
    """

    strategies: "tuple[VoicingStrategy, ...]"
    distributions: tuple[str | None, ...]
    chord: "Chord | None"

    @property
    def count(self) -> int:
        """Strategies found in all."""
        return len(self.strategies)

    @property
    def returned(self) -> int:
        """Strategies that `rows` yields: all of them."""
        return len(self.strategies)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the symbol leaves open."""
        return () if self.chord is None else self.chord.warnings

    def rows(self) -> Iterator[StrategyRow]:
        """One row a strategy."""
        for strategy, distribution in zip(self.strategies, self.distributions, strict=True):
            yield StrategyRow(
                name=strategy.name,
                summary=strategy.summary,
                distribution=distribution,
                recipes=None if self.chord is None else _recipes(strategy, self.chord),
            )


def strategies(request: StrategiesRequest, registry: RegistrySource) -> StrategiesResult:
    """List every voicing strategy of the registry, by name.

    Args:
        request: A chord to stack, or none.
        registry: Asked for the strategies.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NothingFoundError: No plugin gives a strategy.
    """
    chord = None if request.chord is None else chord_of(request.chord, request)
    known = registry()
    if not known.strategies:
        raise NothingFoundError(
            sentence="there is no strategy: no plugin that gives one is in use"
            " (the library's own are in the plugin builtins)"
        )
    names = sorted(known.strategies)
    return StrategiesResult(
        strategies=tuple(known.strategies[name] for name in names),
        distributions=tuple(_distribution(name, known) for name in names),
        chord=chord,
    )


def _distribution(name: str, registry: "Registry") -> str | None:
    """The distribution whose plugin gives a strategy."""
    return next(plugin.distribution for plugin in registry.plugins if name in plugin.strategies)


def _recipes(strategy: "VoicingStrategy", chord: "Chord") -> tuple[RecipeRow, ...]:
    return tuple(
        RecipeRow(
            degrees=tuple(map(str, recipe.degrees)),
            offsets=recipe.offsets,
            voices=recipe.voices,
        )
        for recipe in strategy.recipes(chord)
    )


STRATEGIES: Final = Operation(
    name="strategies",
    summary="List the voicing strategies, and how they stack a chord",
    collection="strategies",
    request=StrategiesRequest,
    function=strategies,
    result=StrategiesResult,
    row=StrategyRow,
)
"""The list of strategies as an operation."""
