"""Pitches: a note in an octave, in scientific pitch notation."""

from __future__ import annotations

import re
from typing import Final, overload

import attrs

from gripwright.errors import NotationError
from gripwright.theory.interval import (
    SEMITONES_IN_OCTAVE,
    STEPS_IN_OCTAVE,
    Interval,
    natural_semitones,
)
from gripwright.theory.note import LETTERS, Note

A4_HZ: Final = 440.0
"""Standard tuning frequency of A4 in hertz (ISO 16)."""

_A4_MIDI: Final = 69
_OCTAVE_OF_MIDI_0: Final = -1
_OCTAVE: Final = re.compile(r"-?[0-9]{1,2}")
_SHARP_NAMES: Final = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")
_FLAT_NAMES: Final = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")


@attrs.frozen(order=False)
class Pitch:
    """A spelled note in an octave; C4 is middle C.

    The octave belongs to the letter: B#3 sounds like C4, and Cb4 like B3. Intervals act on
    pitches: ``pitch + interval`` is a pitch and ``pitch - pitch`` the interval between them.

    Args:
        note: The spelled note.
        octave: Octave number of scientific pitch notation, where middle C has 4.

    Example:
        >>> Pitch.parse("E2").midi
        40
        >>> str(Pitch.parse("C4") + Interval.parse("A4"))
        'F#4'
    """

    note: Note
    octave: int

    @classmethod
    def parse(cls, text: str) -> Pitch:
        """Read a pitch such as ``"C#4"``, ``"B♭2"`` or ``"C-1"``.

        Raises:
            NotationError: The text is no pitch.

        Example:
            >>> Pitch.parse("Bb2")
            Pitch(note=Note(letter='B', alteration=-1), octave=2)
        """
        note, end = Note.read(text, what="pitch", whole=cls.parse)
        match = _OCTAVE.match(text, end)
        if match is None or match.end() != len(text):
            raise NotationError(
                what="pitch",
                text=text,
                position=match.end() if match else end,
                expected="the end" if match else "an octave number, such as the 4 of C4",
            )
        return cls(note, int(match[0]))

    @classmethod
    def from_midi(cls, midi: int, *, flats: bool = False) -> Pitch:
        """The pitch of a MIDI note number, spelled with sharps or with flats.

        Args:
            midi: MIDI note number; 60 is C4. Numbers beyond 0 to 127 go on in the same way.
            flats: Spell the black keys as flats.

        Example:
            >>> str(Pitch.from_midi(61, flats=True))
            'Db4'
        """
        name = (_FLAT_NAMES if flats else _SHARP_NAMES)[midi % SEMITONES_IN_OCTAVE]
        return cls.spell(Note.parse(name), midi)

    @classmethod
    def spell(cls, note: Note, midi: int) -> Pitch:
        """The pitch that has this spelling and sounds as this MIDI number.

        Raises:
            ValueError: The note does not sound as that number in any octave.

        Example:
            >>> str(Pitch.spell(Note.parse("B#"), 60))
            'B#3'
        """
        octave, rest = divmod(midi - note.semitones, SEMITONES_IN_OCTAVE)
        if rest:
            message = f"{note} does not sound as MIDI note {midi}"
            raise ValueError(message)
        return cls(note, octave + _OCTAVE_OF_MIDI_0)

    def __str__(self) -> str:
        return f"{self.note}{self.octave}"

    @property
    def midi(self) -> int:
        """MIDI note number; 60 for C4, 69 for A4."""
        return (self.octave - _OCTAVE_OF_MIDI_0) * SEMITONES_IN_OCTAVE + self.note.semitones

    def frequency(self, a4_hz: float = A4_HZ) -> float:
        """Frequency in hertz in twelve-tone equal temperament.

        ``f = a4_hz * 2 ** ((midi - 69) / 12)``.

        Args:
            a4_hz: Frequency of A4 in hertz, 440 by default (ISO 16).

        Example:
            >>> round(Pitch.parse("E2").frequency(), 4)
            82.4069
        """
        return a4_hz * float(2.0 ** ((self.midi - _A4_MIDI) / SEMITONES_IN_OCTAVE))

    def __add__(self, interval: Interval) -> Pitch:
        if not isinstance(interval, Interval):
            return NotImplemented
        steps = self.note.step + interval.steps
        octaves, step = divmod(steps, STEPS_IN_OCTAVE)
        alteration = self.note.semitones + interval.semitones - natural_semitones(steps)
        return Pitch(Note(LETTERS[step], alteration), self.octave + octaves)

    @overload
    def __sub__(self, other: Pitch) -> Interval: ...
    @overload
    def __sub__(self, other: Interval) -> Pitch: ...
    def __sub__(self, other: Pitch | Interval) -> Interval | Pitch:
        if isinstance(other, Interval):
            return self + -other
        if not isinstance(other, Pitch):
            return NotImplemented
        octaves = self.octave - other.octave
        steps = octaves * STEPS_IN_OCTAVE + self.note.step - other.note.step
        return Interval(steps, self.midi - other.midi)
