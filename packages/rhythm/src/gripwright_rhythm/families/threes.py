"""Patterns of three beats that wander across the bars of another metre."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import lcm
from typing import Final

from gripwright.meter import MadeFamily, Meter, MeterSet, RhythmPattern
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import off_beats

_BEATS: Final = 3
# Each by its name; "off" stands for the off-beat of 2.
_CELLS: Final = {
    "threes-1-off-2": ("1", "off"),
    "threes-1": ("1",),
    "threes-1-3": ("1", "3"),
    "threes-2-3": ("2", "3"),
}


def _threes(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    off = off_beats(meter)[1]
    for name, cell in _CELLS.items():
        bars: list[list[str]] = [[] for _ in range(lcm(_BEATS, meter.pulses) // meter.pulses)]
        for start in range(0, len(bars) * meter.pulses, _BEATS):
            for word in cell:
                beat = off.beat if word == "off" else Fraction(word)
                bar, place = divmod(start + beat - 1, meter.pulses)
                bars[bar].append(str(place + 1))
        words = " and ".join(off.words if word == "off" else word for word in cell)
        summary = f"{words} of every three beats, across the bars."
        yield written(meter, name, bars, f"{summary[0].upper()}{summary[1:]}")


_KNOWN: Final = MeterSet.where(
    "a metre of 2 beats or more whose bars are no threes",
    lambda meter: meter.pulses > 1 and meter.pulses % _BEATS != 0,
)

THREES: Final = MadeFamily(
    "threes", "Patterns of three beats that wander across the bars.", _KNOWN, _threes
)
"""Three over four, and over other metres."""
