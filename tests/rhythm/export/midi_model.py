"""What a MIDI file of a score must sound, said in another way than the exporter does."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright import ChordEvent, NoteEvent, Score

CHANNELS = {"clicks": 10, "chords": 1, "bass": 2, "root": 3}

Sounding = tuple[int, int, int, int, int]
"""Channel, pitch, tick of the attack, tick of the release, velocity."""


def tick_of(score: Score, time: Fraction) -> int:
    """Return the nearest of 960 ticks a quarter, halfway the later one."""
    return floor((time - score.start) * 960 + Fraction(1, 2))


def expected(score: Score, *, doubles: bool = True) -> list[Sounding]:
    """Return every note that must sound, clicks aside, by channel, pitch and tick.

    A pitch is attacked at each tick at which an event attacks it, and sounds until the next such
    tick or until no event that has begun holds it.
    """
    found: list[Sounding] = []
    parts: dict[str, list[tuple[int, ChordEvent | NoteEvent]]] = {
        "chords": list(_chords(score, doubles=doubles)),
        "bass": [(one.pitch.midi, one) for one in score.bass],
        "root": [(one.pitch.midi, one) for one in score.root],
    }
    for name, held in parts.items():
        by_pitch: dict[int, list[tuple[int, int, int]]] = defaultdict(list)
        for pitch, event in held:
            on, off = tick_of(score, event.onset), tick_of(score, event.end)
            by_pitch[pitch].append((on, max(off, on + 1), event.dynamic))
        for pitch, spans in by_pitch.items():
            attacks = sorted({on for on, _, _ in spans})
            for place, attack in enumerate(attacks):
                release = max(off for on, off, _ in spans if on <= attack)
                release = min([release, *attacks[place + 1 : place + 2]])
                loudness = max(dynamic for on, _, dynamic in spans if on == attack)
                found.append((CHANNELS[name], pitch, attack, release, loudness))
    return sorted(found)


def _chords(score: Score, *, doubles: bool) -> Iterable[tuple[int, ChordEvent]]:
    for event in score.events:
        for index, fret in enumerate(event.voicing.frets):
            if fret < 0:
                continue
            string = score.instrument.strings[index]
            above = fret and fret - string.first_fret
            courses = [string.open, *(string.doubles if doubles else ())]
            yield from ((pitch.midi + above, event) for pitch in courses)
