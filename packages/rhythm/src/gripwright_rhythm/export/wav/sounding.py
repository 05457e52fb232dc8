"""What sounds: each tone of a score, from its first sample to its last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, Literal

import attrs

from gripwright import ChordEvent, NoteEvent, Score, Voicing
from gripwright.meter.attack import Stroke
from gripwright_rhythm.export.midi_notes import StrumAnchor
from gripwright_rhythm.export.wav.tick import TICK_S

Kind = Literal["chord", "bass", "root", "click", "accent"]

FORCES: Final = 8
"""How many different colours a string has, from the softest to the hardest pluck."""

_LOUDEST: Final = 127
_LAW: Final = 1.5
_DOUBLE_GAIN: Final = 0.7


@attrs.frozen
class Tone:
    """What a tone is made from; equal tones sound equal.

    Args:
        kind: The track that it belongs to, or which click it is.
        midi: Its MIDI note number; 0 for a click.
        force: How hard it is plucked, from 0 to below `FORCES`; 0 for a click.
        double: Whether it is another string of a course.
    """

    kind: Kind
    midi: int = 0
    force: int = 0
    double: bool = False


@attrs.frozen
class Sounding:
    """A tone that sounds.

    Args:
        onset: The sample at which it starts.
        end: The sample at which it starts to be damped, after the onset.
        tone: What sounds.
        gain: How loud, where 1 is a string at full force.
    """

    onset: int
    end: int
    tone: Tone
    gain: float = 1.0


@attrs.frozen
class Strum:
    """How far apart the strings of a chord are struck.

    Args:
        samples: From the first string to the last, where there is room.
        anchor: Which of the two falls on the onset.
    """

    samples: int = 0
    anchor: StrumAnchor = "first"

    def onsets(
        self, stroke: Stroke, courses: int, onset: int, end: int, before: int
    ) -> Sequence[int]:
        """The sample of each string or course, from the bass side.

        Args:
            stroke: What the right hand does: up starts on the treble side, and what is plucked
                sounds together.
            courses: How many sound.
            onset: Where the chord starts.
            end: Where it ends: half of it sounds whole.
            before: Where the chord before starts; no string comes before half of that.

        Example:
            >>> Strum(300).onsets("up", 4, 1000, 2000, 0)
            [1300, 1200, 1100, 1000]
            >>> Strum(300, "last").onsets("down", 4, 1000, 2000, 900)
            [950, 966, 983, 1000]
        """
        if stroke == "pluck" or courses == 1:
            return [onset] * courses
        first_on_time = self.anchor == "first"
        spread = min(self.samples, (end - onset if first_on_time else onset - before) // 2)
        start = onset if first_on_time else onset - spread
        onsets = [start + spread * place // (courses - 1) for place in range(courses)]
        return onsets[::-1] if stroke == "up" else onsets


def soundings(score: Score, sample_rate: int, strum: Strum | None = None) -> list[Sounding]:
    """Everything that sounds in a score.

    Each time is turned into the sample nearest to it on its own, so that no error adds up. What
    rings over sounds on beside what is played next.

    Args:
        score: The score.
        sample_rate: Samples a second.
        strum: How far apart strings are struck; together if not given.

    Returns:
        What sounds, by onset; what starts together stands as chords, bass, root, clicks.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> [(one.onset, one.end, one.tone.midi) for one in soundings(sample_score(), 1000)[4:7]]
        [(4000, 8000, 50), (4000, 8000, 57), (4000, 8000, 60)]
    """

    def sample_at(time: Fraction) -> int:
        return round(score.seconds_at(time) * sample_rate)

    strum = strum or Strum()
    found: list[Sounding] = []
    before = 0
    for event in score.events:
        onset = sample_at(event.onset)
        found += _chord(event, onset, sample_at(event.end), before, strum)
        before = onset
    tracks: tuple[tuple[Kind, tuple[NoteEvent, ...]], ...] = (
        ("bass", score.bass),
        ("root", score.root),
    )
    for kind, track in tracks:
        for note in track:
            tone = Tone(kind, note.pitch.midi, _force(note.dynamic))
            onset, end = sample_at(note.onset), sample_at(note.end)
            found.append(_lasting(onset, end, tone, _gain(note.dynamic)))
    length = round(TICK_S * sample_rate)
    for click in score.clicks:
        onset = sample_at(click.onset)
        found.append(Sounding(onset, onset + length, Tone("accent" if click.accent else "click")))
    found.sort(key=lambda one: one.onset)
    return found


def _chord(
    event: ChordEvent, onset: int, end: int, before: int, strum: Strum
) -> Iterator[Sounding]:
    force, gain = _force(event.dynamic), _gain(event.dynamic)
    courses = list(_courses(event.voicing))
    onsets = strum.onsets(event.stroke, len(courses), onset, end, before)
    for start, (midi, doubles) in zip(onsets, courses, strict=True):
        yield _lasting(start, end, Tone("chord", midi, force), gain)
        for double in doubles:
            tone = Tone("chord", double, force, double=True)
            yield _lasting(start, end, tone, gain * _DOUBLE_GAIN)


def _courses(voicing: Voicing) -> Iterator[tuple[int, tuple[int, ...]]]:
    """What each sounding string and the other strings of its course sound, from the bass side."""
    for string, fret in enumerate(voicing.frets):
        if fret >= 0:
            midi = voicing.instrument.sounding(string, fret)
            course = voicing.instrument.strings[string]
            raised = midi - course.open.midi
            yield midi, tuple(double.midi + raised for double in course.doubles)


def _lasting(onset: int, end: int, tone: Tone, gain: float) -> Sounding:
    # An event may be shorter than a sample; it sounds for one.
    return Sounding(onset, max(end, onset + 1), tone, gain)


def _force(dynamic: int) -> int:
    return (dynamic - 1) * FORCES // _LOUDEST


def _gain(dynamic: int) -> float:
    return float((dynamic / _LOUDEST) ** _LAW)
