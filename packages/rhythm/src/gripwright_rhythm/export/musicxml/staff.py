"""Staves: clefs, lines and tunings."""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element

import attrs

from gripwright import Instrument
from gripwright.tune.musicxml_elements import add_element
from gripwright_rhythm.export.musicxml.note import StaffKind

_G3: Final = 55
_D3: Final = 50


@attrs.frozen
class Clef:
    """A clef.

    Args:
        sign: Its sign as MusicXML names it.
        line: The line that it stands on, counted from below; 0 for none.
        octaves: Octaves by which notes sound higher than the plain clef says.
        middle: The note that it has on the middle line, or on the one line of clicks.
    """

    sign: str
    line: int = 0
    octaves: int = 0
    middle: str = "B4"


BASS: Final = Clef("F", 4, middle="D3")
LOW_BASS: Final = Clef("F", 4, -1, middle="D3")
PERCUSSION: Final = Clef("percussion", middle="E4")


def clef_of(instrument: Instrument) -> Clef:
    """The clef in which an instrument is read (common practice).

    The treble clef that sounds an octave lower for the guitars, the plain one for what goes no
    lower than G3, and the bass clef that sounds an octave lower for the basses, whose highest
    string is D3 at most.

    Example:
        >>> from gripwright import Instrument
        >>> clef_of(Instrument.from_text("E2 A2 D3 G3 B3 E4"))
        Clef(sign='G', line=2, octaves=-1, middle='B4')
        >>> clef_of(Instrument.from_text("E1 A1 D2 G2")).sign
        'F'
    """
    pitches = [string.open.midi for string in instrument.strings]
    if max(pitches) <= _D3 + instrument.capo:
        return LOW_BASS
    return Clef("G", 2, 0 if min(pitches) >= _G3 + instrument.capo else -1)


@attrs.frozen
class Staff:
    """A staff of a part.

    Args:
        kind: What it shows.
        clef: Its clef.
        instrument: The instrument whose strings a tablature shows; None elsewhere.
    """

    kind: StaffKind
    clef: Clef
    instrument: Instrument | None = None


def tablature_of(instrument: Instrument) -> Staff:
    """The tablature of an instrument."""
    return Staff("tablature", Clef("TAB", max(len(instrument.strings) - 1, 1)), instrument)


def add_staves(attributes: Element, staves: tuple[Staff, ...]) -> None:
    """Add how many staves there are, with their clefs and details, to the attributes of a measure.

    Args:
        attributes: The attributes, with key and metre already in them.
        staves: The staves from above.
    """
    several = len(staves) > 1
    if several:
        add_element(attributes, "staves", len(staves))
        add_element(
            attributes, "part-symbol", "bracket", top_staff="1", bottom_staff=str(len(staves))
        )
    for number, staff in enumerate(staves, start=1):
        clef = add_element(attributes, "clef")
        if several:
            clef.set("number", str(number))
        add_element(clef, "sign", staff.clef.sign)
        if staff.clef.line:
            add_element(clef, "line", staff.clef.line)
        if staff.clef.octaves:
            add_element(clef, "clef-octave-change", staff.clef.octaves)
    for number, staff in enumerate(staves, start=1):
        if staff.instrument is not None:
            _add_tuning(attributes, number, staff.instrument)
        elif staff.kind == "clicks":
            add_element(add_element(attributes, "staff-details"), "staff-lines", 1)
        elif staff.kind == "slashes":
            style = add_element(attributes, "measure-style")
            add_element(style, "slash", type="start", use_stems="yes")


def _add_tuning(attributes: Element, number: int, instrument: Instrument) -> None:
    """Lines are counted from below, as the strings from the bass side; a course is one line."""
    details = add_element(attributes, "staff-details", number=str(number))
    add_element(details, "staff-lines", len(instrument.strings))
    for line, string in enumerate(instrument.strings, start=1):
        # A capo raises what is written here.
        pitch = string.open
        if instrument.capo:
            pitch = type(pitch).from_midi(pitch.midi - instrument.capo)
        tuning = add_element(details, "staff-tuning", line=str(line))
        add_element(tuning, "tuning-step", pitch.note.letter)
        if pitch.note.alteration:
            add_element(tuning, "tuning-alter", pitch.note.alteration)
        add_element(tuning, "tuning-octave", pitch.octave)
    if instrument.capo:
        add_element(details, "capo", instrument.capo)
