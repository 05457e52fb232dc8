"""Variety: a few voicings that cover the neck, the families and the top notes.

Rows are taken one by one from an order. A row gains by each family, region of the neck and top
tone that no taken row has; it loses by each taken row that lies in its region, has its top tone
or its strings, and most by one that shares all but one of its sounding strings. The weights are
our own, in a unit in which the row of rank r starts at the square root of r; the later half of
the order waits long.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright.neck.table import VoicingTable
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

NEW: Final = {"family": 30.0, "region": 5.0, "top": 5.0}
"""What a row gains by having what no taken row has."""

LIKE: Final = {"region": 0.8, "top": 0.8, "strings": 0.8, "shape": 20.0}
"""What a row loses by each taken row that is like it."""

_REGION_FRETS: Final = 4
_LAST_REGION: Final = 3
_LATE_HALF: Final = 40.0


def diverse(table: VoicingTable, count: int) -> VoicingTable:
    """At most so many rows of an ordered table that differ from each other.

    Args:
        table: Voicings in an order, the best first.
        count: How many rows to take.

    Returns:
        The rows in the order in which they were taken, the first row of the table first.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings, ranking
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar).order_by(ranking.teaching)
        >>> few = diverse(table, 8)
        >>> len(few), len(set(few.columns["top_degree"])) > 2
        (8, True)
    """
    ranks = np.arange(len(table))
    late = np.sqrt(ranks) + _LATE_HALF * (ranks > len(table) / 2)
    families = list(table.families().values())
    frets, notes = table.frets, table.columns["notes"]
    traits = {
        "region": np.minimum(table.columns["lowest_fret"] // _REGION_FRETS, _LAST_REGION),
        "top": table.columns["top_midi"] % SEMITONES_IN_OCTAVE,
    }
    for flags in families:
        late -= NEW["family"] * flags
    taken: list[int] = []
    seen: dict[str, set[int]] = {name: set() for name in traits}
    for _ in range(min(count, len(table))):
        row = int(np.argmin(late)) if taken else 0
        taken.append(row)
        for name, trait in traits.items():
            new = int(trait[row]) not in seen[name]
            seen[name].add(int(trait[row]))
            late += (LIKE[name] + NEW[name] * new) * (trait == trait[row])
        for flags in [flags for flags in families if flags[row]]:
            late += NEW["family"] * flags
        families = [flags for flags in families if not flags[row]]
        late += LIKE["strings"] * _same_strings(frets, row)
        shared = ((frets == frets[row]) & (frets >= 0)).sum(axis=1)
        late += LIKE["shape"] * (shared >= np.minimum(notes, notes[row]) - 1)
        late[row] = np.inf
    return table[np.array(taken, np.intp)]


def _same_strings(frets: NDArray[np.int8], row: int) -> NDArray[np.bool_]:
    same: NDArray[np.bool_] = ((frets >= 0) == (frets[row] >= 0)).all(axis=1)
    return same
