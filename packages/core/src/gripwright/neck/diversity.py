"""Variety: a few voicings that cover the neck, the families and the top notes.

Rows are taken one by one from an order. Each taken row counts against those like it: rows of the
same region of the neck, the same top tone, the same families; a row that shares all but one of
its sounding strings with a taken one waits long. The weights are our own.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import VoicingTable
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

_REGION_FRETS: Final = 3
_LIKENESS: Final = {"region": 1.5, "top": 1.0, "families": 1.0, "strings": 0.5}
_NEAR_DUPLICATE: Final = 20.0


def diverse(table: VoicingTable, count: int) -> VoicingTable:
    """At most so many rows of an ordered table that differ from each other.

    Args:
        table: Voicings in an order, the best first.
        count: How many rows to take.

    Returns:
        The rows taken, the first row of the table first.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings, ranking
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar).order_by(ranking.teaching)
        >>> few = diverse(table, 8)
        >>> len(few), len(set(few.columns["top_degree"])) > 2
        (8, True)
    """
    late = np.sqrt(np.arange(len(table)))
    traits = _traits(table)
    frets = table.frets
    taken: list[int] = []
    for _ in range(min(count, len(table))):
        row = int(np.argmin(late))
        taken.append(row)
        for name, trait in traits.items():
            late += _LIKENESS[name] * (trait == trait[row])
        shared = ((frets == frets[row]) & (frets >= 0)).sum(axis=1)
        fewer = np.minimum(table.columns["notes"], table.columns["notes"][row])
        late += _NEAR_DUPLICATE * (shared >= fewer - 1)
        late[row] = np.inf
    return table[np.array(taken, np.intp)]


def _traits(table: VoicingTable) -> dict[str, NDArray[np.int64]]:
    families = np.zeros(len(table), np.int64)
    for bit, rows in enumerate(table.families().values()):
        families |= rows.astype(np.int64) << bit
    strings = np.zeros(len(table), np.int64)
    for string, (sounds, _) in enumerate(sounding_pitches(table.pairs)):
        strings |= sounds.astype(np.int64) << string
    return {
        "region": (table.columns["lowest_fret"].astype(np.int64) + 1) // _REGION_FRETS,
        "top": table.columns["top_midi"].astype(np.int64) % SEMITONES_IN_OCTAVE,
        "families": families,
        "strings": strings,
    }
