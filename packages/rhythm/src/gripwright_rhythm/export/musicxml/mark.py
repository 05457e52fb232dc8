"""Marks: what stands over or before the notes of a bar."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Final
from xml.etree.ElementTree import Element

import attrs

from gripwright import Chord, Meter, Voicing
from gripwright.tune.musicxml_elements import add_direction, add_element, add_harmony
from gripwright_rhythm.export.musicxml.sheet import SWUNG_PULSES

_DYNAMICS: Final = {
    16: "ppp",
    33: "pp",
    49: "p",
    64: "mp",
    80: "mf",
    96: "f",
    112: "ff",
    126: "fff",
}
"""Dynamics at MIDI velocities (common practice of notation programs; from memory)."""

_FEWEST_FRETS: Final = 4


def dynamic_name(velocity: int) -> str:
    """The dynamic that is nearest to a MIDI velocity.

    Example:
        >>> dynamic_name(80), dynamic_name(127)
        ('mf', 'fff')
    """
    return _DYNAMICS[min(_DYNAMICS, key=lambda known: abs(known - velocity))]


def add_dynamics(measure: Element, name: str) -> None:
    """Add a dynamic below the staff."""
    direction = add_element(measure, "direction", placement="below")
    add_element(add_element(add_element(direction, "direction-type"), "dynamics"), name)


def add_rehearsal(measure: Element, name: str) -> None:
    """Add the name of a section."""
    add_element(add_direction(measure), "rehearsal", name)


def add_words(measure: Element, words: Iterable[str]) -> None:
    """Add words above the staff, one after the other."""
    add_element(add_direction(measure), "words", "; ".join(words))


def add_swing(measure: Element, ratio: Fraction, meter: Meter, words: Iterable[str] = ()) -> None:
    """Add a direction that says how even or uneven the halves of a pulse are.

    Args:
        measure: The measure.
        ratio: How long the first half is beside the second; 1 for straight.
        meter: The metre.
        words: What else is said there.

    Example:
        >>> measure = Element("measure")
        >>> add_swing(measure, Fraction(3, 2), Meter())
        >>> [element.text for element in measure.find("direction/sound/swing")]
        ['3', '2', 'eighth']
    """
    said = "Straight" if ratio == 1 else f"Swing {ratio.numerator}:{ratio.denominator}"
    add_words(measure, [said, *words])
    swing = add_element(add_element(measure[-1], "sound"), "swing")
    if ratio == 1:
        add_element(swing, "straight")
        return
    add_element(swing, "first", ratio.numerator)
    add_element(swing, "second", ratio.denominator)
    add_element(swing, "swing-type", SWUNG_PULSES[meter.pulse])


@attrs.frozen
class WrittenSymbol:
    """All that a chord symbol looks like.

    Args:
        chord: The chord; None for N.C.
        grip: The grip drawn with it, or None.
        offset: Divisions after the note that it is written before.
        staff: The number of its staff; 0 where the part has one alone.
    """

    chord: Chord | None
    grip: Voicing | None
    offset: int
    staff: int


def add_symbol(measure: Element, written: WrittenSymbol) -> None:
    """Add a chord symbol with its frame."""
    harmony = add_harmony(measure, written.chord)
    if written.grip is not None:
        _add_frame(harmony, written.grip)
    if written.offset:
        add_element(harmony, "offset", written.offset)
    if written.staff:
        add_element(harmony, "staff", written.staff)


def _add_frame(harmony: Element, grip: Voicing) -> None:
    """A neck diagram with fingers and barres; strings without a note are muted."""
    pressed = [fret for fret in grip.frets if fret > 0]
    first = 1 if max(pressed, default=0) <= _FEWEST_FRETS else min(pressed)
    frame = add_element(harmony, "frame")
    add_element(frame, "frame-strings", len(grip.frets))
    add_element(frame, "frame-frets", max([_FEWEST_FRETS, *(fret - first + 1 for fret in pressed)]))
    if first > 1:
        add_element(frame, "first-fret", first)
    fingering = grip.fingering()
    edges = {barre.first_string: "start" for barre in fingering.barres}
    edges |= {barre.last_string: "stop" for barre in fingering.barres}
    for string, fret in enumerate(grip.frets):
        if fret < 0:
            continue
        note = add_element(frame, "frame-note")
        add_element(note, "string", len(grip.frets) - string)
        add_element(note, "fret", fret)
        if fingering.fingers[string]:
            add_element(note, "fingering", fingering.fingers[string])
        if string in edges:
            add_element(note, "barre", type=edges[string])
