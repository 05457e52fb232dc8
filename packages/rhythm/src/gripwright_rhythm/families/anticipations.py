"""Chords that sound before their own beat."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from gripwright.meter import ANY_METER, MadeFamily, Meter, RhythmPattern
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import Place, middle_beat, off_beats


def _anticipations(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    last, middle = off_beats(meter)[-1], middle_beat(meter)
    yield _pushed(meter, last)
    if middle is not None:
        # The off-beat before the middle beat is never the last one: it lies before a beat.
        before = off_beats(meter)[middle - 2]
        yield _pushed(meter, before)
        yield _pushed(meter, before, last)
    summary = f"Beat 1, and {last.words} for the chord of the next bar."
    yield written(meter, f"push-1-{last.label}", [["1", f"{last.beat}>"]], summary)


def _pushed(meter: Meter, *pushed: Place) -> RhythmPattern:
    name = "-".join(["push", *(place.label for place in pushed)])
    summary = f"{' and '.join(place.words for place in pushed)}".capitalize()
    words = [f"{place.beat}>" for place in pushed]
    return written(meter, name, [words], f"{summary}, for the chord of the next beat.")


ANTICIPATIONS: Final = MadeFamily(
    "anticipations", "Chords that sound just before their own beat.", ANY_METER, _anticipations
)
"""Anticipations of the next bar and of the middle of the bar."""
