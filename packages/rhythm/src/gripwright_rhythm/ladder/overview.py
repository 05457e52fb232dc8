"""An overview of the bar: every place of it, long and short."""

from __future__ import annotations

import attrs

from gripwright.meter import Meter, RhythmPattern
from gripwright_rhythm.ladder.rungs import rungs_in
from gripwright_rhythm.place import Place, places


@attrs.frozen
class PlaceRow:
    """A place of the bar, as an overview shows it.

    Args:
        place: The place.
        long: A chord there alone, held; its `RhythmPattern.cells` say from where to where.
        short: A chord there alone, short.
        rung: The number of the rung that takes it up first; None where none does.

    Example:
        >>> row = place_rows(Meter(4, 4))[1]
        >>> row.place.label, str(row.short)
        ('1.5', "1.5'")
    """

    place: Place
    long: RhythmPattern
    short: RhythmPattern
    rung: int | None


def place_rows(meter: Meter) -> tuple[PlaceRow, ...]:
    """Every place of the bar, in order.

    Example:
        >>> for row in place_rows(Meter(2, 4)):
        ...     print(row.place.label, row.long, row.short, row.rung)
        1 1 1' 1
        1.5 1.5 1.5' 17
        2 2 2' 12
        2.5 2.5 2.5' 18
    """
    taken_up: dict[RhythmPattern, int] = {}
    for one in rungs_in(meter):
        for part in one.parts(meter):
            if part.pattern is not None:
                plain = attrs.evolve(part.pattern, name="place", summary="")
                taken_up.setdefault(plain, one.number)
    rows: list[PlaceRow] = []
    for place in places(meter):
        long = RhythmPattern.parse(str(place.beat), meter, name="place")
        row = PlaceRow(place, long, long.with_length("short"), taken_up.get(long))
        rows.append(row)
    return tuple(rows)
