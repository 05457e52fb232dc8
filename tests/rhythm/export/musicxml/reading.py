"""A reader of the MusicXML that the exporter writes, after the text of the standard alone.

It shares nothing with the writer: it follows barlines and endings, counts durations in a cursor
that `backup` takes back, and joins what ties join.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from xml.etree import ElementTree as ET

import attrs


@attrs.frozen
class Head:
    """A notehead as read: MIDI number (None without a pitch), string and fret (0 without)."""

    midi: int | None
    string: int = 0
    fret: int = 0


@attrs.frozen
class Heard:
    """Notes that start together, with all that is tied to them."""

    onset: Fraction
    end: Fraction
    heads: tuple[Head, ...]
    dynamics: str = ""
    accent: bool = False
    staccato: bool = False


@attrs.frozen
class Named:
    """A chord symbol: where it stands, its root and kind, and the frets of its frame by string."""

    onset: Fraction
    root: str
    kind: str
    frame: tuple[tuple[int, int], ...] | None


@attrs.define
class _Group:
    onset: Fraction
    end: Fraction
    staff: int
    voice: str
    first: ET.Element
    heads: list[Head]

    def has(self, path: str) -> bool:
        return self.first.find(path) is not None


_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def number(element: ET.Element, path: str) -> int:
    """The whole number in an element."""
    text = element.findtext(path)
    assert text is not None
    return int(text)


def part_of(data: bytes, name: str = "P1") -> ET.Element:
    """A part by its id."""
    part = ET.fromstring(data).find(f"part[@id='{name}']")  # noqa: S314 - our own
    assert part is not None
    return part


def played(part: ET.Element) -> list[ET.Element]:
    """The measures in the order in which they are played."""
    measures = part.findall("measure")
    order: list[ET.Element] = []
    place = start = 0
    passed = 1
    while place < len(measures):
        measure = measures[place]
        if measure.find("barline[@location='left']/repeat[@direction='forward']") is not None:
            if place != start:
                passed = 1
            start = place
        ending = measure.find("barline[@location='left']/ending[@type='start']")
        if ending is not None and str(passed) not in ending.attrib["number"].split(", "):
            # On to the bar after the one in which this bracket ends.
            while measures[place].find("barline[@location='right']/ending") is None:
                place += 1
            place += 1
            continue
        order.append(measure)
        repeat = measure.find("barline[@location='right']/repeat[@direction='backward']")
        if repeat is not None and passed < int(repeat.attrib["times"]):
            passed += 1
            place = start
        else:
            place += 1
    return order


def length_of(measure: ET.Element) -> int:
    """How far its cursor goes, in divisions."""
    place = farthest = 0
    for element in measure:
        duration = int(element.findtext("duration", "0"))
        if element.tag == "backup":
            place -= duration
        elif element.tag == "forward" or (element.tag == "note" and element.find("chord") is None):
            place += duration
        farthest = max(farthest, place)
    return farthest


def heard(part: ET.Element, staff: int = 1) -> list[Heard]:
    """All that sounds on a staff, by onset; times from the first measure that is written."""
    divisions = number(part, "measure/attributes/divisions")
    found: list[Heard] = []
    tied: dict[str, int] = {}
    start = Fraction(0)
    for measure in played(part):
        for group in _groups(measure, divisions):
            if group.staff == staff:
                _join(found, tied, group, start)
        start += Fraction(length_of(measure), divisions)
    assert not tied, "ties that lead nowhere"
    return sorted(found, key=lambda one: (one.onset, one.end))


def _join(found: list[Heard], tied: dict[str, int], group: _Group, start: Fraction) -> None:
    if group.has("tie[@type='stop']"):
        place = tied.pop(group.voice)
        before = found[place]
        assert before.end == start + group.onset
        assert [head.midi for head in before.heads] == [head.midi for head in group.heads]
        found[place] = attrs.evolve(before, end=start + group.end)
    else:
        place = len(found)
        found.append(
            Heard(
                start + group.onset,
                start + group.end,
                tuple(group.heads),
                group.first.get("dynamics", ""),
                group.has("notations/articulations/accent"),
                group.has("notations/articulations/staccato"),
            )
        )
    if group.has("tie[@type='start']"):
        tied[group.voice] = place


def _groups(measure: ET.Element, divisions: int) -> Iterator[_Group]:
    """The notes of a measure that start together in one voice."""
    place = 0
    group: _Group | None = None
    for element in measure:
        duration = int(element.findtext("duration", "0"))
        if element.tag == "backup":
            place -= duration
        if element.tag != "note":
            continue
        if element.find("chord") is not None:
            assert group is not None
            group.heads.append(_head(element))
            continue
        if group is not None:
            yield group
        group = None
        if element.find("rest") is None:
            end = place + duration + int(element.get("release", "0"))
            group = _Group(
                Fraction(place, divisions),
                Fraction(end, divisions),
                int(element.findtext("staff", "1")),
                element.findtext("voice", ""),
                element,
                [_head(element)],
            )
        place += duration
    if group is not None:
        yield group


def _head(note: ET.Element) -> Head:
    technical = note.find("notations/technical")
    string = fret = 0
    if technical is not None:
        string, fret = number(technical, "string"), number(technical, "fret")
    pitch = note.find("pitch")
    if pitch is None:
        return Head(None, string, fret)
    alter = int(pitch.findtext("alter", "0"))
    octave = number(pitch, "octave")
    return Head(12 * (octave + 1) + _STEPS[pitch.findtext("step", "")] + alter, string, fret)


def named(part: ET.Element) -> list[Named]:
    """The chord symbols as they are played, with their frames."""
    divisions = number(part, "measure/attributes/divisions")
    found: list[Named] = []
    start = Fraction(0)
    for measure in played(part):
        place = 0
        for element in measure:
            duration = int(element.findtext("duration", "0"))
            if element.tag == "backup":
                place -= duration
            elif element.tag == "note" and element.find("chord") is None:
                place += duration
            elif element.tag == "harmony":
                at = Fraction(place + int(element.findtext("offset", "0")), divisions)
                found.append(_symbol(element, start + at))
        start += Fraction(length_of(measure), divisions)
    return found


def _symbol(harmony: ET.Element, onset: Fraction) -> Named:
    frame = harmony.find("frame")
    strings = None
    if frame is not None:
        strings = tuple(
            (number(note, "string"), number(note, "fret")) for note in frame.findall("frame-note")
        )
    signs = {"1": "#", "-1": "b"}
    root = harmony.findtext("root/root-step", "") + signs.get(
        harmony.findtext("root/root-alter", "0"), ""
    )
    kind = harmony.find("kind")
    assert kind is not None
    return Named(onset, root, kind.attrib["text"], strings)
