"""Single places, pairs of places, and one place a bar: for any metre."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from gripwright.meter import ANY_METER, MadeFamily, Meter, RhythmPattern
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import beats, off_beats, places


def _single(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    for mark, length, ending in (("", "long", ""), ("'", "short", "-short")):
        for place in places(meter):
            summary = f"{place.words} alone, {length}.".capitalize()
            yield written(meter, f"place-{place.label}{ending}", [[f"{place.beat}{mark}"]], summary)


def _pairs(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    for one, other in combinations(places(meter), 2):
        name = f"pair-{one.label}-{other.label}"
        summary = f"{one.words} and {other.words}.".capitalize()
        yield written(meter, name, [[str(one.beat), str(other.beat)]], summary)


def _cycles(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    for name, what, among in (
        ("cycle-beats", "beat", beats(meter)),
        ("cycle-off-beats", "off-beat", off_beats(meter)),
    ):
        bars = [[str(place.beat)] for place in among]
        yield written(meter, name, bars, f"One {what} a bar, the next one in each bar.")
        yield written(meter, f"{name}-back", bars[::-1], f"One {what} a bar, from the last back.")


PLACES: Final = MadeFamily(
    "places", "Every place of the bar alone, long and short.", ANY_METER, _single
)
"""Every place alone."""

PAIRS: Final = MadeFamily("pairs", "Every pair of places of the bar.", ANY_METER, _pairs)
"""Every two places."""

CYCLES: Final = MadeFamily("cycles", "One place a bar, another in each bar.", ANY_METER, _cycles)
"""One place a bar."""
