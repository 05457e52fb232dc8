"""Chords as values."""

from __future__ import annotations

import pytest

from gripwright import Chord, Interval


@pytest.mark.parametrize(
    ("symbol", "interval", "moved"),
    [
        ("C7", "M2", "D7"),
        ("C/E", "M2", "D/F#"),
        ("Bbm7/Ab", "m2", "Cbm7/Bbb"),
        ("F#m7b5", "-m3", "D#m7b5"),
        ("Dm7/G", "-M2", "Cm7/F"),
    ],
)
def test_a_chord_moves_with_its_bass(symbol: str, interval: str, moved: str) -> None:
    """Root and bass go by the same interval, spelled."""
    assert Chord.parse(symbol).transposed(Interval.parse(interval)) == Chord.parse(moved)
