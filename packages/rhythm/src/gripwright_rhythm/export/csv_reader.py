"""Events read back from the table that `CsvExporter` wrote."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from io import StringIO
from typing import Final, TypeVar, cast

import attrs

from gripwright import (
    Chord,
    ChordEvent,
    ClickEvent,
    Degree,
    Instrument,
    NoteEvent,
    Pitch,
    Score,
    Shape,
    Voicing,
)
from gripwright.errors import GripwrightError
from gripwright.meter.attack import STROKES, Stroke
from gripwright_rhythm.export.csv_cell import unguarded
from gripwright_rhythm.export.csv_columns import COLUMNS, TRACKS
from gripwright_rhythm.export.unreadable import UnreadableFileError

LARGEST_BYTES: Final = 64 * 1024 * 1024
"""Bytes of the largest file that is read."""

T = TypeVar("T")

_WHOLE: Final = re.compile(r"-?[0-9]{1,9}")
_TIME: Final = re.compile(r"-?[0-9]{1,18}(?:/[1-9][0-9]{0,17})?")
_READ: Final = tuple(name for name in COLUMNS if not name.endswith("_seconds"))


@attrs.frozen
class EventTable:
    """The events of a score, track by track, each by onset.

    Args:
        events: The chords.
        clicks: The clicks.
        bass: The bass notes.
        root: The roots.
    """

    events: tuple[ChordEvent, ...]
    clicks: tuple[ClickEvent, ...]
    bass: tuple[NoteEvent, ...]
    root: tuple[NoteEvent, ...]


def table_of(score: Score) -> EventTable:
    """The events of a score as `read_csv` gives them.

    Args:
        score: The score.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> len(table_of(sample_score()).events)
        2
    """
    heard: dict[Voicing, Voicing] = {}
    for event in score.events:
        if event.voicing not in heard:
            heard[event.voicing] = _as_heard(event.voicing)
    return EventTable(
        tuple(attrs.evolve(event, voicing=heard[event.voicing]) for event in score.events),
        score.clicks,
        score.bass,
        score.root,
    )


def _as_heard(voicing: Voicing) -> Voicing:
    """The grip without names for what it does not sound, which the table does not hold."""
    names = list(voicing.chord.names)
    for degree in voicing.degrees:
        names[degree.pitch_class] = degree
    return attrs.evolve(voicing, names=tuple(names))


def read_csv(data: bytes, instrument: Instrument) -> EventTable:
    """Read the events of a score back from its table.

    Columns are found by the header and may stand in any order; seconds are not needed. Notes and
    degrees must be those of the shape, so that another instrument does not go unnoticed. What a
    grip calls a tone that it does not sound is not in the table.

    Args:
        data: The file, UTF-8, with or without the apostrophes that guard cells.
        instrument: What the shapes are gripped on.

    Raises:
        UnreadableFileError: The file is no such table; says which line and column.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> from gripwright_rhythm.export.csv_events import CsvExporter
        >>> score = sample_score()
        >>> read_csv(CsvExporter().export(score), score.instrument).events == score.events
        True
    """
    tracks: dict[str, list[ChordEvent | ClickEvent | NoteEvent]] = {name: [] for name in TRACKS}
    grips: dict[tuple[str, str, str, str], Voicing] = {}
    for line, cells in _lines(data):
        row = _Row(line, cells)
        track = row.read("track", _one_of(TRACKS))
        if track == "click":
            tracks[track].append(_click(row))
        elif track == "chords":
            tracks[track].append(_chord(row, instrument, grips))
        else:
            tracks[track].append(_note(row))
    return EventTable(
        cast("tuple[ChordEvent, ...]", tuple(tracks["chords"])),
        cast("tuple[ClickEvent, ...]", tuple(tracks["click"])),
        cast("tuple[NoteEvent, ...]", tuple(tracks["bass"])),
        cast("tuple[NoteEvent, ...]", tuple(tracks["root"])),
    )


def _lines(data: bytes) -> Iterator[tuple[int, dict[str, str]]]:
    """The cells of each line by column, and the number of the line."""
    if len(data) > LARGEST_BYTES:
        raise _unreadable(f"it has {len(data):,} bytes, more than {LARGEST_BYTES:,}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _unreadable("it is not UTF-8") from None
    reader = csv.reader(StringIO(text, newline=""), strict=True)
    try:
        header = next(reader, [])
        missing = [name for name in _READ if header.count(name) != 1]
        if missing:
            raise _unreadable(f"the header must have {missing[0]!r} once", 1)
        for cells in reader:
            if len(cells) != len(header):
                raise _unreadable(
                    f"{len(cells)} cells under {len(header)} columns", reader.line_num
                )
            yield reader.line_num, dict(zip(header, map(unguarded, cells), strict=True))
    except csv.Error as error:
        raise _unreadable(str(error), reader.line_num) from None


def _unreadable(
    reason: str, line: int | None = None, column: str | None = None
) -> UnreadableFileError:
    return UnreadableFileError(what="table of events", reason=reason, line=line, column=column)


@attrs.frozen
class _Row:
    """The cells of a line, which say where they cannot be read."""

    line: int
    cells: dict[str, str]

    def read(self, column: str, read: Callable[[str], T]) -> T:
        text = self.cells[column]
        try:
            return read(text)
        except (GripwrightError, ValueError) as error:
            raise _unreadable(str(error), self.line, column) from None

    def made(self, make: Callable[[], T]) -> T:
        """The event, refused with its line where its values do not go together."""
        try:
            return make()
        except GripwrightError as error:
            raise _unreadable(str(error), self.line) from None


def _time(text: str) -> Fraction:
    if not _TIME.fullmatch(text):
        message = f"{text!r} is no whole number or fraction such as 3/2"
        raise ValueError(message)
    return Fraction(text)


def _whole(text: str) -> int:
    if not _WHOLE.fullmatch(text):
        message = f"{text!r} is no whole number"
        raise ValueError(message)
    return int(text)


def _flag(text: str) -> bool:
    return _one_of(("yes", ""))(text) == "yes"


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text not in words:
            message = f"{text!r} is none of {', '.join(map(repr, words))}"
            raise ValueError(message)
        return text

    return read


def _click(row: _Row) -> ClickEvent:
    onset, bar, beat = row.read("onset", _time), row.read("bar", _whole), row.read("beat", _time)
    accent = row.read("accent", _flag)
    return row.made(lambda: ClickEvent(onset, bar, beat, accent))


def _note(row: _Row) -> NoteEvent:
    onset, end = row.read("onset", _time), row.read("end", _time)
    pitch = row.read("notes", Pitch.parse)
    bar, beat = row.read("bar", _whole), row.read("beat", _time)
    dynamic = row.read("dynamic", _whole)
    return row.made(lambda: NoteEvent(onset, end, pitch, bar, beat, dynamic))


def _chord(
    row: _Row, instrument: Instrument, grips: dict[tuple[str, str, str, str], Voicing]
) -> ChordEvent:
    key = (row.cells["chord"], row.cells["shape"], row.cells["notes"], row.cells["degrees"])
    if key not in grips:
        grips[key] = _voicing(row, instrument)
    onset, end = row.read("onset", _time), row.read("end", _time)
    bar, beat = row.read("bar", _whole), row.read("beat", _time)
    dynamic = row.read("dynamic", _whole)
    stroke = cast("Stroke", row.read("stroke", _one_of(STROKES)))
    accent, push = row.read("accent", _flag), row.read("push", _flag)
    approach, short = row.read("approach", _flag), row.read("short", _flag)
    return row.made(
        lambda: ChordEvent(
            onset, end, grips[key], bar, beat, dynamic, accent, stroke, push, approach, short
        )
    )


def _voicing(row: _Row, instrument: Instrument) -> Voicing:
    chord = row.read("chord", Chord.parse)
    frets = row.read("shape", Shape.parse).frets
    if len(frets) != len(instrument.strings):
        raise _unreadable(
            f"{len(frets)} strings, but {instrument.name} has {len(instrument.strings)}",
            row.line,
            "shape",
        )
    for string, fret in enumerate(frets):
        if fret > instrument.frets or 0 < fret < instrument.lowest_press(string):
            raise _unreadable(f"no fret {fret} on {instrument.name}", row.line, "shape")
    sounding = Voicing(chord, instrument, frets).midi
    degrees = row.read("degrees", lambda text: tuple(map(Degree, text.split())))
    if len(degrees) != len(sounding):
        raise _unreadable(f"{len(degrees)} degrees of {len(sounding)} strings", row.line, "degrees")
    names = list(chord.names)
    for midi, degree in zip(sounding, degrees, strict=True):
        above = (midi - chord.root.pitch_class) % len(names)
        if degree.pitch_class != above:
            raise _unreadable(
                f"{degree} is not what the shape sounds on {instrument.name}", row.line, "degrees"
            )
        names[above] = degree
    voicing = Voicing(chord, instrument, frets, tuple(names))
    notes = " ".join(map(str, voicing.pitches))
    if row.cells["notes"] != notes:
        raise _unreadable(f"the shape sounds {notes} on {instrument.name}", row.line, "notes")
    return voicing
