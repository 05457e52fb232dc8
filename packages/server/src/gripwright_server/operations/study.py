"""Top-note studies: one chord under a scale or a given line, as an operation."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

import gripwright
from gripwright.errors import ConditionError, NotationError
from gripwright_server.operations.conditions import ConditionOptions, conditions_asked
from gripwright_server.operations.cost_row import CostRow, WeightOptions, cost_row, weights_of
from gripwright_server.operations.grip import frets_of
from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option, unknown_name
from gripwright_server.operations.picture import PictureOptions
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)
from gripwright_server.operations.reading import ReadingOptions, chord_of
from gripwright_server.operations.top_line import holds_pitches, pitches_of_line

if TYPE_CHECKING:
    from gripwright import Chord, Instrument, Pitch, Voicing
    from gripwright.leading.study import Study
    from gripwright.theory.scale import Scale

CONTOURS: Final = ("rising", "falling", "arch")
"""The ways to walk a scale, as `gripwright.leading.study` names them, the usual one first."""

_SETS: Final = re.compile(r"[0-9]+(,[0-9]+)*(/[0-9]+(,[0-9]+)*)*")


@attrs.frozen(kw_only=True, slots=False)
class StudyOptions:
    """What the top line walks, and where."""

    heading: ClassVar[str] = "The study"

    top: str | None = option(
        help="a scale on the root, such as dorian, or the top notes in their order, such as"
        ' "E4 F4 G4"; left out, the usual scale of the chord',
        default=None,
        form="SCALE|PITCHES",
    )
    contour: str = option(help="how a scale is walked", default=CONTOURS[0], choices=CONTOURS)
    lowest: str | None = option(
        help="lowest note of a scale that is walked", default=None, form="PITCH"
    )
    highest: str | None = option(
        help="highest note of a scale that is walked", default=None, form="PITCH"
    )
    string_sets: str | None = option(
        help="sets of strings of which exactly one sounds, such as 5,4,3,2/4,3,2,1",
        default=None,
        form="SETS",
    )
    strategy: str = option(
        help="the way every voicing is built; any is all of them",
        default="any",
        names="strategies",
        form="NAME",
    )
    known: str | None = option(
        help="grips that are known already, between which new ones come to stand, such as"
        ' "x-5-7-5-6-x x-x-7-7-6-8"',
        default=None,
        form="GRIPS",
    )
    alternation: float = option(
        help="what a step from known to known or from new to new pays, in half steps of voice"
        " motion",
        default=6.0,
        ge=0,
        le=1000,
    )
    candidates: int = option(
        help="voicings for each note that are compared, the first of the teaching order",
        default=400,
        ge=1,
        le=5000,
    )


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class StudyRequest(
    PictureOptions,
    WeightOptions,
    ConditionOptions,
    HandOptions,
    InstrumentOptions,
    StudyOptions,
    ReadingOptions,
):
    """A chord symbol, the player, and what the top line walks."""

    heading: ClassVar[str] = "Chord"

    symbol: str = option(
        help="a chord symbol, such as Cmaj9, F#m7b5, G7/B", positional=True, form="SYMBOL"
    )


@attrs.frozen(kw_only=True)
class StudyRow:
    """A row: one voicing of the study.

    Args:
        step: Its place, counted from 1.
        known: Whether it was known already.
        id: Instrument and shape; it names the grip, not the chord.
        shape: The shape as players write it.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings.
        top: The top note.
        top_degree: Its degree.
        added: Degrees that sound and are not in the symbol.
        left_out: Degrees of the symbol that do not sound.
        cost: What the step to here costs, part by part.
    """

    step: int
    known: bool
    id: str
    shape: str
    frets: tuple[int | None, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    top: str
    top_degree: str
    added: tuple[str, ...]
    left_out: tuple[str, ...]
    cost: CostRow


@attrs.frozen
class StudyResult:
    """A study of one chord.

    Args:
        instrument: The instrument, with its capo.
        study: The study.
    """

    instrument: "Instrument"
    study: "Study"

    @property
    def chord(self) -> "Chord":
        """The chord."""
        return self.study.chord

    @property
    def count(self) -> int:
        """Voicings of the study."""
        return len(self.study.line.steps)

    @property
    def returned(self) -> int:
        """Voicings shown: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the symbol leaves open."""
        return self.chord.warnings

    @property
    def facts(self) -> dict[str, Any]:
        """The study as a whole: its top line to sing, its cost, and the notes it goes without."""
        return {
            "symbol": self.chord.symbol,
            "top_line": tuple(map(str, self.study.top_line)),
            "skipped": tuple(map(str, self.study.skipped)),
            "cost": cost_row(step.cost for step in self.study.line.steps),
        }

    def rows(self) -> Iterator[StudyRow]:
        """One row a voicing, in order."""
        steps = zip(self.study.line.steps, self.study.top_line, self.study.known, strict=True)
        for number, (step, top, known) in enumerate(steps, 1):
            voicing = step.voicing
            yield StudyRow(
                step=number,
                known=known,
                id=voicing.id,
                shape=voicing.shape,
                frets=tuple(None if fret < 0 else fret for fret in voicing.frets),
                pitches=tuple(map(str, voicing.pitches)),
                degrees=tuple(map(str, voicing.degrees)),
                top=str(top),
                top_degree=str(voicing.top_degree),
                added=tuple(map(str, voicing.added)),
                left_out=tuple(map(str, voicing.left_out)),
                cost=cost_row([step.cost]),
            )


def study(request: StudyRequest, registry: RegistrySource) -> StudyResult:
    """Find the cheapest study of a chord: one voicing for each note of a top line.

    Args:
        request: Symbol, player and top line.
        registry: Asked for the instrument and the strategy.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NotationError: The open strings, a pitch, a grip or the sets of strings cannot be read.
        UnknownNameError: No instrument, strategy or scale has that name.
        ConditionError: A condition contradicts the instrument, the chord or another one.
        RowBoundError: There are more voicings than the library holds.
        NoCandidateError: A note of a given line that no voicing has on top.
        NothingFoundError: The top line has no note.
    """
    chord = chord_of(request.symbol, request)
    top = None if request.top is None else _top_of(request.top)
    # Late on purpose: what leads voices needs NumPy, which help must not load.
    from gripwright.leading.study import study as make_study  # noqa: PLC0415

    known = registry()
    instrument = instrument_of(request, known)
    made = make_study(
        chord,
        instrument,
        top=top,
        # The request has checked the contour against its choices.
        contour=request.contour,  # type: ignore[arg-type]
        lowest=None if request.lowest is None else gripwright.Pitch.parse(request.lowest),
        highest=None if request.highest is None else gripwright.Pitch.parse(request.highest),
        string_sets=None if request.string_sets is None else _sets_of(request.string_sets),
        strategy=known.strategies[request.strategy],
        hand=hand_of(request),
        known=_known_of(request.known or "", chord, instrument),
        alternation=request.alternation,
        weights=weights_of(request),
        candidates=request.candidates,
        **conditions_asked(request),
    )
    if not made.line.steps:
        raise NothingFoundError(sentence="the top line has no note")
    return StudyResult(instrument, made)


def _top_of(text: str) -> "Scale | tuple[Pitch, ...]":
    """A scale by its name, or the pitches of a line."""
    from gripwright.theory.scale import scales  # noqa: PLC0415 - the table of scales is a file

    by_name = {scale.name: scale for scale in scales()}
    name = " ".join(text.lower().split())
    if name in by_name:
        return by_name[name]
    if not holds_pitches(text):
        raise unknown_name("scale", name, by_name)
    pitches = pitches_of_line(text)
    if None in pitches:
        raise ConditionError(name="top", value=text, expected="a pitch for every voicing")
    return tuple(pitch for pitch in pitches if pitch is not None)


def _sets_of(text: str) -> list[tuple[int, ...]]:
    close = text.replace(" ", "")
    if not _SETS.fullmatch(close):
        read = _SETS.match(text)
        raise NotationError(
            what="sets of strings",
            text=text,
            position=read.end() if read else 0,
            expected="string numbers with commas, and a slash between sets, as in 5,4,3,2/4,3,2,1",
        )
    return [tuple(map(int, one.split(","))) for one in close.split("/")]


def _known_of(text: str, chord: "Chord", instrument: "Instrument") -> "tuple[Voicing, ...]":
    from gripwright.neck.voicing import Voicing  # noqa: PLC0415 - needs NumPy

    return tuple(Voicing(chord, instrument, frets_of(word, instrument)) for word in text.split())


STUDY: Final = Operation(
    name="study",
    summary="Walk a chord through its voicings by their top notes",
    collection="steps",
    request=StudyRequest,
    function=study,
    result=StudyResult,
    row=StudyRow,
    formats=("json", "ndjson", "svg"),
)
"""The top-note study as an operation."""
