"""The rhythm families that this distribution brings."""

from __future__ import annotations

import functools
from importlib.resources import files

from gripwright.meter import RhythmFamily
from gripwright_rhythm.families.anticipations import ANTICIPATIONS
from gripwright_rhythm.families.definitions import families_when_asked
from gripwright_rhythm.families.dotted import DOTTED, DOTTED_CLIPPED
from gripwright_rhythm.families.every_beat import EVERY_BEAT
from gripwright_rhythm.families.places import CYCLES, PAIRS, PLACES
from gripwright_rhythm.families.random_places import RANDOM_PLACES
from gripwright_rhythm.families.threes import THREES


@functools.cache
def families() -> tuple[RhythmFamily, ...]:
    """Give the families, the plainest first; no two patterns in one metre share a name.

    Example:
        >>> from gripwright import Meter
        >>> [family.name for family in families() if Meter(5, 4) in family.meters][:3]
        ['places', 'pairs', 'every-beat']
    """
    text = files("gripwright_rhythm.families").joinpath("families.toml").read_text(encoding="utf-8")
    return (
        PLACES,
        PAIRS,
        EVERY_BEAT,
        DOTTED,
        DOTTED_CLIPPED,
        ANTICIPATIONS,
        CYCLES,
        THREES,
        RANDOM_PLACES,
        *families_when_asked(text),
    )
