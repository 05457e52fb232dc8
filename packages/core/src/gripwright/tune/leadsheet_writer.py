"""Writing lead sheets: a chart as MusicXML 4.0 that any notation program opens."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import lcm
from typing import Final
from xml.etree.ElementTree import Element, indent, tostring

import attrs

from gripwright.theory.chord import Chord
from gripwright.tune.bar import OPEN, PLAIN
from gripwright.tune.chart import Chart
from gripwright.tune.musicxml_elements import (
    HEAD,
    add_direction,
    add_element,
    add_harmony,
    add_key,
    add_tempo,
    add_time,
)
from gripwright.tune.repeats import Repeat, find_repeats
from gripwright.tune.section import Settings
from gripwright.tune.written import WrittenBar

_NOTE_VALUES: Final = (
    (Fraction(4), "whole"),
    (Fraction(2), "half"),
    (Fraction(1), "quarter"),
    (Fraction(1, 2), "eighth"),
    (Fraction(1, 4), "16th"),
    (Fraction(1, 8), "32nd"),
)
_DOT: Final = Fraction(3, 2)
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
        add_element(add_element(root, "work"), "work-title", chart.title)
    add_element(
        add_element(add_element(root, "identification"), "encoding"), "software", "Gripwright"
    )
    score_part = add_element(add_element(root, "part-list"), "score-part", id="P1")
    add_element(score_part, "part-name", "Chords")
    part = add_element(root, "part", id="P1")
    _PartWriter(chart).write(part)
    indent(root)
    return (HEAD + tostring(root, encoding="unicode") + "\n").encode()


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
        measure = add_element(part, "measure", number=str(written.index + (not pickup)))
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
        barline = add_element(measure, "barline", location="left")
        if written.bar.endings:
            add_element(barline, "ending", number=_passes(written), type="start")
        if starts:
            add_element(barline, "repeat", direction="forward")

    def _attributes(
        self, measure: Element, written: WrittenBar[Chord], before: WrittenBar[Chord] | None
    ) -> None:
        key = written.key
        new_key = key is not None and (before is None or key != before.key)
        new_meter = before is None or written.meter != before.meter
        if not (new_key or new_meter):
            return
        attributes = add_element(measure, "attributes")
        if before is None:
            add_element(attributes, "divisions", self._divisions)
        if key is not None and new_key:
            add_key(attributes, key)
        if new_meter:
            add_time(attributes, written.meter)
        if before is None:
            clef = add_element(attributes, "clef")
            add_element(clef, "sign", "G")
            add_element(clef, "line", 2)
            style = add_element(attributes, "measure-style")
            add_element(style, "slash", type="start", use_stems="no")

    def _signs_before(
        self, measure: Element, written: WrittenBar[Chord], before: WrittenBar[Chord] | None
    ) -> None:
        if written.opens and written.name is not None:
            add_element(add_direction(measure), "rehearsal", written.name)
        if written.bar.segno:
            direction = add_direction(measure)
            add_element(direction, "segno")
            _sound(measure, segno="segno")
        if written.coda:
            add_element(add_direction(measure), "coda")
            _sound(measure, coda="coda")
        if not written.opens:
            return
        then = before.settings if before is not None else Settings()
        if written.feel is not None and written.feel != then.feel:
            add_element(add_direction(measure), "words", written.feel)
        meter = written.settings.meter or self.chart.meter
        same = written.tempo_bpm == then.tempo_bpm and meter.pulse == (
            (then.meter or self.chart.meter).pulse
        )
        if written.tempo_bpm is not None and not same:
            add_tempo(measure, written.tempo_bpm, meter)

    def _contents(self, measure: Element, written: WrittenBar[Chord]) -> None:
        slots = written.slots
        if len(slots) == 0 or (len(slots) == 1 and not slots[0].onset):
            for slot in slots:
                add_harmony(measure, slot.symbol)
            note = add_element(measure, "note")
            add_element(note, "rest", measure="yes")
            self._duration(note, written.length)
            return
        ends = [*(slot.onset for slot in slots), written.length]
        self._rests(measure, ends[0])
        for slot, end in zip(slots, ends[1:], strict=True):
            add_harmony(measure, slot.symbol)
            self._rests(measure, end - slot.onset)

    def _rests(self, measure: Element, quarters: Fraction) -> None:
        for length, name, dots in _note_values(quarters):
            note = add_element(measure, "note")
            add_element(note, "rest")
            self._duration(note, length)
            if name is not None:
                add_element(note, "type", name)
            for _ in range(dots):
                add_element(note, "dot")

    def _duration(self, note: Element, quarters: Fraction) -> None:
        add_element(note, "duration", quarters * self._divisions)
        add_element(note, "voice", 1)


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


def _sound(measure: Element, **attributes: str) -> None:
    """What the direction written last sounds like."""
    add_element(measure[-1], "sound", **attributes)


def _passes(written: WrittenBar[Chord]) -> str:
    return ", ".join(map(str, written.bar.endings))


def _signs_after(measure: Element, written: WrittenBar[Chord]) -> None:
    bar = written.bar
    if bar.repeat_end == OPEN:
        add_element(add_direction(measure), "words", "open")
    if bar.to_coda:
        add_element(add_direction(measure), "words", "To Coda")
        _sound(measure, tocoda="coda")
    if bar.fine:
        add_element(add_direction(measure), "words", "Fine")
        _sound(measure, fine="yes")
    if bar.jump is not None:
        add_element(add_direction(measure), "words", bar.jump)
        if bar.jump.startswith("D.C."):
            _sound(measure, dacapo="yes")
        else:
            _sound(measure, dalsegno="segno")


def _right(measure: Element, written: WrittenBar[Chord], closing: tuple[str, str] | None) -> None:
    bar = written.bar
    if bar.repeat_end is None and closing is None:
        return
    barline = add_element(measure, "barline", location="right")
    if closing is not None:
        add_element(barline, "ending", number=closing[0], type=closing[1])
    if bar.repeat_end is None:
        return
    add_element(barline, "repeat", direction="backward")
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
