"""One voicing for each chord of a tune, so that the whole line is cheapest, as an operation."""

import random
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypedDict

import attrs

from gripwright.errors import ConditionError
from gripwright_server.operations.chart_text import ChartOptions, ReadChart, SungNote, read_chart
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
from gripwright_server.operations.top_line import holds_pitches, pitches_of_line

if TYPE_CHECKING:
    from gripwright import Chart, Chord, Instrument, Pitch, Voicing
    from gripwright.leading.line import Line, LineStep

BANDS: Final = ("solo", "bass", "piano", "singer")
"""Who else plays, as `gripwright.leading.band` names it."""

TOP_LINES: Final = ("smooth", "rising", "falling", "held", "free")
"""What a top line can do, as `gripwright.leading.cost` names it, the usual one first."""

MELODY: Final = "melody"
"""The word for a top line that is the melody of a lead sheet."""

MOST_CHORUSES: Final = 50


@attrs.frozen(kw_only=True, slots=False)
class LineOptions:
    """What the line should do."""

    heading: ClassVar[str] = "The line"

    strategy: str = option(
        help="the way every voicing is built; any is all of them",
        default="any",
        names="strategies",
        form="NAME",
    )
    band: str | None = option(
        help="who else plays: whether the root sounds, how low and with how many notes; left out,"
        " nothing is assumed",
        default=None,
        choices=BANDS,
    )
    top: str = option(
        help=f"the top line: {', '.join(TOP_LINES)}; melody, that of a lead sheet harmonised; or"
        ' its pitch for each chord, such as "E4 F4 - E4", - where it is free',
        default=TOP_LINES[0],
        form="NAME|PITCHES",
    )
    under_melody: bool = option(
        help="stay below the melody of a lead sheet, and off the half steps beside it",
        default=False,
    )
    first: str | None = option(
        help="the grip of the first chord, such as x-3-5-4-5-x", default=None, form="FRETS"
    )
    last: str | None = option(help="the grip of the last chord", default=None, form="FRETS")
    loop: bool = option(help="the last chord leads back to the first", default=False)
    candidates: int = option(
        help="voicings of each chord that are compared, the first of the teaching order",
        default=400,
        ge=1,
        le=5000,
    )
    choruses: int = option(
        help="lines, each found under a surcharge for every grip of those before",
        default=1,
        ge=1,
        le=MOST_CHORUSES,
    )
    surcharge: float = option(
        help="what a grip of an earlier line pays, in half steps of voice motion",
        default=6.0,
        ge=0,
        le=1000,
    )
    seed: int | None = option(
        help="shuffles the choruses; in the order found without it", default=None, ge=0
    )


@attrs.frozen(kw_only=True, slots=False)
class LineWeightOptions(WeightOptions):
    """What each part of a step weighs, with the top line."""

    heading: ClassVar[str] = WeightOptions.heading

    weigh_top: float = option(
        help="weight of a half step that the top line goes elsewhere than it should",
        default=1.0,
        ge=0,
        le=100,
    )


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class LeadRequest(
    PictureOptions,
    LineWeightOptions,
    ConditionOptions,
    HandOptions,
    InstrumentOptions,
    LineOptions,
    ChartOptions,
):
    """A chart, the player, and what the line should do."""


@attrs.frozen(kw_only=True)
class LeadRow:
    """A row: one chord of a line with its grip.

    Args:
        line: The number of the line, counted from 1.
        bar: The number of the bar as played, counted from 1.
        beat: The beat on which the chord comes, as a fraction.
        onset: Quarters from the start of the form, as a fraction.
        length: Quarters until the next chord, as a fraction.
        symbol: Canonical symbol.
        id: Instrument and shape; it names the grip, not the chord.
        shape: The shape as players write it.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings.
        top: The top note.
        added: Degrees that sound and are not in the symbol.
        left_out: Degrees of the symbol that do not sound.
        cost: What the step to here costs, part by part.
    """

    line: int
    bar: int
    beat: str
    onset: str
    length: str
    symbol: str
    id: str
    shape: str
    frets: tuple[int | None, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    top: str
    added: tuple[str, ...]
    left_out: tuple[str, ...]
    cost: CostRow


class LineFacts(TypedDict):
    """A line as a whole.

    Keys: ``line``, its number, counted from 1; ``cost``, that of all its steps; ``top_line``, its
    top notes, to be sung.
    """

    line: int
    cost: CostRow
    top_line: tuple[str, ...]


@attrs.frozen
class LeadResult:
    """Lines through a tune.

    Args:
        source: The chart as it was read.
        instrument: The instrument, with its capo.
        lines: The lines, one a chorus.
    """

    source: ReadChart
    instrument: "Instrument"
    lines: "tuple[Line, ...]"

    @property
    def chart(self) -> "Chart[Chord]":
        """The chart."""
        return self.source.chart

    @property
    def count(self) -> int:
        """Chords of all lines."""
        return sum(len(line.steps) for line in self.lines)

    @property
    def returned(self) -> int:
        """Chords shown: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the chart leaves open."""
        return self.source.warnings

    @property
    def facts(self) -> dict[str, Any]:
        """The chart as text, and each line as a whole."""
        return {
            "chart_text": str(self.chart),
            "lines": [
                LineFacts(
                    line=number,
                    cost=cost_row([step.cost for step in line.steps]),
                    top_line=tuple(map(str, line.top_line)),
                )
                for number, line in enumerate(self.lines, 1)
            ],
        }

    def rows(self) -> Iterator[LeadRow]:
        """One row a chord, line by line."""
        bars = self.chart.unfolded().bars
        for number, line in enumerate(self.lines, 1):
            for step, top in zip(line.steps, line.top_line, strict=True):
                bar = bars[step.bar - 1]
                place = step.onset - bar.onset + bar.written.lead_in
                yield _row(number, step, top, beat=str(bar.written.meter.beat_of(place)))


def lead(request: LeadRequest, registry: RegistrySource) -> LeadResult:
    """Find the cheapest line of voicings through a tune, or one a chorus.

    Args:
        request: Chart, player and what the line should do.
        registry: Asked for the instrument and the strategy.

    Raises:
        UnreadableChartError: The chart cannot be read; holds every fault.
        LeadSheetError: The lead sheet is broken or refused.
        NotationError: The key, the open strings, a shape or a pitch cannot be read.
        UnknownNameError: No instrument, strategy or form has that name.
        ConditionError: A condition contradicts the instrument, the chart or another one.
        RowBoundError: A chord has more voicings than the library holds.
        NoCandidateError: A chord has no voicing under these conditions; the bar is told.
        NothingFoundError: The chart holds no chord.
    """
    source = read_chart(request)
    top = _top_of(request.top)
    # Late on purpose: what leads voices needs NumPy, which help must not load.
    from gripwright.leading.band import BANDS as BY_NAME  # noqa: PLC0415

    known = registry()
    instrument = instrument_of(request, known)
    chords = [span.symbol for span in source.chart.unfolded().spans if span.symbol is not None]
    if not chords:
        raise NothingFoundError(sentence="there is no chord in the chart")
    first = _voicing_of(request.first, chords[0], instrument)
    settings = {
        "hand": hand_of(request),
        "strategy": known.strategies[request.strategy],
        "weights": weights_of(request, top=request.weigh_top),
        "band": None if request.band is None else BY_NAME[request.band],
        "first": first,
        "last": _voicing_of(request.last, chords[-1], instrument),
        "loop": request.loop,
        "candidates": request.candidates,
        "surcharge": request.surcharge,
        **conditions_asked(request),
    }
    try:
        lines = _lines(source, instrument, request, top, settings)
    except ConditionError as error:
        raise _as_asked(error, first) from error
    return LeadResult(source, instrument, lines)


def _lines(
    source: ReadChart,
    instrument: "Instrument",
    request: LeadRequest,
    top: "str | tuple[Pitch | None, ...]",
    settings: dict[str, Any],
) -> "tuple[Line, ...]":
    """The lines under a top line that is given, or that goes as a word says."""
    from gripwright.leading.harmonised import harmonised, melody_tops  # noqa: PLC0415 - as above
    from gripwright.leading.line import choruses  # noqa: PLC0415

    ceiling = _melody_of(source, "under_melody") if request.under_melody else ()
    if top == MELODY:
        top = melody_tops(source.chart, _melody_of(source, "top"))
    if isinstance(top, str):
        return choruses(
            source.chart,
            instrument,
            request.choruses,
            seed=request.seed,
            top=top,
            melody=ceiling,
            **settings,
        )
    if ceiling:
        raise ConditionError(
            name="under_melody", value=True, expected="a top line that is not given by its notes"
        )
    found: list[Line] = []
    for _ in range(request.choruses):
        found.append(harmonised(source.chart, instrument, top, used=tuple(found), **settings))
    if request.seed is not None:
        random.Random(request.seed).shuffle(found)  # noqa: S311 - variety, no secret
    return tuple(found)


def _row(number: int, step: "LineStep", top: "Pitch", *, beat: str) -> LeadRow:
    voicing = step.voicing
    return LeadRow(
        line=number,
        bar=step.bar,
        beat=beat,
        onset=str(step.onset),
        length=str(step.length),
        symbol=step.chord.symbol,
        id=voicing.id,
        shape=voicing.shape,
        frets=tuple(None if fret < 0 else fret for fret in voicing.frets),
        pitches=tuple(map(str, voicing.pitches)),
        degrees=tuple(map(str, voicing.degrees)),
        top=str(top),
        added=tuple(map(str, voicing.added)),
        left_out=tuple(map(str, voicing.left_out)),
        cost=cost_row([step.cost]),
    )


def _top_of(text: str) -> "str | tuple[Pitch | None, ...]":
    """A word for the top line, or its pitches, None where it is free."""
    words = (*TOP_LINES, MELODY)
    if text.strip() in words:
        return text.strip()
    if not holds_pitches(text):
        raise unknown_name("top line", text.strip(), words)
    return pitches_of_line(text)


def _melody_of(source: ReadChart, field: str) -> tuple[SungNote, ...]:
    """The melody, which a field of the request needs."""
    if not source.melody:
        value = MELODY if field == "top" else True
        raise ConditionError(name=field, value=value, expected="a lead sheet that has a melody")
    return source.melody


def _voicing_of(text: str | None, chord: "Chord", instrument: "Instrument") -> "Voicing | None":
    """The voicing of a shape that is asked for at one end of the line."""
    if text is None:
        return None
    from gripwright.neck.voicing import Voicing  # noqa: PLC0415 - needs NumPy

    return Voicing(chord, instrument, frets_of(text, instrument))


def _as_asked(error: ConditionError, first: "Voicing | None") -> ConditionError:
    """The error with the field of the request that it speaks of."""
    if error.name == "tops":
        return ConditionError(name="top", value=error.value, expected=error.expected)
    if error.name != "voicing":
        return error
    name = "first" if first is not None and error.value == first.id else "last"
    return ConditionError(name=name, value=error.value, expected=error.expected)


LEAD: Final = Operation(
    name="lead",
    summary="Find the cheapest line of voicings through a tune",
    collection="steps",
    request=LeadRequest,
    function=lead,
    result=LeadResult,
    row=LeadRow,
    formats=("json", "ndjson", "svg"),
)
"""The cheapest line as an operation."""
