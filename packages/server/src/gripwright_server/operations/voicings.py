"""Every playable voicing of a chord symbol, as an operation."""

import functools
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

import gripwright
from gripwright.errors import ConditionError
from gripwright_server.operations.conditions import ConditionOptions, conditions_of
from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.picture import PictureOptions
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)
from gripwright_server.operations.reading import ReadingOptions, chord_of
from gripwright_server.operations.voicing_row import VoicingRow
from gripwright_server.operations.voicing_rows import VoicingRows

if TYPE_CHECKING:
    from gripwright import Chord, Hand, Instrument, VoicingStrategy, VoicingTable
    from gripwright.neck.reduction import Reduction

ORDERS: Final = ("teaching", "ease", "position", "top", "notes")
"""The orders of `gripwright.ranking` that a request can name, the usual one first."""

LIMIT: Final = 20
"""Voicings shown where nothing else is asked for."""

# Where only another hand would bring voicings, a chord with fewer tones is the better advice.
_HAND: Final = frozenset(attribute.name for attribute in attrs.fields(HandOptions))


@attrs.frozen(kw_only=True, slots=False)
class ListOptions:
    """Which voicings come first, and how many."""

    heading: ClassVar[str] = "Which, in what order, how many"

    strategy: str = option(
        help="the way the voicing is built; any is all of them",
        default="any",
        names="strategies",
        form="NAME",
    )
    order: str = option(help="what comes first", default=ORDERS[0], choices=ORDERS)
    limit: int | None = option(help="how many are shown", default=LIMIT, ge=1)
    diverse: bool = option(
        help="show those that differ most: other places on the neck, families and top notes",
        default=False,
    )


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class VoicingsRequest(
    PictureOptions, ListOptions, ConditionOptions, HandOptions, InstrumentOptions, ReadingOptions
):
    """A chord symbol, the player and the conditions."""

    heading: ClassVar[str] = "Chord"

    symbol: str = option(
        help="a chord symbol, such as Cmaj9, F#m7b5, G7/B", positional=True, form="SYMBOL"
    )


@attrs.frozen
class VoicingsResult:
    """The voicings of a chord, all of them in order, of which a part is shown.

    Args:
        chord: The chord.
        instrument: The instrument, with its capo.
        table: Every voicing found, in the order asked for.
        shown: Those of them that are shown.
        diverse: Whether those shown are chosen to differ.
        first: Where those shown begin in the table, from 0, where they are not chosen.
        all_rows: The rows of the table.
    """

    chord: "Chord"
    instrument: "Instrument"
    table: "VoicingTable"
    shown: "VoicingTable"
    diverse: bool = False
    first: int = 0
    all_rows: VoicingRows = attrs.field(
        default=attrs.Factory(lambda self: VoicingRows(self.table), takes_self=True),
        eq=False,
        repr=False,
    )

    @property
    def count(self) -> int:
        """Voicings found in all."""
        return len(self.table)

    @property
    def returned(self) -> int:
        """Voicings shown."""
        return len(self.shown)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the symbol leaves open."""
        return self.chord.warnings

    def rows(self) -> Iterator[VoicingRow]:
        """One row a voicing shown."""
        if self.diverse:
            return VoicingRows(self.shown).values()
        return self.all_rows.values(self.first, self.first + self.returned)

    def row_texts(self) -> Iterator[bytes]:
        """The rows as JSON in ASCII, without spaces."""
        if self.diverse:
            return VoicingRows(self.shown).texts()
        return self.all_rows.texts(self.first, self.first + self.returned)

    def part(self, start: int, stop: int | None) -> "VoicingsResult":
        """The same voicings, of which those from `start` to before `stop` are shown."""
        return attrs.evolve(self, shown=self.table[start:stop], first=start, diverse=False)


class NoVoicingError(NothingFoundError):
    """A search that found nothing.

    Args:
        sentence: Why there is none.
        condition: As in `NothingFoundError`.
        reductions: The nearest chords with fewer tones that have voicings, where neither a
            condition of the request nor a strategy stands in the way.
    """

    reductions: "tuple[Reduction, ...]"

    def __init__(
        self,
        *,
        sentence: str,
        condition: str | None = None,
        reductions: "tuple[Reduction, ...]" = (),
    ) -> None:
        super().__init__(sentence=sentence, condition=condition)
        self.reductions = reductions
        self._data["reductions"] = reductions


def voicings(request: VoicingsRequest, registry: RegistrySource) -> VoicingsResult:
    """Find every playable voicing and put them in order.

    Args:
        request: Symbol, player and conditions.
        registry: Asked for the instrument and the strategy.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NotationError: The open strings or the top note cannot be read.
        UnknownNameError: No instrument or strategy has that name.
        ConditionError: A condition contradicts the instrument, the chord or another one, or
            diverse ones are asked for without a limit.
        RowBoundError: There are more voicings than the library holds.
        NoVoicingError: There is none; the sentence names the condition that emptied it.
    """
    choice = _choice(request)
    chord = chord_of(request.symbol, request)
    known = registry()
    instrument = instrument_of(request, known)
    strategy = known.strategies[request.strategy]
    hand = hand_of(request)
    conditions = conditions_of(request)
    table = gripwright.find_voicings(chord, instrument, hand, strategy, **conditions)
    if not len(table):
        raise _no_voicing(chord, instrument, hand, strategy, conditions)
    ordered = table.order_by(gripwright.ranking.RANKINGS[request.order])
    return VoicingsResult(chord, instrument, ordered, choice(ordered), request.diverse)


def _choice(request: ListOptions) -> "Callable[[VoicingTable], VoicingTable]":
    """How those shown are taken from all voicings in order."""
    limit = request.limit
    if not request.diverse:
        return lambda table: table[:limit]
    if limit is None:
        raise ConditionError(
            name="limit", value=None, expected="a number, since diverse chooses so many"
        )
    return functools.partial(_differing, count=limit)


def _differing(table: "VoicingTable", *, count: int) -> "VoicingTable":
    from gripwright.neck.diversity import diverse  # noqa: PLC0415 - help must not load NumPy

    return diverse(table, count)


def _no_voicing(
    chord: "Chord",
    instrument: "Instrument",
    hand: "Hand",
    strategy: "VoicingStrategy",
    conditions: dict[str, Any],
) -> NoVoicingError:
    # Late on purpose: what explains an empty search needs NumPy, which help must not load.
    from gripwright.neck.emptiness import explain_empty  # noqa: PLC0415
    from gripwright.neck.reduction import reductions  # noqa: PLC0415

    reason = explain_empty(chord, instrument, hand, strategy, **conditions)
    nearest: tuple[Reduction, ...] = ()
    if reason.condition is None or reason.condition in _HAND:
        nearest = reductions(chord, instrument, hand, strategy, **conditions)
    return NoVoicingError(sentence=reason.sentence, condition=reason.condition, reductions=nearest)


VOICINGS: Final = Operation(
    name="voicings",
    summary="Find every playable voicing of a chord symbol",
    collection="voicings",
    request=VoicingsRequest,
    function=voicings,
    result=VoicingsResult,
    row=VoicingRow,
    formats=("json", "ndjson", "csv", "svg"),
)
"""The search as an operation."""
