"""Writing lead sheets: a chart as MusicXML 4.0 that any notation program opens."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import lcm
from typing import Final
from xml.etree.ElementTree import (
    Element,
    SubElement,
    indent,
    tostring,
)

import attrs

from gripwright.meter import Meter
from gripwright.theory.chord import Chord
from gripwright.theory.note import Note
from gripwright.tune.bar import OPEN, PLAIN
from gripwright.tune.chart import Chart
from gripwright.tune.key import Key
from gripwright.tune.leadsheet_kinds import DegreeChange, spell_kind
from gripwright.tune.repeats import Repeat, find_repeats
from gripwright.tune.section import Settings
from gripwright.tune.written import WrittenBar

_HEAD: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)
_UNWRITABLE: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOTE_VALUES: Final = (
    (Fraction(4), "whole"),
    (Fraction(2), "half"),
    (Fraction(1), "quarter"),
    (Fraction(1, 2), "eighth"),
    (Fraction(1, 4), "16th"),
    (Fraction(1, 8), "32nd"),
)
_BEAT_UNITS: Final = {value: name for value, name in _NOTE_VALUES}  # noqa: C416 - the values become keys
_DOT: Final = Fraction(3, 2)
_NO_CHORD: Final = "N.C."
_FEWEST_DIVISIONS: Final = 8


def write_leadsheet(chart: Chart[Chord]) -> bytes:
    """Write a chart as a lead sheet.

    One part of rests, drawn as slashes, with the chords above: a chord that is a MusicXML kind as
    that kind, every other with added, altered and subtracted degrees, all of them with the
    trade's suffix as the text to show. ``%`` is written out. What MusicXML has no element for is
    not written: hits, held chords and comments.

    Args:
        chart: The chart.

    Returns:
        A MusicXML 4.0 partwise document in UTF-8; equal charts give equal bytes.

    Example:
        >>> from gripwright import Chart
        >>> text = write_leadsheet(Chart.parse("| C7b9 |")).decode()
        >>> '<kind text="7b9">dominant</kind>' in text
        True
    """
    root = Element("score-partwise", version="4.0")
    if chart.title is not None:
        _add(_add(root, "work"), "work-title", chart.title)
    _add(_add(_add(root, "identification"), "encoding"), "software", "Gripwright")
    score_part = _add(_add(root, "part-list"), "score-part", id="P1")
    _add(score_part, "part-name", "Chords")
    part = _add(root, "part", id="P1")
    _PartWriter(chart).write(part)
    indent(root)
    return (_HEAD + tostring(root, encoding="unicode") + "\n").encode()


def _add(parent: Element, tag: str, text: object = None, /, **attributes: str) -> Element:
    element = SubElement(
        parent, tag, {key.replace("_", "-"): attributes[key] for key in attributes}
    )
    if text is not None:
        element.text = _UNWRITABLE.sub("", str(text))
    return element


@attrs.define
class _PartWriter:
    chart: Chart[Chord]
    _starts: frozenset[int] = attrs.field(init=False)
    _divisions: int = attrs.field(init=False)
    _closings: dict[int, tuple[str, str]] = attrs.field(init=False)

    def __attrs_post_init__(self) -> None:
        repeats: list[Repeat] = find_repeats(self.chart.written)[0]
        # A chart counts the start of a repeat by sections, MusicXML does not: all are written.
        self._starts = frozenset(repeat.start for repeat in repeats)
        self._closings = _closings(self.chart.written)
        parts = [_FEWEST_DIVISIONS]
        for written in self.chart.written:
            parts.append(written.length.denominator)
            parts += [slot.onset.denominator for slot in written.slots]
        self._divisions = lcm(*parts)

    def write(self, part: Element) -> None:
        before: WrittenBar[Chord] | None = None
        for written in self.chart.written:
            self._measure(part, written, before)
            before = written

    def _measure(
        self, part: Element, written: WrittenBar[Chord], before: WrittenBar[Chord] | None
    ) -> None:
        pickup = bool(self.chart.pickup)
        measure = _add(part, "measure", number=str(written.index + (not pickup)))
        if pickup and before is None:
            measure.set("implicit", "yes")
        self._left(measure, written)
        self._attributes(measure, written, before)
        self._signs_before(measure, written, before)
        self._contents(measure, written)
        _signs_after(measure, written)
        _right(measure, written, self._closings.get(written.index))

    def _left(self, measure: Element, written: WrittenBar[Chord]) -> None:
        starts = written.index in self._starts
        if not starts and not written.bar.endings:
            return
        barline = _add(measure, "barline", location="left")
        if written.bar.endings:
            _add(barline, "ending", number=_passes(written), type="start")
        if starts:
            _add(barline, "repeat", direction="forward")

    def _attributes(
        self, measure: Element, written: WrittenBar[Chord], before: WrittenBar[Chord] | None
    ) -> None:
        key = written.key
        new_key = key is not None and (before is None or key != before.key)
        new_meter = before is None or written.meter != before.meter
        if not (new_key or new_meter):
            return
        attributes = _add(measure, "attributes")
        if before is None:
            _add(attributes, "divisions", self._divisions)
        if key is not None and new_key:
            _key(attributes, key)
        if new_meter:
            time = _add(attributes, "time")
            groups = written.meter.groups or (written.meter.count,)
            _add(time, "beats", "+".join(map(str, groups)))
            _add(time, "beat-type", written.meter.unit)
        if before is None:
            clef = _add(attributes, "clef")
            _add(clef, "sign", "G")
            _add(clef, "line", 2)
            style = _add(attributes, "measure-style")
            _add(style, "slash", type="start", use_stems="no")

    def _signs_before(
        self, measure: Element, written: WrittenBar[Chord], before: WrittenBar[Chord] | None
    ) -> None:
        if written.opens and written.name is not None:
            _add(_direction(measure), "rehearsal", written.name)
        if written.bar.segno:
            direction = _direction(measure)
            _add(direction, "segno")
            _sound(measure, segno="segno")
        if written.coda:
            _add(_direction(measure), "coda")
            _sound(measure, coda="coda")
        if not written.opens:
            return
        then = before.settings if before is not None else Settings()
        if written.feel is not None and written.feel != then.feel:
            _add(_direction(measure), "words", written.feel)
        meter = written.settings.meter or self.chart.meter
        same = written.tempo_bpm == then.tempo_bpm and meter.pulse == (
            (then.meter or self.chart.meter).pulse
        )
        if written.tempo_bpm is not None and not same:
            _tempo(measure, written.tempo_bpm, meter)

    def _contents(self, measure: Element, written: WrittenBar[Chord]) -> None:
        slots = written.slots
        if len(slots) == 0 or (len(slots) == 1 and not slots[0].onset):
            for slot in slots:
                _harmony(measure, slot.symbol)
            note = _add(measure, "note")
            _add(note, "rest", measure="yes")
            self._duration(note, written.length)
            return
        ends = [*(slot.onset for slot in slots), written.length]
        self._rests(measure, ends[0])
        for slot, end in zip(slots, ends[1:], strict=True):
            _harmony(measure, slot.symbol)
            self._rests(measure, end - slot.onset)

    def _rests(self, measure: Element, quarters: Fraction) -> None:
        for length, name, dots in _note_values(quarters):
            note = _add(measure, "note")
            _add(note, "rest")
            self._duration(note, length)
            if name is not None:
                _add(note, "type", name)
            for _ in range(dots):
                _add(note, "dot")

    def _duration(self, note: Element, quarters: Fraction) -> None:
        _add(note, "duration", quarters * self._divisions)
        _add(note, "voice", 1)


def _note_values(quarters: Fraction) -> Iterator[tuple[Fraction, str | None, int]]:
    """Rests that fill a length, the longest first, dotted where that saves one."""
    rest = quarters
    if (rest / _NOTE_VALUES[-1][0]).denominator != 1:
        # A part of a tuplet: its length is exact, and it is drawn as the program sees fit.
        yield rest, None, 0
        return
    while rest:
        for value, name in _NOTE_VALUES:
            if rest == value * _DOT and value != _NOTE_VALUES[-1][0]:
                yield rest, name, 1
                return
            if value <= rest:
                yield value, name, 0
                rest -= value
                break


def _direction(measure: Element) -> Element:
    direction = _add(measure, "direction", placement="above")
    return _add(direction, "direction-type")


def _sound(measure: Element, **attributes: str) -> None:
    """What the direction written last sounds like."""
    _add(measure[-1], "sound", **attributes)


def _key(attributes: Element, key: Key) -> None:
    element = _add(attributes, "key")
    _add(element, "fifths", key.fifths)
    _add(element, "mode", "minor" if key.minor else "major")


def _tempo(measure: Element, tempo_bpm: int, meter: Meter) -> None:
    mark = _add(_direction(measure), "metronome")
    pulse = meter.pulse
    dotted = pulse not in _BEAT_UNITS
    _add(mark, "beat-unit", _BEAT_UNITS[pulse / _DOT if dotted else pulse])
    if dotted:
        _add(mark, "beat-unit-dot")
    _add(mark, "per-minute", tempo_bpm)
    # The pulse is a power of two or three times one, so that the decimals end.
    quarters = f"{float(tempo_bpm * pulse):.6f}".rstrip("0").rstrip(".")
    _sound(measure, tempo=quarters)


def _harmony(measure: Element, chord: Chord | None) -> None:
    harmony = _add(measure, "harmony")
    if chord is None:
        # The schema wants a root, which programs show as this text: none.
        _add(_add(harmony, "root"), "root-step", "C", text="")
        _add(harmony, "kind", "none", text=_NO_CHORD)
        return
    _note(harmony, "root", chord.root)
    kind, changes = spell_kind(chord.degrees)
    _add(harmony, "kind", kind, text=chord.quality.name)
    if chord.bass is not None:
        _note(harmony, "bass", chord.bass)
    for change in changes:
        _degree(harmony, change)


def _note(harmony: Element, stem: str, note: Note) -> None:
    element = _add(harmony, stem)
    _add(element, f"{stem}-step", note.letter)
    if note.alteration:
        _add(element, f"{stem}-alter", note.alteration)


def _degree(harmony: Element, change: DegreeChange) -> None:
    # The text of the kind shows it already.
    degree = _add(harmony, "degree", print_object="no")
    _add(degree, "degree-value", change.value)
    _add(degree, "degree-alter", change.alter)
    _add(degree, "degree-type", change.type)


def _passes(written: WrittenBar[Chord]) -> str:
    return ", ".join(map(str, written.bar.endings))


def _signs_after(measure: Element, written: WrittenBar[Chord]) -> None:
    bar = written.bar
    if bar.repeat_end == OPEN:
        _add(_direction(measure), "words", "open")
    if bar.to_coda:
        _add(_direction(measure), "words", "To Coda")
        _sound(measure, tocoda="coda")
    if bar.fine:
        _add(_direction(measure), "words", "Fine")
        _sound(measure, fine="yes")
    if bar.jump is not None:
        _add(_direction(measure), "words", bar.jump)
        if bar.jump.startswith("D.C."):
            _sound(measure, dacapo="yes")
        else:
            _sound(measure, dalsegno="segno")


def _right(measure: Element, written: WrittenBar[Chord], closing: tuple[str, str] | None) -> None:
    bar = written.bar
    if bar.repeat_end is None and closing is None:
        return
    barline = _add(measure, "barline", location="right")
    if closing is not None:
        _add(barline, "ending", number=closing[0], type=closing[1])
    if bar.repeat_end is None:
        return
    _add(barline, "repeat", direction="backward")
    if bar.repeat_end > PLAIN:
        barline[-1].set("times", str(bar.repeat_end))


def _closings(bars: Sequence[WrittenBar[Chord]]) -> dict[int, tuple[str, str]]:
    """Where the bracket of each ending closes: the bar, the numbers and MusicXML's type.

    At the bar that repeats; how far an ending reaches that is not repeated, a chart does not
    say, and its bracket stays open after its first bar.
    """
    closings: dict[int, tuple[str, str]] = {}
    opened: WrittenBar[Chord] | None = None
    for written in bars:
        if written.bar.endings:
            if opened is not None:
                closings[opened.index] = _passes(opened), "discontinue"
            opened = written
        if written.bar.repeat_end is not None and opened is not None:
            closings[written.index] = _passes(opened), "stop"
            opened = None
    if opened is not None:
        closings[opened.index] = _passes(opened), "discontinue"
    return closings
