"""The ways in which the chords of a score are written."""

from typing import Literal

Notation = Literal["tablature", "notes", "slashes"]
"""How the chords are written: notes with tablature beneath, notes alone, or slashes."""
