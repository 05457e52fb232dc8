"""Scores as tables: one row for every event of every track, in CSV (RFC 4180)."""

from __future__ import annotations

import csv
import importlib
from collections.abc import Iterable, Iterator
from fractions import Fraction
from io import StringIO
from math import floor
from types import ModuleType
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

from gripwright_rhythm.export.csv_cell import guarded
from gripwright_rhythm.export.csv_columns import COLUMNS, TRACKS

if TYPE_CHECKING:
    from gripwright import ChordEvent, ClickEvent, Instrument, NoteEvent, Score
    from gripwright_rhythm.export.csv_reader import EventTable

_DECIMALS: Final = 6

Row = dict[str, str]


@attrs.frozen
class CsvExporter:
    """Writes every event of a score as a row of CSV.

    - ``track``: click, chords, bass or root; rows are by onset, then in this order.
    - ``bar`` and ``beat``: where it starts, as it is counted; the count-in has bars 0, -1 ...
    - ``onset`` and ``end``: exact quarters from the start of the form, ``3/2``; a click has no
      end.
    - ``onset_seconds`` and ``end_seconds``: from the start of the score, count-in and all, to the
      microsecond.
    - ``chord``, ``shape``, ``notes`` and ``degrees`` of the strings that sound, from the bass
      side, with spaces between; a bass note or a root has its note alone.
    - ``dynamic``, 1 to 127, and ``stroke``: down, up or pluck.
    - ``push``, ``approach``, ``accent``, ``short``: ``yes`` or nothing.

    The file is ASCII with a header, and lines end as RFC 4180 has them. A cell that begins like a
    formula (``=``, ``+``, ``-``, ``@``) and is no number has an apostrophe before it (`guarded`);
    `read_csv` takes it away.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> for line in CsvExporter().export(sample_score()).decode().splitlines()[5:7]:
        ...     print(line)
        click,1,1,0,,4.000000,,,,,,,,,,yes,
        chords,1,1,0,4,4.000000,8.000000,Dm7,x-5-7-5-6-x,D3 A3 C4 F4,1 5 b7 b3,80,down,,,,
    """

    name: ClassVar[str] = "csv"
    summary: ClassVar[str] = "a table with a row for every event, for spreadsheets and scripts"
    suffixes: ClassVar[tuple[str, ...]] = (".csv",)
    media_type: ClassVar[str] = "text/csv"

    def export(self, score: Score, /) -> bytes:
        """Write a score.

        Args:
            score: The score.

        Returns:
            The file; equal for equal scores.
        """
        written = StringIO()
        writer = csv.writer(written, lineterminator="\r\n")
        writer.writerow(COLUMNS)
        for row in event_rows(score):
            writer.writerow([guarded(row.get(column, "")) for column in COLUMNS])
        return written.getvalue().encode("ascii")

    def read(self, data: bytes, instrument: Instrument, /) -> EventTable:
        """Read the events back; see `gripwright_rhythm.export.csv_reader.read_csv`.

        Args:
            data: The file.
            instrument: What the shapes are gripped on.

        Raises:
            UnreadableFileError: The file is no such table.
        """
        table: EventTable = _reader().read_csv(data, instrument)
        return table

    def kept(self, score: Score, /) -> EventTable:
        """What the table keeps of a score: its events.

        Args:
            score: The score.
        """
        table: EventTable = _reader().table_of(score)
        return table


def _reader() -> ModuleType:
    """The reader, which is loaded when it is wanted: it stands on this module."""
    return importlib.import_module("gripwright_rhythm.export.csv_reader")


def event_rows(score: Score) -> list[Row]:
    """Every event of a score as texts by column, in the order of the file.

    Args:
        score: The score.
    """
    tracks = (
        map(_click_row, score.clicks),
        _chord_rows(score.events),
        map(_note_row, score.bass),
        map(_note_row, score.root),
    )
    found: list[tuple[Fraction, int, int, Row]] = []
    for place, (name, rows) in enumerate(zip(TRACKS, tracks, strict=True)):
        for number, (onset, end, row) in enumerate(rows):
            times = {
                "track": name,
                "onset": str(onset),
                "onset_seconds": _seconds(score.seconds_at(onset)),
            }
            if end is not None:
                times |= {"end": str(end), "end_seconds": _seconds(score.seconds_at(end))}
            found.append((onset, place, number, times | row))
    found.sort(key=lambda one: one[:3])
    return [row for _, _, _, row in found]


_Timed = tuple[Fraction, Fraction | None, Row]


def _click_row(event: ClickEvent) -> _Timed:
    row = {"bar": str(event.bar), "beat": str(event.beat), "accent": _yes(event.accent)}
    return event.onset, None, row


def _note_row(event: NoteEvent) -> _Timed:
    row = {
        "bar": str(event.bar),
        "beat": str(event.beat),
        "notes": str(event.pitch),
        "dynamic": str(event.dynamic),
    }
    return event.onset, event.end, row


def _chord_rows(events: Iterable[ChordEvent]) -> Iterator[_Timed]:
    # By identity: a drill plays few grips many times, and their notes are spelled once.
    known: dict[int, Row] = {}
    for event in events:
        voicing = event.voicing
        if id(voicing) not in known:
            known[id(voicing)] = {
                "chord": str(voicing.chord),
                "shape": voicing.shape,
                "notes": " ".join(map(str, voicing.pitches)),
                "degrees": " ".join(voicing.degrees),
            }
        row = {
            "bar": str(event.bar),
            "beat": str(event.beat),
            "dynamic": str(event.dynamic),
            "stroke": event.stroke,
            "push": _yes(event.push),
            "approach": _yes(event.approach),
            "accent": _yes(event.accent),
            "short": _yes(event.short),
        }
        yield event.onset, event.end, known[id(voicing)] | row


def _yes(value: bool) -> str:  # noqa: FBT001 - one value, one word
    return "yes" if value else ""


def _seconds(seconds: Fraction) -> str:
    """Seconds to the microsecond, from whole numbers so that no float rounds on the way."""
    micros = floor(seconds * 10**_DECIMALS + Fraction(1, 2))
    whole, part = divmod(micros, 10**_DECIMALS)
    return f"{whole}.{part:0{_DECIMALS}}"
