"""Every playable voicing of a chord symbol, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

import gripwright
from gripwright_server.operations.conditions import ConditionOptions, conditions_of
from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)
from gripwright_server.operations.reading import ReadingOptions, chord_of

if TYPE_CHECKING:
    from gripwright import Chord, Instrument, Voicing, VoicingTable

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
    ListOptions, ConditionOptions, HandOptions, InstrumentOptions, ReadingOptions
):
    """A chord symbol, the player and the conditions."""

    heading: ClassVar[str] = "Chord"

    symbol: str = option(
        help="a chord symbol, such as Cmaj9, F#m7b5, G7/B", positional=True, form="SYMBOL"
    )


@attrs.frozen(kw_only=True)
class VoicingRow:
    """A row: one voicing, strings from the bass side to the treble side.

    Args:
        id: Instrument and shape; it names the grip, not the chord.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings.
        reach_mm: Distance along the neck from the nearest to the farthest fretted note in mm,
            to a tenth.
        presses: Presses of the fretting hand.
        notes: Strings that sound.
        open_strings: Strings that sound open.
        bass_degree: Degree of the lowest pitch.
        top_degree: Degree of the highest pitch.
        added: Degrees that sound and are not in the symbol.
        left_out: Degrees of the symbol that do not sound.
    """

    id: str
    frets: tuple[int | None, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    reach_mm: float
    presses: int
    notes: int
    open_strings: int
    bass_degree: str
    top_degree: str
    added: tuple[str, ...]
    left_out: tuple[str, ...]


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
        return map(voicing_row, self.shown)


def voicing_row(voicing: "Voicing") -> VoicingRow:
    """The row of a voicing."""
    pitches = tuple(map(str, voicing.pitches))
    return VoicingRow(
        id=voicing.id,
        frets=tuple(None if fret < 0 else fret for fret in voicing.frets),
        pitches=pitches,
        degrees=tuple(map(str, voicing.degrees)),
        reach_mm=round(float(voicing.reach_mm), 1),
        presses=voicing.presses,
        notes=len(pitches),
        open_strings=voicing.frets.count(0),
        bass_degree=str(voicing.bass_degree),
        top_degree=str(voicing.top_degree),
        added=tuple(map(str, voicing.added)),
        left_out=tuple(map(str, voicing.left_out)),
    )


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
        raise NothingFoundError(sentence=reason.sentence)
    order = getattr(gripwright.ranking, request.order)
    return VoicingsResult(chord, instrument, table.order_by(order), request.limit)


VOICINGS: Final = Operation(
    name="voicings",
    summary="Find every playable voicing of a chord symbol",
    collection="voicings",
    request=VoicingsRequest,
    function=voicings,
    result=VoicingsResult,
    row=VoicingRow,
    formats=("json", "ndjson", "csv"),
)
"""The search as an operation."""
