"""The complete search: every playable voicing of a chord on an instrument.

The search is columnar and meets in the middle: each half of the strings is enumerated as
columns, the halves are joined where places and tones allow, and what the hand, the bass and the
right hand forbid is dropped from what is left.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError, RowBoundError
from gripwright.neck.conditions import Conditions
from gripwright.neck.halves import NARROWER, Enumeration, string_options
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.join import joined
from gripwright.neck.pairs import Neck, Pairs
from gripwright.neck.recipe import Recipe, VoicingStrategy
from gripwright.neck.settle import settled
from gripwright.neck.table import VoicingTable
from gripwright.neck.tones import tones_for
from gripwright.theory.chord import Chord

_USUAL_HAND: Final = Hand()


def find_voicings(
    chord: Chord,
    instrument: Instrument,
    hand: Hand = _USUAL_HAND,
    strategy: VoicingStrategy | None = None,
    **conditions: Any,
) -> VoicingTable:
    """Every playable voicing of a chord: that set, no more and no less.

    Args:
        chord: The chord.
        instrument: The instrument.
        hand: The fretting hand.
        strategy: How tones are stacked; any way if not given.
        **conditions: Fields of `gripwright.neck.conditions.Conditions`, such as
            ``top_degree="9"`` or ``strings=(5, 4, 3, 2)``.

    Returns:
        The voicings in lexicographic order of frets, bass side first, muted before open.

    Raises:
        ConditionError: A condition outside its range.
        RowBoundError: More voicings than ``row_bound``, 5,000,000 if not given.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> len(find_voicings(Chord.parse("Cmaj7"), guitar))
        11566
    """
    asked = Conditions(**conditions)
    if asked.strings is not None and max(asked.strings) > len(instrument.strings):
        raise ConditionError(
            name="strings",
            value=asked.strings,
            expected=f"string numbers from 1 to {len(instrument.strings)}",
        )
    recipes = (Recipe(()),) if strategy is None else tuple(strategy.recipes(chord))
    tones = tones_for(chord, recipes, asked)
    root = chord.root.pitch_class
    strings = len(instrument.strings)
    ways = Enumeration(
        instrument,
        tuple(
            string_options(instrument, string, root, tones.admitted, asked)
            for string in range(strings)
        ),
        root,
        hand,
        most_notes=int(np.max(np.flatnonzero(tones.fits.any(axis=0)), initial=0)),
        row_bound=asked.row_bound,
    )
    left, right = ways.half(range(strings // 2)), ways.half(range(strings // 2, strings))
    neck = Neck(chord, instrument, tones.names, left, right)
    found: list[tuple[Pairs, NDArray[np.int8]]] = []
    count = 0
    for pairs in joined(neck, hand, tones.fits):
        kept, presses = settled(pairs, tones, hand, asked)
        found.append((kept, presses))
        count += len(kept)
        if count > asked.row_bound:
            raise RowBoundError(bound=asked.row_bound, hint=NARROWER)
    return VoicingTable.joining(neck, found)
