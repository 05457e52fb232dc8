"""Orders of voicings.

Each is total: rows that an order holds equal stand in lexicographic order of frets.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import attrs
import numpy as np

from gripwright.neck.table import Column, VoicingTable
from gripwright.neck.teaching import teaching_weight


@attrs.frozen
class Ranking:
    """A named order.

    Args:
        name: The name by which it is asked for.
        summary: One sentence for players.
        columns: What it sorts by, the weightiest first.
    """

    name: str
    summary: str
    columns: Callable[[VoicingTable], tuple[Column, ...]] = attrs.field(repr=False)

    def keys(self, table: VoicingTable, /) -> tuple[Column, ...]:
        """Columns of (rows,), of which smaller values come first."""
        return self.columns(table)


def _ease(table: VoicingTable) -> tuple[Column, ...]:
    columns = table.columns
    return columns["reach_mm"] + 12.0 * columns["presses"] + 20.0 * columns["inner_mutes"], columns[
        "highest_fret"
    ]


teaching: Final = Ranking(
    "teaching",
    "What a teacher would show first",
    lambda table: (np.round(teaching_weight(table), 6),),
)
ease: Final = Ranking("ease", "Short reach and few fingers first", _ease)
position: Final = Ranking(
    "position",
    "From the nut upwards",
    lambda table: (table.columns["lowest_fret"], table.columns["highest_fret"]),
)
top: Final = Ranking(
    "top", "By the top note, from low to high", lambda table: (table.columns["top_midi"],)
)
notes: Final = Ranking(
    "notes", "Fewest sounding strings first", lambda table: (table.columns["notes"],)
)

RANKINGS: Final = {order.name: order for order in (teaching, ease, position, top, notes)}
"""Every order by name."""
