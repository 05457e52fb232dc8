"""What may sound beneath the chords: bass notes, or the root as a ground to hear them against."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final, Literal

from gripwright import Chord, Pitch
from gripwright.meter import RhythmPattern
from gripwright_rhythm.drill.form import Form, FormBar

RootSound = Literal["held", "pulsed"]

LOWEST_BASS_MIDI: Final = 28
"""E1, the lowest open string of a bass."""

LOWEST_ROOT_MIDI: Final = 36
"""C2: a root sounds in the octave from here, below what is gripped on a guitar."""

_OCTAVE: Final = 12

Note = tuple[Fraction, Fraction, Pitch]
"""Onset and end in quarters from the start of the chorus, as written, and the pitch."""


def root_notes(form: Form, sound: RootSound) -> Iterator[Note]:
    """The root under each chord: held through it, or again on every beat.

    Args:
        form: The chorus.
        sound: Which of the two.
    """
    for span in form.spans:
        if span.chord is None:
            continue
        pitch = _pitch(span.chord, bass=False, lowest=LOWEST_ROOT_MIDI)
        if sound == "held":
            yield span.onset, span.end, pitch
            continue
        for bar in form.bars:
            if bar.onset < span.end and span.onset < bar.end:
                yield from _pulses(bar, max(span.onset, bar.onset), min(span.end, bar.end), pitch)


def _pulses(bar: FormBar, start: Fraction, end: Fraction, pitch: Pitch) -> Iterator[Note]:
    place = start
    while place < end:
        beat = bar.zero + ((place - bar.zero) // bar.meter.pulse + 1) * bar.meter.pulse
        yield place, min(beat, end), pitch
        place = min(beat, end)


def bass_notes(form: Form, pattern: RhythmPattern | None) -> Iterator[Note]:
    """Bass notes: the bass of each chord where it starts, its fifth halfway through a long one.

    A pattern that says where a bass plays is followed: the bass of the chord on its first note in
    a bar or after a change, then fifth and bass in turn (common practice).

    Args:
        form: The chorus.
        pattern: The pattern, or None.
    """
    found: list[tuple[Fraction, int, bool]] = []
    for bar in form.bars:
        fresh: dict[int, bool] = {}
        for place in _bass_places(form, bar, pattern):
            span = form.span_at(place)
            fifth = fresh.get(span, False)
            fresh[span] = not fifth
            found.append((place, span, fifth))
    for index, (place, number, fifth) in enumerate(found):
        here = form.spans[number]
        if here.chord is not None:
            following = found[index + 1][0] if index + 1 < len(found) else form.length
            yield place, min(following, here.end), _bass(here.chord, fifth=fifth)


def _bass_places(form: Form, bar: FormBar, pattern: RhythmPattern | None) -> list[Fraction]:
    places = {
        span.onset
        for span in form.spans[form.span_at(bar.onset) : form.span_at(bar.end) + 1]
        if bar.onset <= span.onset < bar.end
    }
    places.add(bar.onset)
    if pattern is not None and pattern.bass:
        start = (bar.place % pattern.bars) * pattern.meter.length
        wanted = (bar.zero + attack.onset - start for attack in pattern.bass)
        places.update(place for place in wanted if bar.onset <= place < bar.end)
    elif len(places) == 1 and bar.meter.pulses % 2 == 0 and bar.length == bar.meter.length:
        places.add(bar.onset + bar.length / 2)
    return sorted(places)


def _bass(chord: Chord, *, fifth: bool) -> Pitch:
    return _pitch(chord, bass=True, lowest=LOWEST_BASS_MIDI, fifth=fifth)


def _pitch(chord: Chord, *, bass: bool, lowest: int, fifth: bool = False) -> Pitch:
    note = chord.bass if bass and chord.bass is not None else chord.root
    if fifth and chord.bass is None:
        degree = next((one for one in chord.degrees if one.number == 5), None)  # noqa: PLR2004
        note = chord.root if degree is None else chord.root + degree.interval
    midi = lowest + (note.pitch_class - lowest) % _OCTAVE
    return Pitch.spell(note, midi)
