"""Charts of requests: text, numerals, forms and lead sheets."""

import base64
import pickle

import pytest

from gripwright import Chart, ConditionError, NotationError, UnknownNameError
from gripwright.errors import LeadSheetError
from gripwright.tune.forms import forms
from gripwright.tune.leadsheet_writer import write_leadsheet
from gripwright_server.operations.chart_text import (
    LEAD_SHEET,
    ChartOptions,
    UnreadableChartError,
    read_chart,
    undecodable,
)


def _text(**values: object) -> str:
    return str(read_chart(ChartOptions(**values)).chart)  # type: ignore[arg-type]


def _sheet(data: bytes) -> str:
    return LEAD_SHEET + base64.b64encode(data).decode("ascii")


def test_text_is_read_with_the_readings_of_the_request() -> None:
    """German note names hold in charts as for single symbols."""
    assert _text(chart="| B7 | Hm7 |", german=True) == "| Bb7 | Bm7 |"
    assert _text(chart="| Cdim |", dim_is_dim7=True) == "| Cdim7 |"


def test_key_of_the_request_is_that_of_a_chart_without_one() -> None:
    """A chart that says its key keeps it, and another one beside it is refused."""
    assert _text(chart="| F7 |", key="F") == "key: F\n| F7 |"
    assert _text(chart="key: F\n| F7 |", key="F major") == "key: F\n| F7 |"
    with pytest.raises(ConditionError, match="none beside that of the chart, F") as caught:
        _text(chart="key: F\n| F7 |", key="C")
    assert caught.value.name == "key"


def test_numerals_are_realised_in_the_key_of_the_request_or_of_the_chart() -> None:
    """The common cadence in F is Gm7 C7 Fmaj7 (common practice)."""
    assert _text(chart="| ii7 | V7 | Imaj7 |", key="F") == "key: F\n| Gm7 | C7 | Fmaj7 |"
    assert _text(chart="key: F\n| ii7 | V7 | Imaj7 |") == "key: F\n| Gm7 | C7 | Fmaj7 |"


@pytest.mark.parametrize("values", [{"chart": "| ii7 |"}, {"form": "turnaround"}])
def test_numerals_in_no_key_ask_for_one(values: dict[str, str]) -> None:
    """The field to fill in is named."""
    with pytest.raises(ConditionError) as caught:
        _text(**values)
    assert caught.value.name == "key"


@pytest.mark.parametrize("name", forms())
def test_every_form_is_realised(name: str) -> None:
    """Each stands in the key that it is asked for in."""
    read = read_chart(ChartOptions(form=name, key="Bbm" if forms()[name].minor else "Bb"))
    assert read.chart.key is not None
    assert str(read.chart.key.tonic) == "Bb"
    assert read.title.startswith(f"{name} in Bb")


def test_chart_and_form_exclude_each_other_and_one_is_needed() -> None:
    """The forms that there are stand in the message."""
    for values in ({}, {"chart": "| C |", "form": "turnaround"}):
        with pytest.raises(ConditionError, match="jazz-blues") as caught:
            _text(**values)
        assert caught.value.name == "chart"


def test_unknown_form_and_unreadable_key_are_told() -> None:
    """A misspelt name is told the right one."""
    with pytest.raises(UnknownNameError) as caught:
        _text(form="jaz-blues", key="F")
    assert caught.value.nearest[0] == "jazz-blues"
    with pytest.raises(NotationError):
        _text(form="jazz-blues", key="H")


def test_all_faults_come_at_once_with_the_text_they_stand_in() -> None:
    """The error keeps the text, so that a surface can mark the places, also when pickled."""
    text = "| Dm7 Qm7 |\n| C / |\n| Cmaj77 |"
    with pytest.raises(UnreadableChartError) as caught:
        _text(chart=text)
    for error in (caught.value, pickle.loads(pickle.dumps(caught.value))):
        assert [(fault.line, fault.column) for fault in error.faults] == [(1, 7), (2, 3), (3, 8)]
        assert error.source == text


def test_faults_are_those_of_the_nearer_reading() -> None:
    """One wrong numeral in a chart of numerals does not make every other one wrong."""
    with pytest.raises(UnreadableChartError) as caught:
        _text(chart="| ii7 V77 | Imaj7 |", key="F")
    (fault,) = caught.value.faults
    assert (fault.column, fault.nearest) == (9, "V7")


def test_lead_sheet_is_read_with_its_key_and_title() -> None:
    """A chart that was written as MusicXML comes back."""
    text = "title: A sketch\nkey: Ab\nmetre: 3/4\n| Ab6 | Bbm7 Eb7 |"
    read = read_chart(ChartOptions(chart=_sheet(write_leadsheet(Chart.parse(text)))))
    assert str(read.chart) == text
    assert (read.title, read.melody) == ("A sketch", ())


def test_melody_of_a_lead_sheet_has_its_place_in_the_form_as_played() -> None:
    """In a repeated bar the note comes twice."""
    data = write_leadsheet(Chart.parse("|: C6 :|")).decode()
    place = data.index("<note")
    note = (
        "<note><pitch><step>G</step><octave>4</octave></pitch><duration>8</duration>"
        "<voice>1</voice><type>quarter</type></note>"
    )
    divisions = int(data.partition("<divisions>")[2].partition("<")[0])
    assert divisions == 8
    read = read_chart(ChartOptions(chart=_sheet((data[:place] + note + data[place:]).encode())))
    assert [str(one.pitch) for one in read.melody] == ["G4", "G4"]
    assert read.melody[0].onset == 0
    assert read.melody[0].length == 1


@pytest.mark.parametrize(
    "text", [LEAD_SHEET + "*", _sheet(b""), _sheet(b"<score-partwise/>"), _sheet(b"PK\x03\x04")]
)
def test_broken_lead_sheet_is_refused(text: str) -> None:
    """Neither bad base64 nor a bad file gets through."""
    with pytest.raises(LeadSheetError):
        _text(chart=text)


@pytest.mark.parametrize(
    ("data", "line", "column"),
    [(b"\xff", 1, 1), (b"| C |\n| \xff", 2, 3), (b"| C |\n\xff", 2, 1), (b"| \xe4 |", 1, 3)],
)
def test_bytes_that_are_no_text_have_their_place(data: bytes, line: int, column: int) -> None:
    """The line and column are those that an editor shows."""
    with pytest.raises(UnicodeDecodeError) as caught:
        data.decode("utf-8")
    (fault,) = undecodable(data, caught.value.start).faults
    assert (fault.line, fault.column) == (line, column)
