"""Notes: the note elements of one written figure, on a staff of its kind."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal
from xml.etree.ElementTree import Element

import attrs

from gripwright.tune.musicxml_elements import add_element
from gripwright_rhythm.export.musicxml.figure import Edge
from gripwright_rhythm.export.musicxml.note_value import NoteValue
from gripwright_rhythm.export.musicxml.track import Head, Sound

StaffKind = Literal["notes", "tablature", "slashes", "clicks"]

_SHAPES: Final[dict[StaffKind, str]] = {"slashes": "slash", "clicks": "x"}

FORTE_VELOCITY: Final = 90
"""The MIDI velocity that the dynamics of a note are per cent of (MusicXML 4.0, note)."""


@attrs.frozen
class WrittenNote:
    """All that one figure looks like; equal ones are written alike.

    Args:
        length: Divisions that it lasts.
        value: Its value; None for a rest of a whole bar.
        edge: Whether a tuplet starts or stops with it.
        heads: Its noteheads; empty for a rest. In one part they are those of its sound's stack.
        sound: How it sounds; None for a rest.
        starts: Whether the sound starts with it, and is not tied to a note before.
        ends: Whether the sound ends with it, and is not tied to a note after.
        accidentals: The accidental of each notehead, or None.
        beams: Its beams, from the first level on.
        kind: The kind of its staff.
        line: The note that the clef has where heads without a pitch stand, such as ``"B4"``.
        voice: The number of its voice.
        under: Whether its voice stands beside a first one on the staff.
        staff: The number of its staff; 0 where the part has one alone.
    """

    length: int
    value: NoteValue | None
    edge: Edge | None
    heads: tuple[Head, ...] = attrs.field(eq=False)
    sound: Sound | None
    starts: bool
    ends: bool
    accidentals: tuple[str | None, ...]
    beams: tuple[str, ...]
    kind: StaffKind
    line: str
    voice: int
    under: bool
    staff: int


def add_notes(parent: Element, written: WrittenNote) -> None:
    """Add the note elements of a figure: one for a rest, else one for each notehead.

    Args:
        parent: The element that they are added to.
        written: What they look like.
    """
    if not written.heads:
        _add_rest(parent, written)
        return
    heads = written.heads[:1] if written.kind == "slashes" else written.heads
    for index, head in enumerate(heads):
        note = add_element(parent, "note")
        _perform(note, written)
        if index:
            add_element(note, "chord")
        _add_pitch(note, head, written)
        add_element(note, "duration", written.length)
        for type_ in _ties(written):
            add_element(note, "tie", type=type_)
        accidental = written.accidentals[index] if written.kind == "notes" else None
        _add_look(note, written, accidental, chord=index > 0)
        _add_notations(note, written, head, first=index == 0)


def _add_rest(parent: Element, written: WrittenNote) -> None:
    note = add_element(parent, "note")
    if written.kind == "tablature" or written.under:
        # The staff or the voice above says it.
        note.set("print-object", "no")
    rest = add_element(note, "rest")
    if written.value is None:
        rest.set("measure", "yes")
    add_element(note, "duration", written.length)
    _add_look(note, written, None, chord=False)
    if written.edge is not None:
        _add_tuplet(add_element(note, "notations"), written)


def _perform(note: Element, written: WrittenNote) -> None:
    """How loud the note is and how early it ends, which the notation alone does not say."""
    if written.sound is None:
        return
    loudness = round(Fraction(100 * written.sound.dynamic, FORTE_VELOCITY), 2)
    note.set("dynamics", f"{float(loudness):g}")
    if written.ends and written.sound.release:
        note.set("release", str(-written.sound.release))


def _add_pitch(note: Element, head: Head, written: WrittenNote) -> None:
    if head.pitch is None or written.kind == "slashes":
        unpitched = add_element(note, "unpitched")
        add_element(unpitched, "display-step", written.line[0])
        add_element(unpitched, "display-octave", written.line[1:])
        return
    pitch = add_element(note, "pitch")
    add_element(pitch, "step", head.pitch.note.letter)
    if head.pitch.note.alteration:
        add_element(pitch, "alter", head.pitch.note.alteration)
    add_element(pitch, "octave", head.pitch.octave)


def _ties(written: WrittenNote) -> tuple[str, ...]:
    return ("stop",) * (not written.starts) + ("start",) * (not written.ends)


def _add_look(note: Element, written: WrittenNote, accidental: str | None, *, chord: bool) -> None:
    add_element(note, "voice", written.voice)
    value = written.value
    if value is not None:
        add_element(note, "type", value.type)
        for _ in range(value.dots):
            add_element(note, "dot")
    if accidental is not None:
        add_element(note, "accidental", accidental)
    if value is not None and value.actual > 1:
        modification = add_element(note, "time-modification")
        add_element(modification, "actual-notes", value.actual)
        add_element(modification, "normal-notes", value.normal)
    if written.heads:
        _add_shape(note, written.kind)
    if written.staff:
        add_element(note, "staff", written.staff)
    if written.kind != "tablature" and not chord:
        for level, beam in enumerate(written.beams, start=1):
            add_element(note, "beam", beam, number=str(level))


def _add_shape(note: Element, kind: StaffKind) -> None:
    if kind == "tablature":
        add_element(note, "stem", "none")
    elif kind in _SHAPES:
        add_element(note, "notehead", _SHAPES[kind])


def _add_notations(note: Element, written: WrittenNote, head: Head, *, first: bool) -> None:
    notations = add_element(note, "notations")
    for type_ in _ties(written):
        add_element(notations, "tied", type=type_)
    if first and written.edge is not None:
        _add_tuplet(notations, written)
    if written.kind == "tablature":
        technical = add_element(notations, "technical")
        add_element(technical, "string", head.string)
        add_element(technical, "fret", head.fret)
    elif first and written.starts and written.sound is not None:
        _add_articulations(notations, written.sound)
    if not len(notations):
        note.remove(notations)


def _add_tuplet(notations: Element, written: WrittenNote) -> None:
    tuplet = add_element(notations, "tuplet", type=str(written.edge))
    if written.kind == "tablature":
        tuplet.set("bracket", "no")
        tuplet.set("show-number", "none")


def _add_articulations(notations: Element, sound: Sound) -> None:
    if sound.accent or sound.short:
        articulations = add_element(notations, "articulations")
        if sound.accent:
            add_element(articulations, "accent")
        if sound.short:
            add_element(articulations, "staccato")
