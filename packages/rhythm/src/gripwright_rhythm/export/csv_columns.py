"""The columns of a table of events, and its tracks."""

from typing import Final

COLUMNS: Final = (
    "track",
    "bar",
    "beat",
    "onset",
    "end",
    "onset_seconds",
    "end_seconds",
    "chord",
    "shape",
    "notes",
    "degrees",
    "dynamic",
    "stroke",
    "push",
    "approach",
    "accent",
    "short",
)
"""The header, in order."""

TRACKS: Final = ("click", "chords", "bass", "root")
"""What stands in the column ``track``; the order of rows at one time."""
