"""Notes of a MIDI track: which pitch sounds from which tick to which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.midi_ticks import TICKS_PER_QUARTER, TickGrid

if TYPE_CHECKING:
    from gripwright import ChordEvent, ClickEvent, NoteEvent, Score, Voicing

StrumAnchor = Literal["first", "last"]
"""Which string of a strum falls on the onset that the score says."""

HIGHEST_PITCH: Final = 127

CLICK_PITCH: Final = 77
"""Low wood block in the percussion map of General MIDI 1."""

ACCENT_CLICK_PITCH: Final = 76
"""High wood block in the percussion map of General MIDI 1."""

_CLICK_TICKS: Final = TICKS_PER_QUARTER // 16
_CLICK_VELOCITY: Final = 88
_ACCENT_CLICK_VELOCITY: Final = 116

TickNote = tuple[int, int, int, int]
"""Pitch, tick of the attack, tick of the release, velocity."""


@attrs.frozen
class NotePart:
    """What a track of notes says.

    Args:
        name: The name of the track.
        channel: The channel, 1 to 16.
        notes: The notes, of which no two of one pitch sound at once.
        program: The program as General MIDI lists them, 1 to 128; None for percussion.
        symbols: Texts with their ticks: the chords of the chart.
    """

    name: str
    channel: int
    notes: list[TickNote]
    program: int | None = None
    symbols: list[tuple[int, str]] = attrs.Factory(list)


def settled(notes: Iterable[TickNote]) -> list[TickNote]:
    """Notes of which no two of one pitch sound at once, as one MIDI channel needs it.

    A pitch is attacked where any of its notes is, and sounds as long as any of them does: where
    one is attacked while an earlier one rings, the earlier one is released at that tick and the
    later one sounds until both are over. Notes that start at one tick are one, as loud as the
    loudest. So every release is some note's, and nothing hangs.

    Args:
        notes: The notes in any order; each is given one tick at least.

    Returns:
        The notes by pitch, then by attack.

    Example:
        >>> settled([(60, 0, 960, 80), (60, 480, 720, 90), (64, 0, 960, 80)])
        [(60, 0, 480, 80), (60, 480, 960, 90), (64, 0, 960, 80)]
    """
    found: list[TickNote] = []
    for pitch, attack, release, velocity in sorted(notes):
        end = max(release, attack + 1)
        if found and found[-1][0] == pitch and found[-1][2] > attack:
            _, before, until, loud = found[-1]
            end = max(end, until)
            if before == attack:
                found[-1] = (pitch, attack, end, max(velocity, loud))
                continue
            found[-1] = (pitch, before, attack, loud)
        found.append((pitch, attack, end, velocity))
    return found


def click_notes(clicks: Iterable[ClickEvent], grid: TickGrid) -> Iterator[TickNote]:
    """Clicks as percussion notes, the accented ones higher and louder."""
    for click in clicks:
        tick = grid.tick(click.onset)
        if click.accent:
            yield ACCENT_CLICK_PITCH, tick, tick + _CLICK_TICKS, _ACCENT_CLICK_VELOCITY
        else:
            yield CLICK_PITCH, tick, tick + _CLICK_TICKS, _CLICK_VELOCITY


def single_notes(events: Iterable[NoteEvent], grid: TickGrid) -> Iterator[TickNote]:
    """Bass notes or roots."""
    for event in events:
        pitch = _checked(event.pitch.midi)
        yield pitch, grid.tick(event.onset), grid.tick(event.end), event.dynamic


@attrs.frozen
class Strum:
    """How far apart the strings of a chord are attacked.

    Args:
        seconds: From the first string to the last, where the chord is long enough.
        anchor: Which of the two falls on the onset.
        doubles: Whether the other strings of a course sound too.
    """

    seconds: Fraction
    anchor: StrumAnchor
    doubles: bool

    def notes(self, score: Score, grid: TickGrid) -> Iterator[TickNote]:
        """The strings of every chord, all released at its end.

        Args:
            score: The score.
            grid: Its ticks.
        """
        # By identity: grips are few, events many, and a grip's hash is that of a whole instrument.
        known: dict[int, tuple[tuple[int, ...], ...]] = {}
        before = 0
        for event in score.events:
            strings = known.get(id(event.voicing))
            if strings is None:
                strings = known[id(event.voicing)] = _strings(event.voicing, doubles=self.doubles)
            onset, end = grid.tick(event.onset), grid.tick(event.end)
            velocity = event.dynamic
            if self.seconds == 0 or event.stroke == "pluck":
                for pitches in strings:
                    for pitch in pitches:
                        yield pitch, onset, end, velocity
            else:
                room = onset - before
                attacks = self._attacks(
                    score, event, strings=len(strings), onset=onset, end=end, room=room
                )
                for attack, pitches in zip(attacks, strings, strict=True):
                    for pitch in pitches:
                        yield pitch, attack, end, velocity
            before = onset

    def _attacks(
        self, score: Score, event: ChordEvent, *, strings: int, onset: int, end: int, room: int
    ) -> Sequence[int]:
        """The tick of each string, from the bass side."""
        bar = score.bar_at(event.onset)
        pulses = score.chorus_at(bar.onset).tempo_bpm
        wanted = self.seconds * pulses * bar.meter.pulse * TICKS_PER_QUARTER / 60
        # Half of the chord sounds whole, and no string comes before half of what was before it.
        longest = (end - onset) // 2 if self.anchor == "first" else room // 2
        spread = min(round(wanted), longest)
        first = onset if self.anchor == "first" else onset - spread
        gaps = max(strings - 1, 1)
        attacks = [first + (2 * spread * place + gaps) // (2 * gaps) for place in range(strings)]
        if strings == 1:
            attacks = [onset]
        return attacks if event.stroke == "down" else attacks[::-1]


def _strings(voicing: Voicing, *, doubles: bool) -> tuple[tuple[int, ...], ...]:
    """The pitches of each sounding string or course, from the bass side."""
    instrument = voicing.instrument
    found = []
    for index, fret in enumerate(voicing.frets):
        if fret < 0:
            continue
        pitch = instrument.sounding(index, fret)
        string = instrument.strings[index]
        others = (pitch + other.midi - string.open.midi for other in string.doubles)
        course = (pitch, *others) if doubles else (pitch,)
        found.append(tuple(map(_checked, course)))
    return tuple(found)


def _checked(pitch: int) -> int:
    if not 0 <= pitch <= HIGHEST_PITCH:
        raise ConditionError(
            name="pitch", value=pitch, expected=f"0 to {HIGHEST_PITCH}, the notes of MIDI"
        )
    return pitch
