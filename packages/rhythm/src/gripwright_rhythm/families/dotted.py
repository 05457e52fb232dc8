"""The dotted-quarter cell, from every eighth of the bar."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

import attrs

from gripwright.meter import MadeFamily, Meter, MeterSet, RhythmPattern
from gripwright.meter.pattern_text import number_text
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import places

_APART: Final = Fraction(3, 2)
_LEAST_BEATS: Final = 3


def _held(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    return _displacements(written(meter, "dotted", [["1", "2.5"]], ""), "")


def _clipped(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    return _displacements(written(meter, "dotted", [["1:1.5", "2.5:0.5"]], ""), "-clipped")


def _displacements(cell: RhythmPattern, ending: str) -> Iterator[RhythmPattern]:
    """The cell from each eighth of the bar, in order, as far as it differs from those before."""
    meter = cell.meter
    seen: set[RhythmPattern] = set()
    for place in places(meter):
        moved = cell.displaced(place.beat - 1)
        if moved in seen:
            continue
        seen.add(moved)
        other = place.beat + _APART
        past = other >= meter.pulses + 1
        where = f"{number_text(other - past * meter.pulses)}{' of the next bar' * past}"
        yield attrs.evolve(
            moved,
            name=f"dotted-{place.label}{ending}",
            summary=f"The dotted cell from {place.label}: its second chord on {where}.",
        )


_KNOWN: Final = MeterSet.where(
    "a metre of quarters with 3 beats or more",
    lambda meter: meter.pulse == 1 and meter.pulses >= _LEAST_BEATS,
)

DOTTED: Final = MadeFamily(
    "dotted", "A dotted quarter and a long chord, from every eighth of the bar.", _KNOWN, _held
)
"""The cell whose second chord is held."""

DOTTED_CLIPPED: Final = MadeFamily(
    "dotted-clipped",
    "A dotted quarter and an eighth, from every eighth of the bar.",
    _KNOWN,
    _clipped,
)
"""The cell whose second chord is an eighth."""
