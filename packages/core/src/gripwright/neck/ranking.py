"""Orders of voicings.

Each is total: rows that an order holds equal stand in lexicographic order of frets.

Example:
    >>> from gripwright import Chord, Instrument, find_voicings, ranking
    >>> table = find_voicings(Chord.parse("G7"), Instrument.from_text("G4 C4 E4 A4"))
    >>> [str(voicing.shape) for voicing in table.order_by(ranking.teaching)[:2]]
    ['7-7-7-8', 'x-7-7-8']
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import attrs
import numpy as np

from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import Column, VoicingTable
from gripwright.neck.teaching import teaching_weight
from gripwright.neck.voicing import Voicing

_STRANGER: Final = 6.0
_MM_A_SEMITONE: Final = 20.0
_REACH_MM_A_SEMITONE: Final = 30.0


@attrs.frozen
class Ranking:
    """A named order.

    Args:
        name: The name by which it is asked for.
        summary: One sentence for players.
        columns: What it sorts by, the weightiest first.

    Example:
        >>> ease.name, ease.summary
        ('ease', 'Least strain for the hand first')
    """

    name: str
    summary: str
    columns: Callable[[VoicingTable], tuple[Column, ...]] = attrs.field(repr=False)

    def keys(self, table: VoicingTable, /) -> tuple[Column, ...]:
        """Columns of (rows,), of which smaller values come first."""
        return self.columns(table)


def _ease(table: VoicingTable) -> tuple[Column, ...]:
    return np.round(table.strain(), 6), table.columns["highest_fret"]


teaching: Final = Ranking(
    "teaching",
    "What a teacher would show first",
    lambda table: (np.round(teaching_weight(table), 6),),
)
ease: Final = Ranking("ease", "Least strain for the hand first", _ease)
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


def near(voicing: Voicing) -> Ranking:
    """The order of nearness to a voicing: what a hand reaches from it with least motion.

    Counts the semitones that the voices move, paired from the top, with an octave's half for
    each voice that enters or leaves; the travel of the hand along the neck, a semitone for each
    20 mm; and what the reach is wider, a semitone for each 30 mm (our own weights). The voicing
    itself comes first in its own table.

    Args:
        voicing: Where the hand is, on the same instrument.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> inner = (5, 4, 3, 2)
        >>> here = find_voicings(Chord.parse("Dm7"), guitar, strings=inner).order_by(teaching)[0]
        >>> g7 = find_voicings(Chord.parse("G7"), guitar, strings=inner)
        >>> here.shape, g7.order_by(near(here))[0].shape
        ('x-5-7-5-6-x', 'x-5-5-4-6-x')
    """
    here = np.array(sorted(voicing.midi, reverse=True))
    centre = _centre_mm(voicing)

    def columns(table: VoicingTable) -> tuple[Column, ...]:
        pitches = np.stack(
            [np.where(sounds, pitch, np.nan) for sounds, pitch in sounding_pitches(table.pairs)]
        )
        # What is no number is sorted to the end, below the lowest voice.
        falling = -np.sort(-pitches, axis=0)
        voices = min(len(here), len(falling))
        moved = np.nansum(np.abs(falling[:voices] - here[:voices, None]), axis=0)
        strangers = np.abs(table.columns["notes"] - len(here))
        travel = np.zeros(len(table))
        if centre is not None:
            travel = np.abs(_centres_mm(table) - centre)
            travel[table.columns["highest_fret"] == 0] = 0.0
        motion = moved + _STRANGER * strangers + travel / _MM_A_SEMITONE
        wider = np.maximum(table.columns["reach_mm"] - voicing.reach_mm, 0.0)
        return (np.round(motion + wider / _REACH_MM_A_SEMITONE, 6),)

    return Ranking("near", f"Nearest to {voicing.shape} first", columns)


def _centre_mm(voicing: Voicing) -> float | None:
    places = [
        voicing.instrument.place_mm(string, fret)
        for string, fret in enumerate(voicing.frets)
        if fret > 0
    ]
    return (min(places) + max(places)) / 2 if places else None


def _centres_mm(table: VoicingTable) -> Column:
    nearest, farthest = table.pairs.places_mm()
    with np.errstate(invalid="ignore"):
        return (nearest + farthest) / 2


RANKINGS: Final = {order.name: order for order in (teaching, ease, position, top, notes)}
"""Every order by name."""
