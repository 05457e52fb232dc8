"""Voicings: one shape on one instrument, heard as one chord."""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np

from gripwright.neck.classify import families
from gripwright.neck.fingering import Fingering, fingering_of
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import presses_of
from gripwright.neck.shape import Shape
from gripwright.neck.strain import USUAL_WEIGHTS, StrainWeights
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.note import Note
from gripwright.theory.pitch import Pitch

_INVERSIONS: Final = ("root", *(("1st", "2nd", "3rd", *(f"{n}th" for n in range(4, 12)))))


@attrs.frozen
class Voicing:
    """A shape on an instrument, with what each sounding string is in a chord.

    Args:
        chord: The chord that it voices.
        instrument: The instrument.
        frets: What each string does, from the bass side: muted -1, open 0, or a fret.
        names: The degree that each pitch class above the root sounds, or None; 12 of them, the
            chord's own if not given.

    Example:
        >>> from gripwright import find_voicings
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar, strings=(5, 4, 3, 2), lowest_fret=3)
        >>> voicing = table.where(bass_degree="1", open_strings=0)[0]
        >>> [str(pitch) for pitch in voicing.pitches]
        ['C3', 'G3', 'B3', 'E4']
        >>> voicing.degrees, voicing.id
        (('1', '5', '7', '3'), 'six:x-3-5-4-5-x')
    """

    chord: Chord
    instrument: Instrument
    frets: tuple[int, ...]
    names: tuple[Degree | None, ...] = attrs.field(
        default=attrs.Factory(lambda self: self.chord.names, takes_self=True), repr=False
    )

    @property
    def shape(self) -> str:
        """The shape as players write it, such as ``"x-3-5-4-5-x"``."""
        return str(Shape(self.frets))

    @property
    def id(self) -> str:
        """A stable name of the grip: instrument and shape, whatever the chord."""
        return f"{self.instrument.id}:{self.shape}"

    @property
    def midi(self) -> tuple[int, ...]:
        """MIDI numbers of the sounding strings, in string order."""
        return tuple(
            self.instrument.sounding(string, fret)
            for string, fret in enumerate(self.frets)
            if fret >= 0
        )

    @property
    def degrees(self) -> tuple[Degree, ...]:
        """Degrees of the sounding strings, in string order."""
        return tuple(self._degree(midi) for midi in self.midi)

    @property
    def notes(self) -> tuple[Note, ...]:
        """Notes of the sounding strings, spelled for the chord, in string order."""
        return tuple(self.chord.root + degree.interval for degree in self.degrees)

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """Pitches of the sounding strings, spelled for the chord, in string order."""
        return tuple(map(Pitch.spell, self.notes, self.midi))

    @property
    def bass_degree(self) -> Degree:
        """The degree of the lowest sounding pitch."""
        return self._degree(min(self.midi))

    @property
    def top_degree(self) -> Degree:
        """The degree of the highest sounding pitch."""
        return self._degree(max(self.midi))

    @property
    def reach_mm(self) -> float:
        """Distance along the neck between the nearest and the farthest fretted string, in mm."""
        places = [
            self.instrument.place_mm(string, fret)
            for string, fret in enumerate(self.frets)
            if fret > 0
        ]
        return max(places) - min(places) if places else 0.0

    @property
    def presses(self) -> int:
        """The fewest presses that hold it."""
        return len(presses_of(self.frets))

    @property
    def families(self) -> tuple[str, ...]:
        """Every family that it belongs to, by what sounds.

        Example:
            >>> from gripwright import find_voicings
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> shell = find_voicings(Chord.parse("G7"), guitar, strings=(6, 4, 3), max_notes=3)
            >>> shell.where(bass_degree="1")[0].families
            ('shell',)
        """
        sounding = [(np.array([True]), np.array([midi], np.int16)) for midi in self.midi]
        found = families(sounding, self.chord)
        return tuple(name for name, rows in found.items() if rows[0])

    @property
    def string_set(self) -> tuple[int, ...]:
        """The sounding strings as players number them, from the bass side."""
        strings = len(self.frets)
        return tuple(strings - index for index, fret in enumerate(self.frets) if fret >= 0)

    @property
    def inversion(self) -> str:
        """The inversion by the lowest sounding pitch.

        ``"root"``, or ``"1st"``, ``"2nd"`` and so on by the place of its degree among the
        chord's; ``"foreign"`` for a bass that is no tone of the symbol.
        """
        tones = [degree.pitch_class for degree in self.chord.degrees]
        bass = self.bass_degree.pitch_class
        if bass not in tones:
            return "foreign"
        return _INVERSIONS[tones.index(bass)]

    def fingering(
        self, hand: Hand | None = None, weights: StrainWeights = USUAL_WEIGHTS
    ) -> Fingering:
        """The fingers that press it, with least strain.

        Args:
            hand: The hand; the usual one if not given, with a fifth finger where it needs one.
            weights: What strains the hand.

        Example:
            >>> from gripwright import find_voicings
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> fifth = {"lowest_fret": 5, "highest_fret": 5, "min_notes": 4, "no_open": True}
            >>> voicing = find_voicings(Chord.parse("Am7"), guitar, **fifth)[0]
            >>> voicing.shape, voicing.fingering().explain(Hand())
            ('x-x-5-5-5-5', 'index bars strings 4 to 1 at fret 5; reach 0 mm of 115')
        """
        return fingering_of(self.frets, self.instrument, hand, weights)

    def _repr_svg_(self) -> str:
        """The neck diagram, as notebooks show it."""
        # Late on purpose: pictures are for notebooks, and start-up must not load them.
        from gripwright.neck.diagram.svg import neck_svg  # noqa: PLC0415

        return neck_svg(self)

    @property
    def added(self) -> tuple[Degree, ...]:
        """Sounding degrees that the symbol does not have."""
        return tuple(
            dict.fromkeys(d for d in self.degrees if d.pitch_class not in self.symbol_tones)
        )

    @property
    def left_out(self) -> tuple[Degree, ...]:
        """Degrees of the symbol that do not sound."""
        sounding = {degree.pitch_class for degree in self.degrees}
        return tuple(d for d in self.chord.degrees if d.pitch_class not in sounding)

    @property
    def symbol_tones(self) -> frozenset[int]:
        """Pitch classes above the root that the symbol has, its bass among them."""
        tones = {degree.pitch_class for degree in self.chord.degrees}
        if self.chord.bass is not None:
            above = self.chord.bass.pitch_class - self.chord.root.pitch_class
            tones.add(above % SEMITONES_IN_OCTAVE)
        return frozenset(tones)

    def _degree(self, midi: int) -> Degree:
        degree = self.names[(midi - self.chord.root.pitch_class) % SEMITONES_IN_OCTAVE]
        if degree is None:
            message = f"MIDI note {midi} is no tone of {self.chord}"
            raise ValueError(message)
        return degree
