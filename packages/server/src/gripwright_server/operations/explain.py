"""Why a shape is or is not a playable voicing of a chord, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final, TypedDict

import attrs

from gripwright_server.operations.conditions import StrokeOptions
from gripwright_server.operations.grip import frets_of
from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)
from gripwright_server.operations.reading import ReadingOptions, chord_of

if TYPE_CHECKING:
    from gripwright import Voicing
    from gripwright.neck.diagnosis import Diagnosis
    from gripwright.neck.fingering import Fingering


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class ExplainRequest(StrokeOptions, HandOptions, InstrumentOptions, ReadingOptions):
    """A chord symbol, a shape and the player."""

    heading: ClassVar[str] = "Chord and shape"

    symbol: str = option(
        help="a chord symbol, such as Cmaj9, F#m7b5, G7/B", positional=True, form="SYMBOL"
    )
    shape: str = option(
        help="frets from the bass side, such as x-3-5-3-5-x or x35353",
        positional=True,
        form="FRETS",
    )


class FaultRow(TypedDict):
    """One reason that a shape is no playable voicing.

    Keys: ``kind``, one word; ``sentence``, the reason for a reader; ``strings``, those concerned
    as players number them.
    """

    kind: str
    sentence: str
    strings: tuple[int, ...]


@attrs.frozen(kw_only=True)
class ExplainRow:
    """A row: one shape, heard as one chord.

    Args:
        symbol: Canonical symbol.
        id: Instrument and shape; it names the grip, not the chord.
        shape: The shape as players write it.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        playable: Whether it is a playable voicing of the chord.
        faults: The reasons that it is not.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings, also of those that are no tone of the chord.
        left_out: Degrees of the symbol that do not sound.
        inversion: ``"root"``, ``"1st"`` and so on by the lowest pitch; ``"foreign"`` for a bass
            that is no tone of the symbol; None where nothing sounds.
        families: Every family of voicings that it belongs to; none where a tone is foreign.
        fingers: Finger on each string, 1 the index, None where none; None for a shape that is
            not playable.
        fingering: The fingering in words, or None.
        instead: Ids of the nearest playable voicings; none for a shape that is one.
    """

    symbol: str
    id: str
    shape: str
    frets: tuple[int | None, ...]
    playable: bool
    faults: tuple[FaultRow, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    left_out: tuple[str, ...]
    inversion: str | None
    families: tuple[str, ...]
    fingers: tuple[int | None, ...] | None
    fingering: str | None
    instead: tuple[str, ...]


@attrs.frozen
class ExplainResult:
    """What is so with a shape.

    Args:
        voicing: The shape, heard as the chord; every tone has a name, foreign ones too.
        diagnosis: The reasons that it is no playable voicing, and the nearest ones.
        families: The families that it belongs to.
        fingering: How it is fingered, where it is playable.
        fingering_in_words: The same for a reader.
    """

    voicing: "Voicing"
    diagnosis: "Diagnosis"
    families: tuple[str, ...]
    fingering: "Fingering | None"
    fingering_in_words: str | None

    @property
    def playable(self) -> bool:
        """Whether the shape is a playable voicing of the chord."""
        return not self.diagnosis.faults

    @property
    def instead(self) -> "tuple[Voicing, ...]":
        """What to play instead; nothing where the shape is playable."""
        return () if self.playable else self.diagnosis.instead

    @property
    def count(self) -> int:
        """Shapes explained: one."""
        return 1

    @property
    def returned(self) -> int:
        """Shapes that `rows` yields: one."""
        return 1

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the symbol leaves open."""
        return self.voicing.chord.warnings

    def rows(self) -> Iterator[ExplainRow]:
        """The row of the shape."""
        voicing = self.voicing
        fingers = None if self.fingering is None else self.fingering.fingers
        yield ExplainRow(
            symbol=voicing.chord.symbol,
            id=voicing.id,
            shape=voicing.shape,
            frets=tuple(None if fret < 0 else fret for fret in voicing.frets),
            playable=self.playable,
            faults=tuple(
                FaultRow(kind=fault.kind, sentence=fault.sentence, strings=fault.strings)
                for fault in self.diagnosis.faults
            ),
            pitches=tuple(map(str, voicing.pitches)),
            degrees=tuple(map(str, voicing.degrees)),
            left_out=tuple(map(str, voicing.left_out)),
            inversion=voicing.inversion if voicing.string_set else None,
            families=self.families,
            fingers=None if fingers is None else tuple(finger or None for finger in fingers),
            fingering=self.fingering_in_words,
            instead=tuple(other.id for other in self.instead),
        )


def explain(request: ExplainRequest, registry: RegistrySource) -> ExplainResult:
    """Say whether a shape is a playable voicing of a chord, why not, and what would be instead.

    Args:
        request: Symbol, shape and player.
        registry: Asked for the instrument.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NotationError: The shape or the open strings cannot be read, or the instrument has no such
            frets.
        UnknownNameError: No instrument has that name.
        ConditionError: The neck has no room for what is asked.
        RowBoundError: There are more voicings to offer instead than the library holds.
    """
    # Late on purpose: these need NumPy, which help must not load.
    from gripwright.neck.conditions import Conditions  # noqa: PLC0415
    from gripwright.neck.diagnosis import diagnose  # noqa: PLC0415
    from gripwright.neck.fingering import fingering_of  # noqa: PLC0415
    from gripwright.neck.voicing import Voicing  # noqa: PLC0415

    chord = chord_of(request.symbol, request)
    instrument = instrument_of(request, registry())
    frets = frets_of(request.shape, instrument)
    hand = hand_of(request)
    # The request has checked the stroke against its choices.
    stroke = Conditions(stroke=request.stroke, pluck_fingers=request.pluck_fingers)  # type: ignore[arg-type]
    diagnosis = diagnose(chord, instrument, frets, hand, conditions=stroke)
    voicing = Voicing(chord, instrument, frets, chord.chromatic_names)
    foreign = any(fault.kind == "foreign" for fault in diagnosis.faults)
    classified = bool(voicing.string_set) and not foreign
    fingering = None if diagnosis.faults else fingering_of(frets, instrument, hand)
    return ExplainResult(
        voicing=voicing,
        diagnosis=diagnosis,
        families=attrs.evolve(voicing, names=chord.names).families if classified else (),
        fingering=fingering,
        fingering_in_words=None if fingering is None else fingering.explain(hand),
    )


EXPLAIN: Final = Operation(
    name="explain",
    summary="Judge a shape as a voicing of a chord, and what to play instead",
    collection="shapes",
    request=ExplainRequest,
    function=explain,
    result=ExplainResult,
    row=ExplainRow,
)
"""The explanation of a shape as an operation."""
