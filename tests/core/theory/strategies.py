"""Spelled notes, pitches and intervals that the theory tests draw from."""

from __future__ import annotations

from typing import Final

from gripwright.laws import drawing

ROOTS: Final = tuple(letter + accidental for letter in "CDEFGAB" for accidental in ("", "#", "b"))

notes = drawing.notes()
pitches = drawing.pitches()
intervals = drawing.intervals()
