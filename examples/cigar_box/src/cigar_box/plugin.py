"""What the entry point names: an answer to each hook."""

from cigar_box.exporter import ChordListExporter
from cigar_box.family import TRAIN
from cigar_box.instrument import CIGAR_BOX
from cigar_box.strategy import OctavePower
from gripwright import Exporter, Instrument, VoicingStrategy, hookimpl
from gripwright.meter import RhythmFamily


@hookimpl
def gripwright_instruments() -> list[Instrument]:
    """Give the instrument."""
    return [CIGAR_BOX]


@hookimpl
def gripwright_voicing_strategies() -> list[VoicingStrategy]:
    """Give the strategy."""
    return [OctavePower()]


@hookimpl
def gripwright_rhythm_families() -> list[RhythmFamily]:
    """Give the family."""
    return [TRAIN]


@hookimpl
def gripwright_exporters() -> list[Exporter]:
    """Give the exporter."""
    return [ChordListExporter()]
