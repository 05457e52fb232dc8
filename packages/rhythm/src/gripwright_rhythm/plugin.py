"""The plugin: gives the rhythm families, and the exporters of scores."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright import hookimpl
from gripwright_rhythm.export.csv_events import CsvExporter
from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.musicxml import MusicXmlExporter
from gripwright_rhythm.export.sheet import SheetPdfExporter, SheetSvgExporter
from gripwright_rhythm.export.tablature import TextExporter
from gripwright_rhythm.export.wav import WavExporter
from gripwright_rhythm.families import families

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright import Exporter
    from gripwright.meter import RhythmFamily


@hookimpl
def gripwright_rhythm_families() -> Iterable[RhythmFamily]:
    """Give the usual families, the plainest first."""
    return families()


@hookimpl
def gripwright_exporters() -> Iterable[Exporter]:
    """Give an exporter for each format."""
    return (
        CsvExporter(),
        MidiExporter(),
        MusicXmlExporter(),
        SheetPdfExporter(),
        SheetSvgExporter(),
        TextExporter(),
        WavExporter(),
    )
