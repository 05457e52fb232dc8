"""Laws of lead sheets: what is written reads back, and damage is never another error."""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element, fromstring, tostring

from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, Chord
from gripwright.errors import ConditionError, LeadSheetError
from gripwright.laws.drawing import charts, spelled_chords
from gripwright.tune.leadsheet import read_leadsheet
from gripwright.tune.leadsheet_writer import write_leadsheet
from tests.core.tune.leadsheet_files import SAMPLES

SAMPLE: Final = (SAMPLES / "paper-boats.musicxml").read_bytes()
TEXTS: Final = (
    *("", " ", "0", "-1", "1", "3", "99", "999999999", "1e9", "0.5", "x", "\u266d", "yes"),
    *("A", "H", "minor", "other", "none", "dominant-13th", "maj7", "start", "stop", "backward"),
    *("D.S. al Coda", "To Coda", "Fine", "Coda", "[|;]", "1, 2", "3+2"),
)
TAGS: Final = (
    *("repeat", "ending", "harmony", "degree", "rest", "chord", "grace", "backup", "forward"),
    *("offset", "segno", "coda", "words", "rehearsal", "inversion", "bass", "sound", "time"),
)


@given(charts(most_bars=3))
def test_written_charts_read_back_to_the_same_chords(chart: Chart[Chord]) -> None:
    """The form unfolds to the same chords at the same places."""
    data = write_leadsheet(chart)
    sheet = read_leadsheet(data)
    before, after = chart.unfolded(), sheet.chart.unfolded()
    assert [(span.symbol, span.onset, span.length) for span in after.spans] == [
        (span.symbol, span.onset, span.length) for span in before.spans
    ]
    assert [bar.length for bar in after.bars] == [bar.length for bar in before.bars]
    # A section that starts with a bar of another metre has its tempo in beats of that metre, which
    # may be more or fewer than a chart holds.
    assert {warning.partition(": ")[2] for warning in sheet.warnings} <= {
        "a tempo out of range is left out"
    }
    assert sheet.chart.title == chart.title


@given(charts(most_bars=3))
def test_equal_charts_are_written_alike(chart: Chart[Chord]) -> None:
    """The bytes depend on the chart alone."""
    assert write_leadsheet(Chart.parse(str(chart))) == write_leadsheet(chart)


@given(st.lists(spelled_chords(), min_size=1, max_size=8))
def test_every_chord_reads_back(symbols: list[Chord]) -> None:
    """Kind, degrees and bass say all that a chord of the table is."""
    chart = Chart.parse(f"| {' | '.join(map(str, symbols))} |")
    read = read_leadsheet(write_leadsheet(chart)).chart
    assert [bar.slots[0].symbol for bar in read.bars] == symbols


def damage(data: st.DataObject, root: Element) -> None:
    """One change to one element: text, attribute, name, a copy, a loss, or a stranger inside."""
    elements = list(root.iter())
    element = elements[data.draw(st.integers(1, len(elements) - 1))]
    way = data.draw(st.sampled_from(["text", "attribute", "tag", "copy", "loss", "inside"]))
    if way == "text":
        element.text = data.draw(st.sampled_from(TEXTS))
    elif way == "attribute":
        names = [*element.attrib, "type", "number", "direction", "times", "tempo", "location"]
        element.set(data.draw(st.sampled_from(names)), data.draw(st.sampled_from(TEXTS)))
    elif way == "tag":
        element.tag = data.draw(st.sampled_from(TAGS))
    elif way == "copy":
        other = elements[data.draw(st.integers(1, len(elements) - 1))]
        if element not in other.iter():
            element.append(fromstring(tostring(other)))  # noqa: S314 - our own text
    elif way == "loss":
        element.clear()
    else:
        element.insert(0, Element(data.draw(st.sampled_from(TAGS))))


@given(st.data())
def test_damaged_scores_are_read_or_refused(data: st.DataObject) -> None:
    """Whatever stands in well-formed XML, the chart that comes of it can be played."""
    root = fromstring(SAMPLE)  # noqa: S314 - our own file
    for _ in range(data.draw(st.integers(1, 8))):
        damage(data, root)
    try:
        sheet = read_leadsheet(tostring(root))
    except LeadSheetError:
        return
    try:
        assert sheet.chart.unfolded().spans
        assert write_leadsheet(sheet.chart)
        assert {note.bar for note in sheet.melody} <= set(range(len(sheet.chart.bars)))
    except ConditionError as error:
        assert error.name == "bars of the unfolded form"


@given(st.binary(max_size=200), st.integers(0, len(SAMPLE)), st.integers(0, 200))
def test_damaged_bytes_are_read_or_refused(junk: bytes, place: int, gone: int) -> None:
    """Any bytes in place of any others."""
    try:
        read_leadsheet(SAMPLE[:place] + junk + SAMPLE[place + gone :])
    except LeadSheetError:
        return
