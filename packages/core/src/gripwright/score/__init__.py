"""Scores: what exporters receive. Exact events over the bars of a form.

Nothing here knows a file format, save the score's own JSON.
"""

from gripwright.score.event import ChordEvent, ClickEvent, NoteEvent
from gripwright.score.score import ChordChange, Chorus, Score, ScoreBar

__all__ = ["ChordChange", "ChordEvent", "Chorus", "ClickEvent", "NoteEvent", "Score", "ScoreBar"]
