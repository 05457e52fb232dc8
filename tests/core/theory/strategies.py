"""Spelled notes, pitches and intervals that the theory tests draw from."""

from __future__ import annotations

from typing import Final

from hypothesis import strategies as st

from gripwright import Interval, Note, Pitch

ROOTS: Final = tuple(letter + accidental for letter in "CDEFGAB" for accidental in ("", "#", "b"))
MAJOR_SCALE: Final = (0, 2, 4, 5, 7, 9, 11)


def near_the_scale(steps: int, offset: int) -> Interval:
    """Build an interval whose size lies a few semitones from that of the major scale."""
    octaves, step = divmod(steps, 7)
    return Interval(steps, 12 * octaves + MAJOR_SCALE[step] + offset)


notes = st.builds(Note, letter=st.sampled_from("CDEFGAB"), alteration=st.integers(-3, 3))
pitches = st.builds(Pitch, note=notes, octave=st.integers(-1, 9))
intervals = st.builds(near_the_scale, st.integers(-21, 21), st.integers(-4, 4))
