"""Tables of events: every cell, and the laws of RFC 4180."""

from __future__ import annotations

import csv
import pickle
import re
from fractions import Fraction
from io import StringIO

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Instrument, NoteEvent, Pitch, Score
from gripwright.laws.drawing import scores
from gripwright.score.sample import sample_score
from gripwright_rhythm.export.csv_cell import guarded, unguarded
from gripwright_rhythm.export.csv_columns import COLUMNS
from gripwright_rhythm.export.csv_events import CsvExporter
from gripwright_rhythm.export.csv_reader import EventTable, read_csv
from gripwright_rhythm.export.unreadable import UnreadableFileError
from tests.rhythm.export.scores import INSTRUMENTS, chord, drill, one_bar
from tests.rhythm.export.test_midi_laws import DRILLS
from tests.rhythm.few import few


def table(score: Score) -> EventTable:
    """Return the events of a score as the reader gives them."""
    return EventTable(score.events, score.clicks, score.bass, score.root)


def cells(score: Score) -> list[dict[str, str]]:
    """Return the rows as the standard library reads them, apostrophes and all."""
    return list(csv.DictReader(StringIO(CsvExporter().export(score).decode(), newline="")))


def test_every_cell_of_the_sample() -> None:
    """A click of the count-in, the click and the chord at the start of the form."""
    lines = CsvExporter().export(sample_score()).decode().split("\r\n")
    assert lines[0] == ",".join(COLUMNS)
    assert lines[1] == "click,0,1,-4,,0.000000,,,,,,,,,,yes,"
    assert lines[5] == "click,1,1,0,,4.000000,,,,,,,,,,yes,"
    assert lines[6] == (
        "chords,1,1,0,4,4.000000,8.000000,Dm7,x-5-7-5-6-x,D3 A3 C4 F4,1 5 b7 b3,80,down,,,,"
    )
    assert lines[-2:] == ["click,2,4,7,,11.000000,,,,,,,,,,,", ""]


def test_flags_fractions_and_seconds() -> None:
    """Exact quarters as fractions, seconds to the microsecond, halves upwards."""
    event = chord("2/3", "3/2", push=True, approach=True, accent=True, short=True, stroke="up")
    note = NoteEvent(Fraction(1, 3), Fraction(1), Pitch.parse("Eb2"), 1, Fraction(4, 3), 70)
    first, second = cells(one_bar([event], bass=[note]))
    assert (first["track"], first["notes"], first["chord"]) == ("bass", "Eb2", "")
    assert (second["onset"], second["end"], second["beat"]) == ("2/3", "3/2", "5/3")
    assert (second["onset_seconds"], second["end_seconds"]) == ("0.666667", "1.500000")
    flags = ("push", "approach", "accent", "short", "stroke")
    assert [second[name] for name in flags] == ["yes", "yes", "yes", "yes", "up"]


@few
@given(scores())
def test_export_then_import_keeps_every_event(score: Score) -> None:
    """What is read back equals what was written, exact times and grips and all."""
    assert read_csv(CsvExporter().export(score), score.instrument) == table(score)


@pytest.mark.parametrize("name", DRILLS)
def test_export_then_import_keeps_every_drill(name: str) -> None:
    """The same for scores that make_drill made; what a grip does not sound has no name."""
    score = drill(**DRILLS[name])
    read = read_csv(CsvExporter().export(score), score.instrument)
    assert [(one.onset, one.end, one.voicing.frets) for one in read.events] == [
        (one.onset, one.end, one.voicing.frets) for one in score.events
    ]
    assert [one.voicing.pitches for one in read.events] == [
        one.voicing.pitches for one in score.events
    ]
    assert attrs.evolve(read, events=()) == attrs.evolve(table(score), events=())


@few
@given(scores())
def test_lines_and_cells_are_those_of_rfc_4180(score: Score) -> None:
    """Every line ends with CR LF, and has as many cells as the header."""
    data = CsvExporter().export(score)
    assert data.endswith(b"\r\n")
    assert data.isascii()
    assert data.count(b"\n") == data.count(b"\r\n") == data.count(b"\r")
    rows = list(csv.reader(StringIO(data.decode(), newline=""), strict=True))
    assert {len(row) for row in rows} == {len(COLUMNS)}
    events = (score.events, score.clicks, score.bass, score.root)
    assert len(rows) == 1 + sum(map(len, events))


@few
@given(scores())
def test_no_cell_begins_like_a_formula(score: Score) -> None:
    """A spreadsheet runs what begins with one of four signs (OWASP, CSV Injection).

    A number below 0, such as the onset of a count-in, is one for every reader.
    """
    for row in cells(score):
        for cell in row.values():
            assert re.fullmatch(r"-[0-9]+(/[0-9]+)?", cell) or not cell.startswith(tuple("=+-@"))


@few
@given(st.text())
def test_guarding_a_cell_loses_nothing(text: str) -> None:
    """Whatever a cell says comes back, and never begins like a formula in between."""
    assert unguarded(guarded(text)) == text
    number = re.fullmatch(r"-[0-9]+(/[0-9]+)?", text)
    assert number or not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r"))


@few
@given(scores())
def test_equal_scores_give_equal_bytes(score: Score) -> None:
    """The file depends on the score's values, and not on which objects hold them."""
    again = pickle.loads(pickle.dumps(score))
    assert CsvExporter().export(again) == CsvExporter().export(score)


def test_a_table_that_a_spreadsheet_saved_is_read() -> None:
    """A byte order mark, bare line feeds, columns moved and more of them."""
    score = sample_score()
    rows = cells(score)
    names = [*reversed(COLUMNS), "remark"]
    text = StringIO()
    writer = csv.DictWriter(text, names, lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({**{name: unguarded(cell) for name, cell in row.items()}, "remark": "!"})
    data = b"\xef\xbb\xbf" + text.getvalue().encode()
    assert read_csv(data, score.instrument) == table(score)


CHORD = "chords,1,1,0,4,4.0,8.0,Dm7,x-5-7-5-6-x,D3 A3 C4 F4,1 5 b7 b3,80,down,,,,"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("chords,", "strings,", "'strings' is none of .* (line 2, column 'track')"),
        (",0,4,", ",0,3. Feb,", "'3. Feb' is no whole number or fraction .* column 'end'"),
        (",0,4,", ",4,4,", "end cannot be '4': expected after the onset, 4 (line 2)"),
        ("Dm7", "Dm77", "cannot read chord symbol 'Dm77'.* column 'chord'"),
        ("x-5-7-5-6-x", "x-5-7-5-6", "5 strings, but .* has 6 .* column 'shape'"),
        ("x-5-7-5-6-x", "x-5-7-5-36-x", "no fret 36 on .* column 'shape'"),
        ("1 5 b7 b3", "1 5 b7", "3 degrees of 4 strings"),
        ("1 5 b7 b3", "1 5 7 b3", "7 is not what the shape sounds"),
        ("D3 A3 C4 F4", "D3 A3 C4 F5", "the shape sounds D3 A3 C4 F4 on .* column 'notes'"),
        (",80,", ",128,", "dynamic cannot be 128"),
        (",down", ",sideways", "'sideways' is none of 'down'"),
        (",down,", ",down,true", "'true' is none of 'yes', '' .* column 'push'"),
        (",1,1,", ",one,1,", "'one' is no whole number .* column 'bar'"),
        (",80,down,,,,", ",80,down", "13 cells under 17 columns (line 2)"),
        ("Dm7", '"Dm7', "unexpected end of data"),
    ],
)
def test_a_broken_row_is_refused_with_its_line_and_column(old: str, new: str, message: str) -> None:
    """The error names the place and what stands there."""
    assert old in CHORD
    data = f"{','.join(COLUMNS)}\r\n{CHORD.replace(old, new, 1)}\r\n".encode()
    pattern = message.replace("(", r"\(").replace(")", r"\)")
    with pytest.raises(UnreadableFileError, match=pattern):
        read_csv(data, INSTRUMENTS["guitar"])


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "the header must have 'track' once"),
        (b"track,track\r\n", "the header must have 'track' once"),
        (b"\xff\xfe", "it is not UTF-8"),
    ],
)
def test_what_is_no_table_is_refused(data: bytes, message: str) -> None:
    """With what is missing."""
    with pytest.raises(UnreadableFileError, match=message):
        read_csv(data, INSTRUMENTS["guitar"])


def test_another_instrument_does_not_go_unnoticed() -> None:
    """The shape would sound other notes there."""
    low = Instrument.from_text("Eb2 Ab2 Db3 Gb3 Bb3 Eb4")
    with pytest.raises(UnreadableFileError, match="is not what the shape sounds"):
        read_csv(CsvExporter().export(sample_score()), low)


@few
@given(st.binary(max_size=80), st.integers(0, 400), st.integers(0, 60))
def test_any_bytes_are_read_or_refused_by_the_reader_s_own_error(
    noise: bytes, place: int, cut: int
) -> None:
    """No other error comes out, whatever stands in the file."""
    data = CsvExporter().export(one_bar([chord(0, 1)]))
    for broken in (noise, data[:place] + noise + data[place + cut :]):
        try:
            read_csv(broken, INSTRUMENTS["guitar"])
        except UnreadableFileError as error:
            assert str(error).startswith("cannot read table of events: ")
