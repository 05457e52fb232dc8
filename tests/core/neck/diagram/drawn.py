"""What an SVG document shows, read back from its text."""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

import attrs
from defusedxml import ElementTree  # type: ignore[import-untyped]

from gripwright import Chord, Hand, Instrument, InstrumentString, Pitch, Voicing, find_voicings

SVG = "{http://www.w3.org/2000/svg}"
GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22, scale_mm=648.0, id="guitar")
BANJO = Instrument(
    id="banjo",
    name="banjo",
    strings=tuple(
        InstrumentString(Pitch.parse(pitch), 670.0, first_fret=first)
        for pitch, first in (("G4", 5), ("D3", 0), ("G3", 0), ("B3", 0), ("D4", 0))
    ),
    frets=22,
)


def grip(symbol: str, shape: str, instrument: Instrument = GUITAR) -> Voicing:
    """The voicing of a chord with a shape."""
    table = find_voicings(Chord.parse(symbol), instrument, Hand(reach_mm=130.0))
    return next(one for one in table if one.shape == shape)


def parsed(text: str, tag: str = f"{SVG}svg") -> Element:
    """The root of a document, which must be well-formed, with nothing between its elements."""
    root: Element = ElementTree.fromstring(text)
    assert root.tag == tag
    assert not [one for one in root.iter() if (one.tail or "").strip()]
    assert not [one for one in root.iter() if len(one) and (one.text or "").strip()]
    return root


def elements(root: Element, tag: str) -> Iterator[Element]:
    """The elements of a kind, in order."""
    return root.iter(f"{SVG}{tag}")


def texts(root: Element) -> list[str]:
    """Every text drawn, in order."""
    return [element.text or "" for element in elements(root, "text")]


def at(element: Element, name: str) -> float:
    """A number among the attributes of an element."""
    return float(element.attrib[name])


def dots(root: Element) -> list[Element]:
    """Circles and the squares of roots; blocks with sharper corners, as the ground, are none."""
    squares = [
        rect
        for rect in elements(root, "rect")
        if "rx" in rect.attrib and rect.attrib["width"] == rect.attrib["height"]
    ]
    return [*elements(root, "circle"), *squares]


def barres(root: Element) -> list[Element]:
    """Rounded bars."""
    return [rect for rect in elements(root, "rect") if rect.attrib.get("rx") == "5"]


def number_of_strings(count: int) -> Instrument:
    """An instrument with so many strings, a fourth apart."""
    strings = tuple(InstrumentString(Pitch.from_midi(28 + 5 * n), 648.0) for n in range(count))
    return Instrument(id="many", name="many", strings=strings, frets=22)


def reversed_neck(voicing: Voicing) -> Voicing:
    """The voicing on the neck strung the other way round."""
    instrument = voicing.instrument
    return attrs.evolve(
        voicing,
        instrument=attrs.evolve(instrument, strings=instrument.strings[::-1]),
        frets=voicing.frets[::-1],
    )
