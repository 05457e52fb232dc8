"""Places of the bar at random, the same for the same seed."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Final

from gripwright.meter import ANY_METER, MadeFamily, Meter, RhythmPattern
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import Place, places

_BARS: Final = 8
_KINDS: Final = (
    ("random-1", 1, ("",), "One place a bar at random, long."),
    ("random-1-short", 1, ("'",), "One place a bar at random, short."),
    ("random-1-mixed", 1, ("", "'"), "One place a bar at random, long or short."),
    ("random-2-mixed", 2, ("", "'"), "Two places a bar at random, long or short."),
)


def _random_places(meter: Meter, seed: int) -> Iterator[RhythmPattern]:
    for name, count, marks, summary in _KINDS:
        # Each pattern draws for itself, so that none depends on those before it.
        draw = Random(f"{name} {meter} {seed}")  # noqa: S311 - practice, not secrets
        bars = [_bar(draw, places(meter), count, marks) for _ in range(_BARS)]
        yield written(meter, name, bars, summary)


def _bar(draw: Random, among: tuple[Place, ...], count: int, marks: tuple[str, ...]) -> list[str]:
    left = list(among)
    chosen = [left.pop(_index(draw, len(left))) for _ in range(count)]
    chosen.sort(key=lambda place: place.beat)
    return [f"{place.beat}{marks[_index(draw, len(marks))]}" for place in chosen]


def _index(draw: Random, length: int) -> int:
    # The language promises the same numbers in all versions for `random` alone.
    return int(draw.random() * length)


RANDOM_PLACES: Final = MadeFamily(
    "random", "Places of the bar at random; another seed gives others.", ANY_METER, _random_places
)
"""Random places, by a seed."""
