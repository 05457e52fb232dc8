"""Moving grips along the neck: which can move, and where they stand on another root."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import attrs

from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.presses import presses_of
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.note import LETTERS, Note
from gripwright.theory.quality import Quality

_SIMPLE_NOTES: Final = tuple(
    Note(letter, alteration) for alteration in (0, -1, 1) for letter in LETTERS
)
_WORTH_A_SHARP: Final = 2

BODY_JOINS: Final = 14
"""The last fret that is reached with ease on most necks."""

FOURTHS: Final = 5
"""Semitones from a root to the next of the cycle of fourths."""


def is_movable(voicing: Voicing) -> bool:
    """Whether a grip can move along the neck: no open string sounds.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> is_movable(Voicing(Chord.parse("C"), guitar, (-1, 3, 2, 0, 1, 0)))
        False
    """
    return 0 not in voicing.frets


def usual_root(quality: Quality, pitch_class: int) -> Note:
    """The root on which players write a kind of chord: a natural, else of few accidentals.

    Args:
        quality: The kind of chord.
        pitch_class: The root's, 0 to 11.

    Returns:
        The natural, where there is one; else the flat, unless the sharp saves the chord's notes
        two accidentals or more.

    Example:
        >>> from gripwright import QUALITIES
        >>> [str(usual_root(QUALITIES[name], 1)) for name in ("maj7", "m7")]
        ['Db', 'C#']
        >>> str(usual_root(QUALITIES["m11"], 8))
        'Ab'
    """
    names = [note for note in _SIMPLE_NOTES if note.pitch_class == pitch_class]
    natural = next((note for note in names if note.alteration == 0), None)
    if natural is not None:
        return natural
    flat, sharp = names
    saved = _accidentals(flat, quality) - _accidentals(sharp, quality)
    return sharp if saved >= _WORTH_A_SHARP else flat


def _accidentals(root: Note, quality: Quality) -> int:
    return sum(abs((root + degree.interval).alteration) for degree in quality.degrees)


def on_root(voicing: Voicing, root: Note) -> tuple[Voicing, ...]:
    """Every place of a grip on a root, from the nut upwards.

    A grip bound to open strings stands on its own root alone.

    Args:
        voicing: The grip.
        root: The root.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> [(place.shape, str(place.chord)) for place in on_root(grip, Note.parse("Bb"))]
        [('x-1-3-2-3-x', 'Bbmaj7'), ('x-13-15-14-15-x', 'Bbmaj7')]
    """
    if not is_movable(voicing):
        same = root.pitch_class == voicing.chord.root.pitch_class
        return (_spelled(voicing, voicing.frets, root),) if same else ()
    up = (root.pitch_class - voicing.chord.root.pitch_class) % SEMITONES_IN_OCTAVE
    shifts = range(up - _octaves_down(voicing), voicing.instrument.frets, SEMITONES_IN_OCTAVE)
    places = (moved(voicing, shift, root) for shift in shifts)
    return tuple(place for place in places if place is not None)


def moved(voicing: Voicing, shift: int, root: Note) -> Voicing | None:
    """A grip so many frets on; None where it leaves the neck.

    Args:
        voicing: The grip.
        shift: Frets towards the body, negative towards the nut; 0 for one with open strings.
        root: The root that it then has.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> moved(grip, 2, Note.parse("D")).shape
        'x-5-7-6-7-x'
    """
    frets = _shifted(voicing, shift) if shift else voicing.frets
    return None if frets is None else _spelled(voicing, frets, root)


def reference(voicing: Voicing) -> Voicing:
    """One place that stands for a grip wherever it is held.

    A movable grip stands where its root is C, at the lowest place; where the neck is too short
    for that, on the first root above C that has a place. A bound one stands as it is.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Ebmaj7"), guitar, (-1, 6, 8, 7, 8, -1))
        >>> reference(grip).shape, str(reference(grip).chord)
        ('x-3-5-4-5-x', 'Cmaj7')
    """
    if not is_movable(voicing):
        root = usual_root(voicing.chord.quality, voicing.chord.root.pitch_class)
        return on_root(voicing, root)[0]
    roots = (usual_root(voicing.chord.quality, place) for place in range(SEMITONES_IN_OCTAVE))
    return next(places[0] for root in roots if (places := on_root(voicing, root)))


def nearest_place(voicing: Voicing, root: Note, fret: float) -> Voicing | None:
    """The place of a grip on a root that lies nearest to a fret.

    Args:
        voicing: The grip.
        root: The root.
        fret: Where the hand is, in frets from the nut.

    Returns:
        The place, the lower of two as near, and none where the neck has joined the body if
        there is another; None where the grip has none on that root.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> nearest_place(grip, Note.parse("Bb"), 9.0).shape
        'x-1-3-2-3-x'
    """
    places = on_root(voicing, root)
    return min(
        places,
        key=lambda place: (max(place.frets) > BODY_JOINS, abs(middle_fret(place) - fret)),
        default=None,
    )


def middle_fret(voicing: Voicing) -> float:
    """The middle of the fretted strings, in frets from the nut; 0 where none is."""
    fretted = [fret for fret in voicing.frets if fret > 0]
    return (min(fretted) + max(fretted)) / 2 if fretted else 0.0


def round_the_fourths(voicing: Voicing) -> tuple[Voicing, ...]:
    """A movable grip on all twelve roots round the cycle of fourths, each place near the last.

    Args:
        voicing: The grip where it starts.

    Returns:
        The places in order, the start first, without the roots on which the neck has none; none
        at all for a grip bound to open strings.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> [(str(place.chord), place.shape) for place in round_the_fourths(grip)][:3]
        [('Cmaj7', 'x-3-5-4-5-x'), ('Fmaj7', 'x-8-10-9-10-x'), ('Bbmaj7', 'x-1-3-2-3-x')]
    """
    return tuple(_fourths(voicing)) if is_movable(voicing) else ()


def fits_hand(voicing: Voicing, hand: Hand) -> bool:
    """Whether a hand can hold a grip where it stands, by reach, presses and spread.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> wide = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, -1, 5, 7))
        >>> fits_hand(wide, Hand()), fits_hand(wide, Hand(reach_mm=100))
        (True, False)
    """
    if voicing.reach_mm > hand.reach_mm + REACH_TOLERANCE_MM:
        return False
    presses = sorted(presses_of(voicing.frets), key=lambda press: (press.fret, press.strings))
    if len(presses) < hand.fingers:
        return True
    places = [voicing.instrument.place_mm(one.strings[0], one.fret) for one in presses]
    near = hand.spread_mm + REACH_TOLERANCE_MM
    return len(presses) == hand.fingers and all(
        abs(far - here) <= near for here, far in pairwise(places)
    )


def _fourths(voicing: Voicing) -> Iterator[Voicing]:
    quality, here = voicing.chord.quality, voicing
    for turn in range(SEMITONES_IN_OCTAVE):
        tone = (voicing.chord.root.pitch_class + FOURTHS * turn) % SEMITONES_IN_OCTAVE
        place = nearest_place(voicing, usual_root(quality, tone), middle_fret(here))
        if turn == 0:
            place = voicing
        if place is not None:
            here = place
            yield place


def _octaves_down(voicing: Voicing) -> int:
    """Semitones of whole octaves that take every place above the nut into view."""
    octaves = 1 + max(voicing.frets) // SEMITONES_IN_OCTAVE
    return octaves * SEMITONES_IN_OCTAVE


def _shifted(voicing: Voicing, shift: int) -> tuple[int, ...] | None:
    """The frets of a movable grip so many frets on; None where they leave the neck."""
    instrument = voicing.instrument
    frets = tuple(fret + shift if fret > 0 else fret for fret in voicing.frets)
    on_the_neck = all(
        instrument.lowest_press(string) <= fret <= instrument.frets
        for string, fret in enumerate(frets)
        if voicing.frets[string] > 0
    )
    return frets if on_the_neck else None


def _spelled(voicing: Voicing, frets: tuple[int, ...], root: Note) -> Voicing:
    chord: Chord = voicing.chord.transposed(root - voicing.chord.root)
    return attrs.evolve(voicing, chord=attrs.evolve(chord, warnings=()), frets=frets)
