"""Parts: the measures of one part of a score."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from xml.etree.ElementTree import Element

import attrs

from gripwright.meter import Meter
from gripwright.tune.key import Key
from gripwright.tune.musicxml_elements import add_element, add_key, add_tempo, add_time
from gripwright_rhythm.export.musicxml.layout import Place
from gripwright_rhythm.export.musicxml.mark import add_rehearsal, add_swing, add_words
from gripwright_rhythm.export.musicxml.piece import texts_of
from gripwright_rhythm.export.musicxml.plan import PartPlan
from gripwright_rhythm.export.musicxml.rhythm import RhythmWriter
from gripwright_rhythm.export.musicxml.sheet import Sheet, SheetBar
from gripwright_rhythm.export.musicxml.staff import add_staves
from gripwright_rhythm.export.musicxml.voice import VoiceWriter


@attrs.define
class _State:
    """What the bars written so far have said."""

    meter: Meter | None = None
    key: Key | None = None
    tempo: tuple[Fraction, Fraction] | None = None
    swing: tuple[Fraction, Fraction | None] | None = None


@attrs.define
class PartWriter:
    """Writes the measures of a part.

    Args:
        sheet: The score.
        plan: What the part shows.
        rhythms: Writes rhythms; parts share it.
        opening: Words over the first bar.
    """

    sheet: Sheet
    plan: PartPlan
    rhythms: RhythmWriter
    opening: tuple[str, ...] = ()
    _state: _State = attrs.field(factory=_State, init=False)

    def measures(
        self, places: Sequence[Place], numbers: Sequence[tuple[str, bool]]
    ) -> Iterator[str]:
        """The measures as they stand in the file.

        Args:
            places: The bars on paper.
            numbers: The number of each, and whether it is one that does not count.
        """
        voices = VoiceWriter(self.sheet, self.plan, self.rhythms)
        varied = len({(bar.meter, bar.key) for bar in self.sheet.bars}) > 1
        last = len(places) - 1
        for index, (place, (number, implicit)) in enumerate(zip(places, numbers, strict=True)):
            bar = self.sheet.bars[place.index]
            again = place.passes > 1 or (place.ending is not None and place.ending.starts)
            if again and index:
                # A player comes here from two bars, which may have left different things in force.
                voices.forget()
                if varied:
                    self._state = _State()
            mark = ' implicit="yes"' if implicit else ""
            yield f'    <measure number="{number}"{mark}>\n'
            yield self._before(place, bar, index)
            yield from voices.bar(bar)
            after = Element("measure")
            _add_right(after, place, final=index == last)
            yield texts_of(after)
            yield "    </measure>\n"

    def _before(self, place: Place, bar: SheetBar, index: int) -> str:
        measure = Element("measure")
        _add_left(measure, place)
        self._add_attributes(measure, bar, first=index == 0)
        if self.plan.leads:
            self._add_marks(measure, place, bar, first=index == 0)
        return texts_of(measure)

    def _add_attributes(self, measure: Element, bar: SheetBar, *, first: bool) -> None:
        attributes = Element("attributes")
        if first:
            add_element(attributes, "divisions", self.sheet.divisions)
        if bar.key is not None and bar.key != self._state.key and not self.plan.unpitched:
            add_key(attributes, bar.key)
        if bar.meter != self._state.meter:
            add_time(attributes, bar.meter)
        if first:
            add_staves(attributes, self.plan.staves)
        self._state.key, self._state.meter = bar.key, bar.meter
        if len(attributes):
            measure.append(attributes)

    def _add_marks(self, measure: Element, place: Place, bar: SheetBar, *, first: bool) -> None:
        if bar.section is not None:
            add_rehearsal(measure, bar.section)
        tempo = bar.tempo_bpm, bar.meter.pulse
        if tempo != self._state.tempo:
            add_tempo(measure, bar.tempo_bpm, bar.meter)
        swing = bar.swing, bar.meter.pulse if bar.swing != 1 else None
        straight = bar.swing == 1 and self._state.swing is None
        news = swing != self._state.swing and not straight
        self._state.tempo, self._state.swing = tempo, swing
        words = [*self.opening] if first else []
        if place.passes > 1:
            words.append(f"play {place.passes} times")
        if news:
            add_swing(measure, bar.swing, bar.meter, words)
        elif words:
            add_words(measure, words)


def _add_left(measure: Element, place: Place) -> None:
    opens = place.ending is not None and place.ending.starts
    if place.passes == 1 and not opens:
        return
    barline = add_element(measure, "barline", location="left")
    if place.passes > 1:
        add_element(barline, "bar-style", "heavy-light")
    if place.ending is not None and opens:
        add_element(barline, "ending", number=place.ending.numbers, type="start")
    if place.passes > 1:
        add_element(barline, "repeat", direction="forward")


def _add_right(measure: Element, place: Place, *, final: bool) -> None:
    closes = place.ending is not None and place.ending.stops
    if place.times == 1 and not closes and not final:
        return
    barline = add_element(measure, "barline", location="right")
    if place.times > 1 or final:
        add_element(barline, "bar-style", "light-heavy")
    if place.ending is not None and closes:
        type_ = "discontinue" if place.ending.last else "stop"
        add_element(barline, "ending", number=place.ending.numbers, type=type_)
    if place.times > 1:
        add_element(barline, "repeat", direction="backward", times=str(place.times))
