"""A music-theory library for the accompanying guitarist.

From a chord symbol to every playable voicing on any fretted instrument. The public names are
loaded on first use (PEP 562), so that reading a chord symbol loads no NumPy.

Example:
    >>> from gripwright import Chord
    >>> [str(note) for note in Chord.parse("Dm9").notes]
    ['D', 'F', 'A', 'C', 'E']
"""

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gripwright.errors import (
        ChartError,
        ChartFault,
        ChordSymbolError,
        ConditionError,
        GripwrightError,
        LeadSheetError,
        NoCandidateError,
        NotationError,
        PluginError,
        RowBoundError,
        ScoreError,
        UnknownNameError,
    )
    from gripwright.leading.cost import LineWeights
    from gripwright.leading.line import Line, choruses, lead
    from gripwright.meter.attack import Attack
    from gripwright.meter.hit import Hit
    from gripwright.meter.meter import Meter
    from gripwright.meter.pattern import RhythmPattern
    from gripwright.neck import diagram, ranking
    from gripwright.neck.hand import Hand
    from gripwright.neck.instrument import Instrument, InstrumentString
    from gripwright.neck.recipe import Recipe, VoicingStrategy
    from gripwright.neck.search import find_voicings
    from gripwright.neck.shape import Shape
    from gripwright.neck.table import VoicingTable
    from gripwright.neck.voicing import Voicing
    from gripwright.plugins.hookspecs import hookimpl
    from gripwright.plugins.kinds import Exporter
    from gripwright.plugins.registry import Registry, load_registry
    from gripwright.score.document import score_document
    from gripwright.score.document_reader import read_score
    from gripwright.score.event import ChordEvent, ClickEvent, NoteEvent
    from gripwright.score.score import ChordChange, Chorus, Score, ScoreBar
    from gripwright.theory.chord import Chord
    from gripwright.theory.degree import Degree
    from gripwright.theory.interval import Interval
    from gripwright.theory.naming import ChordName, name_notes
    from gripwright.theory.note import Note
    from gripwright.theory.pitch import Pitch
    from gripwright.theory.quality import QUALITIES, Quality
    from gripwright.theory.symbol import SymbolReader
    from gripwright.tune.chart import Chart

__version__ = "0.1.0"

_MODULES = {"diagram": "gripwright.neck.diagram", "ranking": "gripwright.neck.ranking"}

_HOMES = {
    "ChartError": "errors",
    "ChartFault": "errors",
    "ChordSymbolError": "errors",
    "ConditionError": "errors",
    "GripwrightError": "errors",
    "NotationError": "errors",
    "PluginError": "errors",
    "RowBoundError": "errors",
    "ScoreError": "errors",
    "UnknownNameError": "errors",
    "LeadSheetError": "errors",
    "NoCandidateError": "errors",
    "Line": "leading.line",
    "LineWeights": "leading.cost",
    "choruses": "leading.line",
    "lead": "leading.line",
    "Attack": "meter.attack",
    "Hit": "meter.hit",
    "Meter": "meter.meter",
    "RhythmPattern": "meter.pattern",
    "Hand": "neck.hand",
    "Instrument": "neck.instrument",
    "InstrumentString": "neck.instrument",
    "Recipe": "neck.recipe",
    "VoicingStrategy": "neck.recipe",
    "find_voicings": "neck.search",
    "Shape": "neck.shape",
    "VoicingTable": "neck.table",
    "Voicing": "neck.voicing",
    "hookimpl": "plugins.hookspecs",
    "Exporter": "plugins.kinds",
    "Registry": "plugins.registry",
    "load_registry": "plugins.registry",
    "ChordChange": "score.score",
    "ChordEvent": "score.event",
    "Chorus": "score.score",
    "ClickEvent": "score.event",
    "NoteEvent": "score.event",
    "Score": "score.score",
    "ScoreBar": "score.score",
    "read_score": "score.document_reader",
    "score_document": "score.document",
    "Chord": "theory.chord",
    "ChordName": "theory.naming",
    "Degree": "theory.degree",
    "Interval": "theory.interval",
    "Note": "theory.note",
    "name_notes": "theory.naming",
    "Pitch": "theory.pitch",
    "QUALITIES": "theory.quality",
    "Quality": "theory.quality",
    "SymbolReader": "theory.symbol",
    "Chart": "tune.chart",
}

__all__ = [
    "QUALITIES",
    "Attack",
    "Chart",
    "ChartError",
    "ChartFault",
    "Chord",
    "ChordChange",
    "ChordEvent",
    "ChordName",
    "ChordSymbolError",
    "Chorus",
    "ClickEvent",
    "ConditionError",
    "Degree",
    "Exporter",
    "GripwrightError",
    "Hand",
    "Hit",
    "Instrument",
    "InstrumentString",
    "Interval",
    "LeadSheetError",
    "Line",
    "LineWeights",
    "Meter",
    "NoCandidateError",
    "NotationError",
    "Note",
    "NoteEvent",
    "Pitch",
    "PluginError",
    "Quality",
    "Recipe",
    "Registry",
    "RhythmPattern",
    "RowBoundError",
    "Score",
    "ScoreBar",
    "ScoreError",
    "Shape",
    "SymbolReader",
    "UnknownNameError",
    "Voicing",
    "VoicingStrategy",
    "VoicingTable",
    "choruses",
    "diagram",
    "find_voicings",
    "hookimpl",
    "lead",
    "load_registry",
    "name_notes",
    "ranking",
    "read_score",
    "score_document",
]


def __getattr__(name: str) -> object:
    if name in _MODULES:
        value: object = importlib.import_module(_MODULES[name])
    elif name in _HOMES:
        value = getattr(importlib.import_module(f"gripwright.{_HOMES[name]}"), name)
    else:
        message = f"module 'gripwright' has no attribute {name!r}"
        raise AttributeError(message)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
