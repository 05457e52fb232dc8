"""Every beat of the bar: held, accented, cut short."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from gripwright.meter import ANY_METER, MadeFamily, Meter, RhythmPattern
from gripwright_rhythm.families.making import written
from gripwright_rhythm.place import group_beats

_NUMBERS: Final = (
    "one two three four five six seven eight nine ten eleven twelve".split()  # noqa: SIM905 - a list of words reads as one
)
# Short chords of four to the bar last a half to seven tenths of a beat: common practice.
_STACCATO: Final = ("0.5", "0.6", "0.7")


def _every_beat(meter: Meter, _seed: int) -> Iterator[RhythmPattern]:
    count = meter.pulses
    name = f"{_NUMBERS[count - 1] if count <= len(_NUMBERS) else f'all-{count}'}-to-the-bar"
    accents = group_beats(meter, 2)
    words = f", {' and '.join(map(str, accents))} accented" if accents else ""
    beats = [(str(beat), "!" * (beat in accents)) for beat in range(1, count + 1)]
    yield written(meter, name, [[beat for beat, _ in beats]], "Every beat, held.")
    if accents:
        held = [f"{beat}{mark}" for beat, mark in beats]
        yield written(meter, f"{name}-accented", [held], f"Every beat, held{words}.")
    for length in _STACCATO:
        clipped = [f"{beat}:{length}{mark}" for beat, mark in beats]
        summary = f"Every beat for {length} of its length{words}."
        yield written(meter, f"{name}-{length}", [clipped], summary)


EVERY_BEAT: Final = MadeFamily(
    "every-beat", "Every beat held, accented or cut short: four to the bar.", ANY_METER, _every_beat
)
"""Four to the bar, and as many as there are."""
