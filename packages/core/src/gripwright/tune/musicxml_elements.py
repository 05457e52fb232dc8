"""Elements of MusicXML 4.0 that lead sheets and scores share."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final
from xml.etree.ElementTree import Element, SubElement

from gripwright.meter import Meter
from gripwright.theory.chord import Chord
from gripwright.theory.note import Note
from gripwright.tune.key import Key
from gripwright.tune.leadsheet_kinds import DegreeChange, spell_kind

HEAD: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)
"""What stands before the root element of a file."""

_UNWRITABLE: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BEAT_UNITS: Final = {
    Fraction(4): "whole",
    Fraction(2): "half",
    Fraction(1): "quarter",
    Fraction(1, 2): "eighth",
    Fraction(1, 4): "16th",
    Fraction(1, 8): "32nd",
}
_DOT: Final = Fraction(3, 2)
_NO_CHORD: Final = "N.C."


def add_element(parent: Element, tag: str, text: object = None, /, **attributes: str) -> Element:
    """Add an element at the end of another.

    Args:
        parent: The element that it is added to.
        tag: Its name.
        text: What it holds, without the signs that XML 1.0 cannot hold; None for nothing.
        **attributes: Its attributes, with ``_`` for ``-``.

    Example:
        >>> sheet = Element("measure")
        >>> add_element(sheet, "type", "half", font_size="9").attrib
        {'font-size': '9'}
    """
    element = SubElement(
        parent, tag, {key.replace("_", "-"): attributes[key] for key in attributes}
    )
    if text is not None:
        element.text = _UNWRITABLE.sub("", str(text))
    return element


def add_direction(measure: Element) -> Element:
    """Add a direction above the staff.

    Returns:
        Its ``direction-type``, still empty.
    """
    direction = add_element(measure, "direction", placement="above")
    return add_element(direction, "direction-type")


def add_key(attributes: Element, key: Key) -> None:
    """Add a key signature to the attributes of a measure."""
    element = add_element(attributes, "key")
    add_element(element, "fifths", key.fifths)
    add_element(element, "mode", "minor" if key.minor else "major")


def add_time(attributes: Element, meter: Meter) -> None:
    """Add a metre to the attributes of a measure."""
    time = add_element(attributes, "time")
    add_element(time, "beats", "+".join(map(str, meter.groups or (meter.count,))))
    add_element(time, "beat-type", meter.unit)


def add_tempo(measure: Element, tempo_bpm: Fraction | int, meter: Meter) -> Element:
    """Add a direction with a tempo in pulses a minute.

    Returns:
        The direction.

    Example:
        >>> measure = Element("measure")
        >>> add_tempo(measure, 60, Meter(6, 8)).find("sound").attrib
        {'tempo': '90'}
    """
    mark = add_element(add_direction(measure), "metronome")
    pulse = meter.pulse
    dotted = pulse not in _BEAT_UNITS
    add_element(mark, "beat-unit", _BEAT_UNITS[pulse / _DOT if dotted else pulse])
    if dotted:
        add_element(mark, "beat-unit-dot")
    add_element(mark, "per-minute", _decimal(tempo_bpm))
    add_element(measure[-1], "sound", tempo=_decimal(tempo_bpm * pulse))
    return measure[-1]


def _decimal(number: Fraction | int) -> str:
    return f"{float(number):.6f}".rstrip("0").rstrip(".")


def add_harmony(measure: Element, chord: Chord | None) -> Element:
    """Add a chord symbol.

    A chord that is a MusicXML kind is written as that kind, every other with added, altered and
    subtracted degrees; all of them with the trade's suffix as the text to show.

    Args:
        measure: The measure.
        chord: The chord; None for N.C.

    Returns:
        The harmony.

    Example:
        >>> harmony = add_harmony(Element("measure"), Chord.parse("C7b9"))
        >>> harmony.find("kind").text, harmony.find("degree/degree-value").text
        ('dominant', '9')
    """
    harmony = add_element(measure, "harmony")
    if chord is None:
        # The schema wants a root, which programs show as this text: none.
        add_element(add_element(harmony, "root"), "root-step", "C", text="")
        add_element(harmony, "kind", "none", text=_NO_CHORD)
        return harmony
    _add_note(harmony, "root", chord.root)
    kind, changes = spell_kind(chord.degrees)
    add_element(harmony, "kind", kind, text=chord.quality.name)
    if chord.bass is not None:
        _add_note(harmony, "bass", chord.bass)
    for change in changes:
        _add_degree(harmony, change)
    return harmony


def _add_note(harmony: Element, stem: str, note: Note) -> None:
    element = add_element(harmony, stem)
    add_element(element, f"{stem}-step", note.letter)
    if note.alteration:
        add_element(element, f"{stem}-alter", note.alteration)


def _add_degree(harmony: Element, change: DegreeChange) -> None:
    # The text of the kind shows it already.
    degree = add_element(harmony, "degree", print_object="no")
    add_element(degree, "degree-value", change.value)
    add_element(degree, "degree-alter", change.alter)
    add_element(degree, "degree-type", change.type)
