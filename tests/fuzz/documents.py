"""Readers of whole files: charts, lead sheets, scores, events, MIDI, definitions, vocabularies."""

import io
import tempfile
import zipfile
from pathlib import Path

from gripwright import (
    Chart,
    ChartError,
    ConditionError,
    LeadSheetError,
    ScoreError,
    UnknownNameError,
    read_score,
    score_document,
)
from gripwright.score.sample import sample_score
from gripwright.tune import Numeral, read_leadsheet, write_leadsheet
from gripwright_rhythm.export.csv_events import CsvExporter
from gripwright_rhythm.export.csv_reader import read_csv
from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.midi_reader import read_midi
from gripwright_rhythm.export.unreadable import UnreadableFileError
from gripwright_rhythm.families import read_families
from gripwright_server.store import Document, DocumentError, Store
from gripwright_tunings.definitions import read_instruments
from tests.fuzz.notations import CHORD_WORDS, RHYTHM_WORDS
from tests.fuzz.target import bytes_target, text_target

DATA = Path(__file__).parents[1] / "data"
SCORE = sample_score()

CHART_WORDS = (
    "| || |: :| :|x3 |1. |2. [ ] % / . N.C. @2.5 { } < > ; : key: metre: tempo: feel: title: C Dm7"
    " G7 Cmaj7 Bb7/D 4/4 6/8 120 segno coda fine D.C. D.S. al \n \r\n \t \u2028 (A) section:"
)
CHARTS = (
    "| Dm7 | G7 | Cmaj7 | A7 |",
    "key: F\nmetre: 4/4\n|: F7 | Bb7 :|x3\n; a remark\n| C7 / Bb7 / | N.C. | % |",
    "metre: 3/4\n|: C |1. G7 :|2. C |",
)

FAMILIES = """\
[[family]]
name = "own"
summary = "One of our own."
[[family.pattern]]
name = "own-2"
meter = "3/4"
summary = "2 alone."
text = "2'"
"""
INSTRUMENTS = """\
[[instrument]]
id = "two-course"
name = "two courses"
strings = "C3 G3"
frets = 12
scale_mm = 500
doubles = { 2 = "C4" }
"""


def _packed(document: bytes) -> bytes:
    """A lead sheet in a container, as notation programs pack it."""
    container = (
        b'<?xml version="1.0"?><container><rootfiles>'
        b'<rootfile full-path="tune.xml"/></rootfiles></container>'
    )
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("META-INF/container.xml", container)
        archive.writestr("tune.xml", document)
    return file.getvalue()


def _numerals(text: str) -> Chart[Numeral]:
    return Chart.parse(text, reader=Numeral.parse)


def _lead_sheet(data: bytes) -> None:
    """Read a lead sheet; its chart must be one that can be written and read again."""
    sheet = read_leadsheet(data)
    assert Chart.parse(str(sheet.chart)).sections == sheet.chart.sections
    try:
        sheet.played_melody()
    except ConditionError:
        return
    read_leadsheet(write_leadsheet(sheet.chart))


def _vocabulary(data: bytes) -> None:
    """Read a vocabulary; what it writes reads back, and a store takes it."""
    document = Document.load(data)
    written = document.dump()
    assert Document.load(written).dump() == written
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder) / "v.db") as store:
        store.bring_in(data)


def _vocabulary_seed() -> bytes:
    from tests.server.store.shelf import filled  # noqa: PLC0415

    with tempfile.TemporaryDirectory() as folder, filled(Path(folder) / "v.db", count=2) as store:
        return store.export()


ONE_BAR = (DATA / "leadsheet-one-bar.musicxml").read_bytes()

DOCUMENTS = (
    text_target(
        "chart",
        Chart.parse,
        allowed=(ChartError,),
        seeds=CHARTS,
        words=f"{CHART_WORDS} {CHORD_WORDS}",
    ),
    text_target(
        "chart-of-numerals",
        _numerals,
        allowed=(ChartError,),
        seeds=("| ii7 | V7 | Imaj7 | V7/ii |",),
        words=f"{CHART_WORDS} ii7 V7 Imaj7 bVI /ii",
    ),
    text_target(
        "score-json",
        read_score,
        allowed=(ScoreError,),
        seeds=(score_document(SCORE),),
        words='{ } [ ] : , " null true -1 1e9 "1/2" "0" NaN "Dm7" "onset" "grips" "\\ud800"',
        written=score_document,
        escapes=True,
    ),
    text_target(
        "families-toml",
        read_families,
        allowed=(ValueError,),
        seeds=(FAMILIES,),
        words="[[family]] [[family.pattern]] name = \" ' \n text meter later dynamic "
        + RHYTHM_WORDS,
        written=None,
        escapes=True,
    ),
    text_target(
        "instruments-toml",
        read_instruments,
        allowed=(ValueError,),
        seeds=(INSTRUMENTS,),
        words="[[instrument]] id = name strings frets scale_mm first_fret doubles align_fret"
        ' { } " \n 1 -1 1e9 nan inf [ ] , true 1979-05-27',
        written=None,
        escapes=True,
    ),
    bytes_target(
        "lead-sheet",
        _lead_sheet,
        allowed=(LeadSheetError,),
        seeds=(
            ONE_BAR,
            *(write_leadsheet(Chart.parse(text)) for text in CHARTS),
            _packed(ONE_BAR),
            (DATA / "musicxml" / "paper-boats.musicxml").read_bytes(),
        ),
        words=(
            b"<harmony>",
            b"</harmony>",
            b"<root-step>C</root-step>",
            b"<kind>dominant</kind>",
            b"<degree-value>",
            b"<repeat direction='backward' times='9'/>",
            b"<ending number='1,2' type='start'/>",
            b"<divisions>0</divisions>",
            b"<beats>0</beats>",
            b"<duration>1e9</duration>",
            b"<fifths>-99</fifths>",
            b"<backup>",
            b"<measure>",
            b"<!DOCTYPE x>",
            b"&lt;",
            b"<sound dacapo='yes' segno='a'/>",
        ),
    ),
    bytes_target(
        "events-csv",
        lambda data: read_csv(data, SCORE.instrument),
        allowed=(UnreadableFileError,),
        seeds=(CsvExporter().export(SCORE),),
        words=(b",", b'"', b"\n", b"\r", b"1/2", b"-1", b"chords", b"click", b"x-3", b"\x00", b"'"),
    ),
    bytes_target(
        "midi",
        read_midi,
        allowed=(UnreadableFileError,),
        seeds=(MidiExporter().export(SCORE),),
        words=(
            b"MThd",
            b"MTrk",
            b"\x00\x00\x00\x06",
            b"\xff\x2f\x00",
            b"\xff\x51\x03\x00\x00\x00",
            b"\xf0",
            b"\xf7",
            b"\xff\xff\xff\x7f",
            b"\x90\x3c\x40",
            b"\x80\x3c\x40",
            b"\xe7\x28",
        ),
    ),
    bytes_target(
        "vocabulary",
        _vocabulary,
        allowed=(DocumentError, ConditionError, UnknownNameError),
        seeds=(_vocabulary_seed(),),
        words=(
            b"null",
            b"true",
            b"-1",
            b"1e999",
            b'"',
            b"[",
            b"]",
            b"{",
            b"}",
            b'"entries"',
            b'"x-3-5-4-5-x"',
            b'"2026-01-05T20:00:00Z"',
            b"\\ud800",
            b"999999999999999999999",
        ),
    ),
)
"""A target a kind of file."""
