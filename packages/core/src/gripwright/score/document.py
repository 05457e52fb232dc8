"""A score as one JSON document with a schema version, which reads back equal.

Exact times are texts such as ``"7/2"``; chords are their canonical symbols; each different grip
stands once in a list that events point into.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, Final

from gripwright.neck.instrument_record import instrument_record
from gripwright.neck.voicing import Voicing
from gripwright.score.event import ChordEvent, ClickEvent, NoteEvent
from gripwright.score.score import ChordChange, Chorus, Score, ScoreBar

SCHEMA: Final = "gripwright/score/1"
"""Name and version of the document."""

_Row = dict[str, Any]

_FLAGS: Final = ("accent", "push", "approach", "short")


def score_document(score: Score) -> str:
    """Write a score as JSON (RFC 8259), an event a line; equal scores give equal text.

    Args:
        score: The score.

    Returns:
        ASCII text that ends with a line feed.

    Example:
        >>> from gripwright import read_score
        >>> from gripwright.score.sample import sample_score
        >>> read_score(score_document(sample_score())) == sample_score()
        True
    """
    grips: dict[Voicing, int] = {}
    events = [_event_row(event, grips) for event in score.events]
    changes = [_change_row(change, grips) for change in score.changes]
    head = {
        "schema": SCHEMA,
        "title": score.title,
        "rhythm": score.rhythm,
        "click": score.click,
        "notes": list(score.notes),
        "instrument": instrument_record(score.instrument),
    }
    lists: dict[str, Iterable[_Row]] = {
        "choruses": map(_chorus_row, score.choruses),
        "bars": map(_bar_row, score.bars),
        "changes": changes,
        "grips": map(_grip_row, grips),
        "events": events,
        "clicks": map(_click_row, score.clicks),
        "bass": map(_note_row, score.bass),
        "root": map(_note_row, score.root),
    }
    parts = [f"  {json.dumps(name)}: {json.dumps(value)}" for name, value in head.items()]
    for name, rows in lists.items():
        lines = ",\n".join(f"    {json.dumps(row)}" for row in rows)
        parts.append(f"  {json.dumps(name)}: [\n{lines}\n  ]" if lines else f'  "{name}": []')
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _event_row(event: ChordEvent, grips: dict[Voicing, int]) -> _Row:
    row: _Row = {
        "onset": str(event.onset),
        "end": str(event.end),
        "chord": str(event.chord),
        "grip": grips.setdefault(event.voicing, len(grips)),
        "bar": event.bar,
        "beat": str(event.beat),
        "dynamic": event.dynamic,
        "stroke": event.stroke,
    }
    return row | {name: True for name in _FLAGS if getattr(event, name)}


def _grip_row(voicing: Voicing) -> _Row:
    row: _Row = {
        "chord": str(voicing.chord),
        "frets": [None if fret < 0 else fret for fret in voicing.frets],
    }
    if voicing.names != voicing.chord.names:
        # A colour that the symbol does not name is part of what the grip is.
        row["names"] = list(voicing.names)
    return row


def _note_row(event: NoteEvent) -> _Row:
    return {
        "onset": str(event.onset),
        "end": str(event.end),
        "pitch": str(event.pitch),
        "bar": event.bar,
        "beat": str(event.beat),
        "dynamic": event.dynamic,
    }


def _click_row(event: ClickEvent) -> _Row:
    row: _Row = {"onset": str(event.onset), "bar": event.bar, "beat": str(event.beat)}
    return row | ({"accent": True} if event.accent else {})


def _bar_row(bar: ScoreBar) -> _Row:
    row: _Row = {
        "number": bar.number,
        "onset": str(bar.onset),
        "metre": str(bar.meter),
        "length": str(bar.length),
        "chorus": bar.chorus,
    }
    if bar.section is not None:
        row["section"] = bar.section
    if bar.ending:
        row["ending"] = True
    if bar.lead_in:
        row["lead_in"] = str(bar.lead_in)
    return row


def _chorus_row(chorus: Chorus) -> _Row:
    return {
        "number": chorus.number,
        "onset": str(chorus.onset),
        "end": str(chorus.end),
        "tempo_bpm": str(chorus.tempo_bpm),
        "swing": str(chorus.swing),
        "key": None if chorus.key is None else str(chorus.key),
    }


def _change_row(change: ChordChange, grips: dict[Voicing, int]) -> _Row:
    row: _Row = {
        "onset": str(change.onset),
        "end": str(change.end),
        "chord": None if change.chord is None else str(change.chord),
    }
    if change.voicing is not None:
        row["grip"] = grips.setdefault(change.voicing, len(grips))
    return row
