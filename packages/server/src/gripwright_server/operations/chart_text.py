"""Charts as requests hold them: text, numerals or a lead sheet, with the place of every fault."""

import base64
import binascii
import functools
import re
from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

import gripwright
from gripwright.errors import ChartError, ChartFault, ConditionError, LeadSheetError
from gripwright_server.operations.option import option
from gripwright_server.operations.reading import ReadingOptions, chord_of

if TYPE_CHECKING:
    from gripwright import Chart, Chord, Pitch
    from gripwright.tune.key import Key

LEAD_SHEET: Final = "data:application/vnd.recordare.musicxml;base64,"
"""What a lead sheet begins with where it stands in a request: a data URL (RFC 2397)."""

_DATA: Final = re.compile(
    r"data:application/vnd\.recordare\.musicxml(\+xml)?;base64,", re.IGNORECASE
)


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class ChartOptions(ReadingOptions):
    """The chords of a tune: a chart, or a form that belongs to nobody."""

    heading: ClassVar[str] = "Chart"

    chart: str | None = option(
        help='the chords of a tune as text with bar lines, such as "| Dm7 G7 | Cmaj7 |", or as'
        " numerals",
        default=None,
        positional=True,
        form="CHART",
        document=True,
    )
    form: str | None = option(
        help="a generic form in place of a chart, such as jazz-blues or turnaround",
        default=None,
        form="NAME",
    )
    key: str | None = option(
        help="the key of numerals and forms, or of a chart that says none",
        default=None,
        form="KEY",
    )


class UnreadableChartError(ChartError):
    """A text of a request that is no chart, with the text.

    Args:
        faults: Every fault, in the order of the text.
        source: The whole text.
    """

    source: str

    def __init__(self, *, faults: tuple[ChartFault, ...], source: str) -> None:
        super().__init__(faults=faults)
        self.source = source
        self._data["source"] = source


@attrs.frozen
class SungNote:
    """A note of a melody as it is played.

    Args:
        onset: Quarters from the start of the form.
        length: Quarters that it lasts.
        pitch: Its pitch.
    """

    onset: Fraction
    length: Fraction
    pitch: "Pitch"


@attrs.frozen
class ReadChart:
    """A chart as a request means it.

    Args:
        chart: The chart, of chords.
        warnings: What else the source could mean, and what of it was passed over.
        melody: The notes of a lead sheet's melody, with their places in the form as played.
        title: What to call it where a title is wanted.
    """

    chart: "Chart[Chord]"
    warnings: tuple[str, ...] = ()
    melody: tuple[SungNote, ...] = ()
    title: str = ""


def read_chart(request: ChartOptions) -> ReadChart:
    """The chart of a request.

    A text that holds chords is read as chords, one of numerals as numerals: no word is both. A
    key of the request is that of numerals, and of a chart that says none.

    Raises:
        UnreadableChartError: The text is neither; holds every fault of the nearer reading.
        LeadSheetError: The lead sheet is broken or refused.
        NotationError: The key cannot be read.
        UnknownNameError: No form has that name.
        ConditionError: There is no chart, or two, or numerals are in no key.

    Example:
        >>> print(read_chart(ChartOptions(chart="| ii7 | V7 | Imaj7 |", key="F")).chart)
        key: F
        | Gm7 | C7 | Fmaj7 |
        >>> print(read_chart(ChartOptions(form="turnaround", key="Eb")).chart)
        key: Eb
        | Ebmaj7 Cm7 | Fm7 Bb7 |
    """
    from gripwright.tune.forms import forms  # noqa: PLC0415 - the table of forms is a file
    from gripwright.tune.key import Key  # noqa: PLC0415

    if (request.chart is None) == (request.form is None):
        value = None if request.chart is None else "given beside a form"
        names = ", ".join(forms())
        raise ConditionError(
            name="chart", value=value, expected=f"a chart, or --form with one of {names}"
        )
    key = None if request.key is None else Key.parse(request.key)
    if request.form is not None:
        form = forms()[request.form]
        title = f"{form.name} in {request.key}"
        return ReadChart(_realised(form.text, key), title=title)
    text = request.chart or ""
    if _DATA.match(text):
        return _lead_sheet(text, key)
    chart = _of_text(text, request, key)
    return ReadChart(chart, chart.warnings, title=chart.title or "")


def _of_text(text: str, reading: ReadingOptions, key: "Key | None") -> "Chart[Chord]":
    reader = functools.partial(chord_of, reading=reading)
    try:
        chart: Chart[Chord] = gripwright.Chart.parse(text, reader=reader)
    except ChartError as error:
        try:
            return _realised(text, key)
        except ChartError as other:
            nearer = min(error, other, key=lambda one: len(one.faults))
            raise UnreadableChartError(faults=nearer.faults, source=text) from None
    return _in_key(chart, key)


def _in_key(chart: "Chart[Chord]", key: "Key | None") -> "Chart[Chord]":
    """The chart with the key of the request, where it says none of its own."""
    if key is None or key == chart.key:
        return chart
    if chart.key is not None:
        raise ConditionError(
            name="key", value=str(key), expected=f"none beside that of the chart, {chart.key}"
        )
    return attrs.evolve(chart, settings=attrs.evolve(chart.settings, key=key))


def _realised(text: str, key: "Key | None") -> "Chart[Chord]":
    # Late on purpose: only charts of numerals need these.
    from gripwright.tune.numeral_chart import numeral_chart, realised  # noqa: PLC0415

    return realised(numeral_chart(text), key)


def undecodable(data: bytes, start: int) -> UnreadableChartError:
    r"""The error for bytes that are no text, at the first that is none.

    Args:
        data: The bytes.
        start: The index of the first byte that UTF-8 does not allow.

    Example:
        >>> undecodable(b"| C |\n| \xff |", 8).faults[0].line
        2
    """
    source = data.decode("utf-8", errors="replace")
    # A sign in place of the byte makes the last line one that is never empty.
    lines = f"{data[:start].decode('utf-8')}?".splitlines()
    fault = ChartFault(len(lines), len(lines[-1]), "\ufffd", "text in UTF-8")
    return UnreadableChartError(faults=(fault,), source=source)


def _lead_sheet(text: str, key: "Key | None") -> ReadChart:
    head, _, body = text.partition(",")
    try:
        data = base64.b64decode(body, validate=True)
    except (binascii.Error, ValueError):
        raise LeadSheetError(reason=f"what follows {head!r} is no base64") from None
    # Late on purpose: only lead sheets need what reads them.
    from gripwright.tune.leadsheet import read_leadsheet  # noqa: PLC0415

    sheet = read_leadsheet(data)
    melody = tuple(
        SungNote(note.onset, note.duration, note.pitch) for note in sheet.played_melody()
    )
    chart = _in_key(sheet.chart, key)
    return ReadChart(chart, (*sheet.warnings, *chart.warnings), melody, chart.title or "")
