"""Why a shape is no playable voicing of a chord, and what would be instead."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise
from typing import Final

import attrs
import numpy as np

from gripwright.errors import RowBoundError
from gripwright.neck.conditions import Conditions
from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import Press, presses_of
from gripwright.neck.search import find_voicings
from gripwright.neck.teaching import teaching_weight
from gripwright.neck.tones import TONES_IN_MASK, mask_of
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch

_USUAL_LEAST: Final = 3
_NEARBY_FRETS: Final = 4
_MOST_COMPARED: Final = 200_000


@attrs.frozen
class Fault:
    """One reason that a shape is no playable voicing.

    Args:
        kind: ``foreign``, ``missing``, ``bass``, ``notes``, ``tones``, ``reach``, ``fingers``,
            ``spread`` or ``stroke``.
        sentence: The reason for a reader, with what it misses by.
        strings: The strings concerned, as players number them.
    """

    kind: str
    sentence: str
    strings: tuple[int, ...] = ()


@attrs.frozen
class Diagnosis:
    """What is wrong with a shape, and the nearest voicings.

    Args:
        faults: The reasons; none where the shape is a playable voicing.
        instead: Playable voicings no more than four frets away, or where there are none
            anywhere on the neck, that differ on the fewest strings, best first; none where there
            are too many to compare.
    """

    faults: tuple[Fault, ...]
    instead: tuple[Voicing, ...]


def diagnose(
    chord: Chord,
    instrument: Instrument,
    frets: tuple[int, ...],
    hand: Hand,
    *,
    conditions: Conditions | None = None,
    most: int = 3,
) -> Diagnosis:
    """Say why a shape is no playable voicing of a chord, and what would be instead.

    Args:
        chord: The chord.
        instrument: The instrument.
        frets: The shape, muted -1, from the bass side.
        hand: The hand.
        conditions: Of these, the stroke and the least numbers of notes and tones count.
        most: Voicings that are offered instead at most.

    Raises:
        ConditionError: A shape of another number of strings, or frets that the neck has not.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> chord = Chord.parse("Cmaj7")
        >>> found = diagnose(chord, guitar, (-1, 3, 5, 3, 5, -1), Hand())
        >>> [fault.sentence for fault in found.faults]
        ['string 3 at fret 3 sounds Bb3 (b7), which is no tone of Cmaj7', 'the 7 (B) is missing']
        >>> found.instead[0].shape
        'x-3-5-4-5-x'
    """
    instrument.check_frets(frets)
    asked = conditions or Conditions()
    faults = (
        *_tone_faults(chord, instrument, frets, asked),
        *_hand_faults(instrument, frets, hand),
        *_stroke_faults(frets, asked),
    )
    instead = _instead(chord, instrument, frets, hand, asked)
    return Diagnosis(faults, tuple(islice(instead, most)))


def _tone_faults(
    chord: Chord, instrument: Instrument, frets: tuple[int, ...], asked: Conditions
) -> Iterator[Fault]:
    sounding = {
        string: instrument.sounding(string, fret) for string, fret in enumerate(frets) if fret >= 0
    }
    if not sounding:
        yield Fault("notes", "no string sounds")
        return
    root = chord.root.pitch_class
    low = min(sounding.values())
    bass = chord.bass
    tones = {degree.pitch_class for degree in chord.degrees}
    for string, midi in sounding.items():
        place = (midi - root) % SEMITONES_IN_OCTAVE
        in_bass = bass is not None and midi == low and midi % 12 == bass.pitch_class
        if place not in tones and not in_bass:
            number = len(frets) - string
            at = f"at fret {frets[string]}" if frets[string] else "open"
            pitch, degree = _spelled(chord, midi)
            yield Fault(
                "foreign",
                f"string {number} {at} sounds {pitch} ({degree}), which is no tone of {chord}",
                (number,),
            )
    heard = {(midi - root) % SEMITONES_IN_OCTAVE for midi in sounding.values()}
    for group in chord.essential:
        if heard.isdisjoint(degree.pitch_class for degree in group):
            names = " or ".join(f"the {d} ({chord.root + d.interval})" for d in group)
            yield Fault("missing", f"{names} is missing")
    if bass is not None and low % SEMITONES_IN_OCTAVE != bass.pitch_class:
        pitch, _ = _spelled(chord, low)
        yield Fault("bass", f"the lowest note is {pitch}, and {chord} wants {bass}")
    possible = int(TONES_IN_MASK[mask_of(chord.degrees)]) + chord.foreign_bass
    least_notes = asked.min_notes or min(_USUAL_LEAST, possible)
    least_tones = asked.min_tones or min(_USUAL_LEAST, possible)
    if len(sounding) < least_notes:
        yield Fault("notes", f"{_heard(len(sounding), 'string')} of at least {least_notes}")
    if len(heard) < least_tones:
        yield Fault("tones", f"{_heard(len(heard), 'different tone')} of at least {least_tones}")


def _heard(number: int, what: str) -> str:
    return f"{number} {what} sounds" if number == 1 else f"{number} {what}s sound"


def _spelled(chord: Chord, midi: int) -> tuple[Pitch, Degree]:
    """A pitch and its degree, spelled for the chord where it is one of its tones."""
    place = (midi - chord.root.pitch_class) % SEMITONES_IN_OCTAVE
    degree = chord.chromatic_names[place] or Degree("1")
    note = chord.root + degree.interval
    if chord.bass is not None and chord.bass.pitch_class == note.pitch_class:
        note = chord.bass
    return Pitch.spell(note, midi), degree


def _hand_faults(instrument: Instrument, frets: tuple[int, ...], hand: Hand) -> Iterator[Fault]:
    places = [instrument.place_mm(s, fret) for s, fret in enumerate(frets) if fret > 0]
    if not places:
        return
    reach = max(places) - min(places)
    if reach > hand.reach_mm + REACH_TOLERANCE_MM:
        over = reach - hand.reach_mm
        yield Fault(
            "reach", f"the reach is {reach:.0f} mm of {hand.reach_mm:g}: {over:.1f} mm too far"
        )
    presses = presses_of(frets)
    if len(presses) > hand.fingers:
        yield Fault("fingers", f"it takes {len(presses)} fingers of {hand.fingers}")
    elif len(presses) == hand.fingers:
        yield from _spread_faults(instrument, presses, hand)


def _spread_faults(
    instrument: Instrument, presses: tuple[Press, ...], hand: Hand
) -> Iterator[Fault]:
    strings = len(instrument.strings)
    for low, high in pairwise(presses):
        apart = abs(
            instrument.place_mm(high.strings[0], high.fret)
            - instrument.place_mm(low.strings[0], low.fret)
        )
        if apart > hand.spread_mm + REACH_TOLERANCE_MM:
            yield Fault(
                "spread",
                f"with all {hand.fingers} fingers down, frets {low.fret} and {high.fret} lie "
                f"{apart:.0f} mm apart, {apart - hand.spread_mm:.1f} mm more than two thirds "
                f"of the reach",
                tuple(strings - string for string in (low.strings[0], high.strings[0])),
            )


def _stroke_faults(frets: tuple[int, ...], asked: Conditions) -> Iterator[Fault]:
    sounding = [string for string, fret in enumerate(frets) if fret >= 0]
    if asked.stroke == "pluck" and len(sounding) > asked.pluck_fingers:
        yield Fault(
            "stroke", f"{len(sounding)} strings sound, and {asked.pluck_fingers} fingers pluck"
        )
    if asked.stroke == "strum" and sounding:
        for string in range(sounding[0], sounding[-1]):
            neighbours = frets[string - 1 : string + 2]
            if frets[string] < 0 and not any(fret > 0 for fret in neighbours):
                number = len(frets) - string
                yield Fault("stroke", f"nothing damps string {number} under a strum", (number,))


def _instead(
    chord: Chord,
    instrument: Instrument,
    frets: tuple[int, ...],
    hand: Hand,
    asked: Conditions,
) -> Iterator[Voicing]:
    """Other voicings, those that differ on the fewest strings and frets first."""
    fretted = [fret for fret in frets if fret > 0] or [1]
    around = max(0, min(fretted) - _NEARBY_FRETS), max(fretted) + _NEARBY_FRETS
    # Where there is nothing around the hand, what is far away is better than nothing.
    for lowest, highest in (around, (0, instrument.frets)):
        try:
            table = find_voicings(
                chord,
                instrument,
                hand,
                stroke=asked.stroke,
                pluck_fingers=asked.pluck_fingers,
                min_notes=asked.min_notes,
                min_tones=asked.min_tones,
                row_bound=_MOST_COMPARED,
                lowest_fret=lowest,
                highest_fret=min(instrument.frets, highest),
            )
        except RowBoundError:
            return
        if len(table):
            break
    apart = np.abs(table.frets - np.array(frets))
    differing = (apart > 0).sum(axis=1)
    order = np.lexsort((np.round(teaching_weight(table), 6), apart.sum(axis=1), differing))
    yield from table[order[differing[order] > 0]]
