"""The grid of a bar: its pulses and their parts, and which of them are heard as stronger."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from itertools import accumulate
from typing import Final

import attrs

from gripwright.meter import Meter

BAR: Final = 0
GROUP: Final = 1
PULSE: Final = 2
CELL: Final = 3
INSIDE: Final = 4
"""Levels of places in a bar, the strongest first; `INSIDE` is the first of those in a cell."""

_LONGEST_CELL: Final = Fraction(1)
_HALVES: Final = 2


@attrs.frozen
class Grid:
    """The places of a bar at which notes and rests are divided.

    A cell is the unit of the metre, a quarter at most. Pulses are cells or three of them; groups
    are those that the metre names, the halves of four pulses, or of six.

    Args:
        meter: The metre.
        lead_in: Divisions of the metre before the start of the bar, where it is a pickup.
        length: Divisions in the bar.
        divisions: Divisions in a quarter, of which a cell holds a whole number.

    Example:
        >>> grid = Grid(Meter(4, 4), 0, 8, 2)
        >>> [grid.level(place) for place in range(8)]
        [0, 4, 2, 4, 1, 4, 2, 4]
    """

    meter: Meter
    lead_in: int
    length: int
    divisions: int

    @cached_property
    def cell(self) -> int:
        """Divisions in a cell."""
        return int(min(Fraction(4, self.meter.unit), _LONGEST_CELL) * self.divisions)

    @cached_property
    def pulse(self) -> int:
        """Divisions in a pulse."""
        return int(self.meter.pulse * self.divisions)

    @cached_property
    def _bar(self) -> int:
        return int(self.meter.length * self.divisions)

    @cached_property
    def _groups(self) -> frozenset[int]:
        meter = self.meter
        if meter.groups:
            unit = self._bar // meter.count
            return frozenset(unit * count for count in accumulate(meter.groups))
        if meter.pulses % _HALVES == 0 and meter.pulses > _HALVES:
            return frozenset({self._bar // _HALVES})
        return frozenset()

    def level(self, place: int) -> int:
        """How strong a place is: 0 for the first beat, more for weaker ones.

        Args:
            place: Divisions from the start of the bar.
        """
        place = (place + self.lead_in) % self._bar
        if place == 0:
            return BAR
        if place in self._groups:
            return GROUP
        if place % self.pulse == 0:
            return PULSE
        if place % self.cell == 0:
            return CELL
        return INSIDE + (Fraction(place, self.cell).denominator.bit_length() - 2)

    def cell_of(self, place: int) -> tuple[int, int]:
        """Where the cell around a place starts and ends; it may reach out of the bar.

        Args:
            place: Divisions from the start of the bar.
        """
        start = (place + self.lead_in) // self.cell * self.cell - self.lead_in
        return start, start + self.cell

    def cells_inside(self, start: int, end: int) -> range:
        """The starts of cells strictly between two places."""
        first = self.cell_of(start)[1]
        return range(first, end, self.cell)

    def pulse_of(self, place: int) -> int:
        """The number of the pulse in which a place lies."""
        return (place + self.lead_in) // self.pulse
