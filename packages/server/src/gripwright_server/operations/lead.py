"""One voicing for each chord of a tune, so that the whole line is cheapest, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypedDict

import attrs

from gripwright_server.operations.chart_text import ReadChart, read_chart
from gripwright_server.operations.cost_row import CostRow, cost_row
from gripwright_server.operations.lines import LineOptions, LinesRequest, led_lines
from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.picture import PictureOptions

if TYPE_CHECKING:
    from gripwright import Chart, Chord, Instrument, Pitch
    from gripwright.leading.line import Line, LineStep

MOST_CHORUSES: Final = 50


@attrs.frozen(kw_only=True, slots=False)
class ChorusOptions:
    """How many lines."""

    heading: ClassVar[str] = LineOptions.heading

    choruses: int = option(
        help="lines, each found under a surcharge for every grip of those before",
        default=1,
        ge=1,
        le=MOST_CHORUSES,
    )


@attrs.frozen(kw_only=True, slots=False)
class LeadRequest(PictureOptions, ChorusOptions, LinesRequest):
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
    instrument, lines = led_lines(source, request, registry, request.choruses)
    return LeadResult(source, instrument, lines)


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
