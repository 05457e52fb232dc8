"""The names of a grip or of notes, as an operation."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

import gripwright
from gripwright.errors import NotationError
from gripwright_server.operations.grip import frets_of, notes_of, pitches_of
from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.player import InstrumentOptions, instrument_of

if TYPE_CHECKING:
    from gripwright import ChordName, Note, Pitch

LIMIT: Final = 20
"""Names shown where nothing else is asked for."""

# A hyphen begins no shape, but who writes one first means a shape and not notes.
_SHAPE: Final = re.compile(r"[xX0-9-]")
_NOTES: Final = re.compile(r"[\s,]*[A-Ha-h]")
_EXPECTED: Final = "frets such as x-7-9-7-8-x, or notes such as C E G B"


@attrs.frozen(kw_only=True, slots=False)
class NameListOptions:
    """How many names."""

    heading: ClassVar[str] = "How many"

    limit: int | None = option(help="how many are shown", default=LIMIT, ge=1)


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class NameRequest(NameListOptions, InstrumentOptions):
    """A grip or notes to name."""

    heading: ClassVar[str] = "Grip or notes"

    notes: str = option(
        help="frets from the bass side, such as x-7-9-7-8-x or x35453; or notes, such as"
        ' "C E G B", or "E2 B2 G3" where the lowest is the bass',
        positional=True,
        form="FRETS|NOTES",
    )
    over: str | None = option(
        help="the note that a bass player adds below", default=None, form="BASS"
    )


@attrs.frozen(kw_only=True)
class NameRow:
    """A row: one chord that the notes can be.

    Args:
        symbol: Canonical symbol.
        root: Root.
        bass: Slash bass, or None.
        rooted: Whether the root sounds.
        degrees: What each note becomes, in the order given; of a grip, in string order.
        notes: The notes, spelled for this chord.
        left_out: Degrees of the chord that do not sound.
        essential_left_out: Those of them without which the ear does not hear the chord.
    """

    symbol: str
    root: str
    bass: str | None
    rooted: bool
    degrees: tuple[str, ...]
    notes: tuple[str, ...]
    left_out: tuple[str, ...]
    essential_left_out: tuple[str, ...]


class NoCommonNameError(NothingFoundError):
    """Notes that fit into no chord of the table.

    Args:
        sentence: What is so, with the intervals.
        intervals: Intervals from the lowest note to the others, such as ``"m2"``.
        condition: As in `NothingFoundError`.
    """

    intervals: tuple[str, ...]

    def __init__(
        self, *, sentence: str, intervals: tuple[str, ...], condition: str | None = None
    ) -> None:
        super().__init__(sentence=sentence, condition=condition)
        self.intervals = intervals
        self._data["intervals"] = intervals


@attrs.frozen
class NameResult:
    """The names of a grip or of notes, best first, of which a part is shown.

    Args:
        sounding: The notes, or the pitches of the sounding strings.
        names: Every name.
        shown: Those of them that are shown.
    """

    sounding: "tuple[Note | Pitch, ...]"
    names: "tuple[ChordName, ...]"
    shown: "tuple[ChordName, ...]"

    @property
    def count(self) -> int:
        """Names found in all."""
        return len(self.names)

    @property
    def returned(self) -> int:
        """Names shown."""
        return len(self.shown)

    @property
    def warnings(self) -> tuple[str, ...]:
        """None: every reading is a row."""
        return ()

    def rows(self) -> Iterator[NameRow]:
        """One row a name shown."""
        return map(_row, self.shown)

    def part(self, start: int, stop: int | None) -> "NameResult":
        """The same names, of which those from `start` to before `stop` are shown."""
        return attrs.evolve(self, shown=self.names[start:stop])


def name(request: NameRequest, registry: RegistrySource) -> NameResult:
    """Name a grip or notes: every chord whose tones contain them, best first.

    Args:
        request: Frets or notes, the bass, and the instrument that the frets are of.
        registry: Asked for the instrument of frets; notes need none.

    Raises:
        NotationError: Frets, notes, bass or open strings cannot be read, or the instrument has no
            such frets.
        UnknownNameError: No instrument has that name.
        ConditionError: The neck has no room for the capo, or the bass carries too many accidentals.
        NoCommonNameError: The notes fit into no chord; the intervals are told.
        NothingFoundError: No string sounds.
    """
    bass = None if request.over is None else _bass(request.over)
    on_neck = _SHAPE.match(request.notes) is not None
    sounding: tuple[Note | Pitch, ...]
    if on_neck:
        instrument = instrument_of(request, registry())
        sounding = pitches_of(frets_of(request.notes, instrument), instrument)
        if not sounding:
            raise NothingFoundError(sentence="nothing sounds: every string is muted")
    elif request.notes and not _NOTES.match(request.notes):
        raise NotationError(
            what="frets or notes", text=request.notes, position=0, expected=_EXPECTED
        )
    else:
        sounding = notes_of(request.notes)
    names = gripwright.name_notes(sounding, bass=bass, spelled=not on_neck)
    if not names:
        raise _no_common_name(sounding, bass, spelled=not on_neck)
    return NameResult(sounding, names, names[: request.limit])


def _bass(text: str) -> "Note":
    """The note of a stated bass; an octave may stand with it."""
    note, end = gripwright.Note.read(text, what="bass", whole=_bass)
    return note if end == len(text) else gripwright.Pitch.parse(text).note


def _no_common_name(
    sounding: "tuple[Note | Pitch, ...]", bass: "Note | None", *, spelled: bool
) -> NoCommonNameError:
    from gripwright.theory.naming import intervals_above_bass  # noqa: PLC0415 - rarely needed

    intervals = tuple(map(str, intervals_above_bass(sounding, bass=bass, spelled=spelled)))
    return NoCommonNameError(
        sentence="no common name: no chord of the table has all of these notes; intervals from"
        f" the lowest: {' '.join(intervals)}",
        intervals=intervals,
    )


def _row(found: "ChordName") -> NameRow:
    chord = found.chord
    return NameRow(
        symbol=found.symbol,
        root=str(chord.root),
        bass=None if chord.bass is None else str(chord.bass),
        rooted=found.rooted,
        degrees=tuple(map(str, found.degrees)),
        notes=tuple(map(str, found.notes)),
        left_out=tuple(map(str, found.left_out)),
        essential_left_out=tuple(map(str, found.essential_left_out)),
    )


NAME: Final = Operation(
    name="name",
    summary="Name a grip or notes: every chord that they can be, best first",
    collection="names",
    request=NameRequest,
    function=name,
    result=NameResult,
    row=NameRow,
)
"""Naming as an operation."""
