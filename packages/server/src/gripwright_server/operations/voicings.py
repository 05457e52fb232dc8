"""Every playable voicing of a chord symbol, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

import gripwright
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
from gripwright_server.operations.voicing_row import VoicingRow, voicing_rows

if TYPE_CHECKING:
    from gripwright import Chord, Instrument, VoicingTable

ORDERS: Final = ("teaching", "ease", "position", "top", "notes")
"""The orders of `gripwright.ranking` that a request can name, the usual one first."""

LIMIT: Final = 20
"""Voicings shown where nothing else is asked for."""


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
        limit: How many are shown; None shows all.
    """

    chord: "Chord"
    instrument: "Instrument"
    table: "VoicingTable"
    limit: int | None

    @property
    def shown(self) -> "VoicingTable":
        """The voicings shown."""
        return self.table[: self.limit]

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
        return voicing_rows(self.shown)


def voicings(request: VoicingsRequest, registry: RegistrySource) -> VoicingsResult:
    """Find every playable voicing and put them in order.

    Args:
        request: Symbol, player and conditions.
        registry: Asked for the instrument and the strategy.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NotationError: The open strings or the top note cannot be read.
        UnknownNameError: No instrument or strategy has that name.
        ConditionError: A condition contradicts the instrument, the chord or another one.
        RowBoundError: There are more voicings than the library holds.
        NothingFoundError: There is none; the sentence names the condition that emptied it.
    """
    chord = chord_of(request.symbol, request)
    known = registry()
    instrument = instrument_of(request, known)
    strategy = known.strategies[request.strategy]
    hand = hand_of(request)
    conditions = conditions_of(request)
    table = gripwright.find_voicings(chord, instrument, hand, strategy, **conditions)
    if not len(table):
        # Late on purpose: what explains an empty search needs NumPy, which help must not load.
        from gripwright.neck.emptiness import explain_empty  # noqa: PLC0415

        reason = explain_empty(chord, instrument, hand, strategy, **conditions)
        raise NothingFoundError(sentence=reason.sentence, condition=reason.condition)
    order = gripwright.ranking.RANKINGS[request.order]
    return VoicingsResult(chord, instrument, table.order_by(order), request.limit)


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
