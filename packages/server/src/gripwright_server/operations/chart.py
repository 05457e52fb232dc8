"""A chart shown, transposed, behind a capo or as numerals, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

from gripwright.errors import ConditionError
from gripwright_server.operations.chart_text import ChartOptions, ReadChart, read_chart
from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.picture import PageOptions

if TYPE_CHECKING:
    from gripwright import Chart, Chord
    from gripwright.tune.bar import Bar, Slot
    from gripwright.tune.key import Key
    from gripwright.tune.written import WrittenBar

_MOST_HALF_STEPS: Final = 11


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class ChangeOptions:
    """What becomes of the chart."""

    heading: ClassVar[str] = "What becomes of it"

    to_key: str | None = option(help="transpose into this key", default=None, form="KEY")
    by: int | None = option(
        help="transpose by half steps, down where negative",
        default=None,
        ge=-_MOST_HALF_STEPS,
        le=_MOST_HALF_STEPS,
    )
    capo: int = option(
        help="with a capo at this fret, show what is gripped below what sounds",
        default=0,
        ge=0,
        le=_MOST_HALF_STEPS,
    )
    numerals: bool = option(help="name the chords by their degrees in the key", default=False)


@attrs.frozen(kw_only=True, slots=False)
class ChartRequest(PageOptions, ChangeOptions, ChartOptions):
    """A chart, and what becomes of it."""


@attrs.frozen(kw_only=True)
class ChartRow:
    """A row: one bar as written.

    Args:
        bar: Its number, counted from 1.
        section: The name of its section, or None.
        key: The key in it, or None.
        metre: The metre in it.
        tempo_bpm: Beats a minute in it, or None.
        feel: The feel in it, or None.
        same: Whether it is written as the bar before.
        beats: The beat on which each chord comes, as a fraction.
        symbols: The chords, or their numerals; None for N.C. Empty where the chord before goes on.
        held: Whether each is attacked once and held.
        gripped: The chords that are gripped behind the capo; None without one.
        signs: Repeats, endings and jumps as the text of a chart has them.
    """

    bar: int
    section: str | None
    key: str | None
    metre: str
    tempo_bpm: int | None
    feel: str | None
    same: bool
    beats: tuple[str, ...]
    symbols: tuple[str | None, ...]
    held: tuple[bool, ...]
    gripped: tuple[str | None, ...] | None
    signs: tuple[str, ...]


@attrs.frozen
class ChartResult:
    """A chart, as it is to be shown.

    Args:
        source: The chart as it was read.
        sounding: The chart of chords, transposed where that is asked for.
        shown: The same, or its numerals.
        gripped: What is gripped behind the capo, or None without one.
        capo: The fret of the capo; 0 for none.
    """

    source: ReadChart
    sounding: "Chart[Chord]"
    shown: "Chart[Any]"
    gripped: "Chart[Chord] | None"
    capo: int

    @property
    def count(self) -> int:
        """Bars as written."""
        return len(self.shown.bars)

    @property
    def returned(self) -> int:
        """Bars that `rows` yields: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the chart leaves open."""
        return self.source.warnings

    @property
    def text(self) -> str:
        """The chart as text, which reads back to itself."""
        return str(self.shown)

    @property
    def facts(self) -> dict[str, Any]:
        """The chart as text, and how long it is as played."""
        form = self.shown.unfolded()
        return {
            "title": self.shown.title,
            "text": self.text,
            "gripped_text": None if self.gripped is None else str(self.gripped),
            "bars_as_played": len(form.bars),
            "quarters": str(form.length),
        }

    def rows(self) -> Iterator[ChartRow]:
        """One row a bar as written."""
        grips = None if self.gripped is None else self.gripped.written
        for place, written in enumerate(self.shown.written):
            yield _row(written, None if grips is None else grips[place].slots)


def chart(request: ChartRequest, registry: RegistrySource) -> ChartResult:
    """Read a chart and change it as asked.

    Args:
        request: The chart, and what becomes of it.
        registry: Never asked.

    Raises:
        UnreadableChartError: The chart cannot be read; holds every fault.
        LeadSheetError: The lead sheet is broken or refused.
        NotationError: A key cannot be read.
        UnknownNameError: No form has that name.
        ConditionError: What is asked for needs a key that the chart does not say, or a key of the
            other mode.
    """
    del registry
    # Late on purpose: help needs none of these.
    from gripwright.tune.capo import capo_chart  # noqa: PLC0415
    from gripwright.tune.numeral_chart import as_numerals  # noqa: PLC0415

    source = read_chart(request)
    sounding = _moved(source.chart, request)
    return ChartResult(
        source=source,
        sounding=sounding,
        shown=as_numerals(sounding) if request.numerals else sounding,
        gripped=capo_chart(sounding, request.capo).played if request.capo else None,
        capo=request.capo,
    )


def _moved(read: "Chart[Chord]", request: ChangeOptions) -> "Chart[Chord]":
    from gripwright.tune.transpose import interval_for, transposed  # noqa: PLC0415 - as above

    if request.to_key is None:
        return read if request.by is None else transposed(read, interval_for(read, request.by))
    if request.by is not None:
        raise ConditionError(name="by", value=request.by, expected="none beside a key to move to")
    goal = _key_of(request.to_key)
    try:
        return transposed(read, goal)
    except ConditionError as error:
        if error.name != "key" or error.value is None:
            raise
        # The key that does not fit is the one to move to.
        raise ConditionError(name="to_key", value=error.value, expected=error.expected) from error


def _key_of(text: str) -> "Key":
    from gripwright.tune.key import Key  # noqa: PLC0415 - as above

    return Key.parse(text)


def _row(written: "WrittenBar[Any]", gripped: "tuple[Slot[Chord], ...] | None") -> ChartRow:
    return ChartRow(
        bar=written.index + 1,
        section=written.name,
        key=None if written.key is None else str(written.key),
        metre=str(written.meter),
        tempo_bpm=written.tempo_bpm,
        feel=written.feel,
        same=written.bar.same,
        beats=tuple(
            str(written.meter.beat_of(slot.onset + written.lead_in)) for slot in written.slots
        ),
        symbols=_symbols(written.slots),
        held=tuple(slot.held for slot in written.slots),
        gripped=None if gripped is None else _symbols(gripped),
        signs=tuple(_signs(written.bar)),
    )


def _symbols(slots: "tuple[Slot[Any], ...]") -> tuple[str | None, ...]:
    return tuple(None if slot.symbol is None else str(slot.symbol) for slot in slots)


def _signs(bar: "Bar[Any]") -> Iterator[str]:
    """The signs of a bar in the words of a chart."""
    if bar.repeat_start:
        yield "|:"
    if bar.endings:
        yield f"{','.join(map(str, bar.endings))}."
    for sign, word in _WORDS.items():
        if getattr(bar, sign):
            yield word
    if bar.jump is not None:
        yield bar.jump
    if bar.repeat_end is not None:
        yield _REPEATS.get(bar.repeat_end, f":| x{bar.repeat_end}")


_WORDS: Final = {"segno": "Segno", "coda": "Coda", "to_coda": "To Coda", "fine": "Fine"}
_REPEATS: Final = {0: ":| open", 2: ":|"}

CHART: Final = Operation(
    name="chart",
    summary="Show a chart, transpose it, or name its chords by degree",
    collection="bars",
    request=ChartRequest,
    function=chart,
    result=ChartResult,
    row=ChartRow,
    formats=("json", "ndjson", "text", "musicxml", "svg"),
)
"""Charts as an operation."""
