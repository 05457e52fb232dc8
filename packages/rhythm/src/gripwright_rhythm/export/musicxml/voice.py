"""Voices: the notes of one part in a bar, with the chord symbols over them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Final
from xml.etree.ElementTree import Element

import attrs

from gripwright.tune.musicxml_elements import add_element
from gripwright_rhythm.export.musicxml.accidental import Accidentals
from gripwright_rhythm.export.musicxml.figure import Figure
from gripwright_rhythm.export.musicxml.grid import Grid
from gripwright_rhythm.export.musicxml.mark import (
    WrittenSymbol,
    add_dynamics,
    add_symbol,
    dynamic_name,
)
from gripwright_rhythm.export.musicxml.note import WrittenNote, add_notes
from gripwright_rhythm.export.musicxml.piece import Pieces
from gripwright_rhythm.export.musicxml.plan import PartPlan
from gripwright_rhythm.export.musicxml.rhythm import Beams, RhythmWriter
from gripwright_rhythm.export.musicxml.sheet import BarSymbol, Sheet, SheetBar
from gripwright_rhythm.export.musicxml.track import Segment, Sound

_USUAL_VOICES: Final = 4


@attrs.define
class _Place:
    """Where a voice stands: on which staff, by which number, and whether beside another."""

    staff: int
    voice: int
    accidentals: Accidentals
    under: bool


@attrs.define
class VoiceWriter:
    """Writes what a part plays in its bars, one after the other.

    Args:
        sheet: The score.
        plan: What the part shows.
        rhythms: Writes rhythms.
    """

    sheet: Sheet
    plan: PartPlan
    rhythms: RhythmWriter
    _pieces: Pieces = attrs.field(factory=Pieces, init=False)
    _dynamic: str | None = attrs.field(default=None, init=False)

    def forget(self) -> None:
        """Say the dynamic of the next sound, whatever was said before, where it ever changes."""
        if self._varied:
            self._dynamic = None

    @cached_property
    def _most_voices(self) -> int:
        most = max(len(bar.tracks[self.plan.track]) for bar in self.sheet.bars)
        return max(most, _USUAL_VOICES)

    @cached_property
    def _varied(self) -> bool:
        track = self.plan.track
        sounds = {
            part.sound for bar in self.sheet.bars for voice in bar.tracks[track] for part in voice
        }
        return len({dynamic_name(one.dynamic) for one in sounds if one and not one.accent}) > 1

    def bar(self, bar: SheetBar) -> Iterator[str]:
        """The notes of a bar: staff by staff, voice by voice.

        Args:
            bar: The bar.
        """
        grid = Grid(bar.meter, bar.lead_in, bar.length, self.sheet.divisions)
        symbols = bar.symbols if self.plan.leads else ()
        for staff in range(len(self.plan.staves)):
            for number, segments in enumerate(bar.tracks[self.plan.track]):
                if not segments:
                    continue
                voice = 1 + staff * self._most_voices + number
                if voice > 1:
                    yield self._pieces.text(_add_backup, bar.length)
                place = _Place(staff, voice, Accidentals(bar.key), under=number > 0)
                written = self.rhythms.write(grid, segments)
                yield from self._voice(place, written, segments, symbols if voice == 1 else ())

    def _voice(
        self,
        place: _Place,
        written: Sequence[tuple[Figure, Beams]],
        segments: Sequence[Segment],
        symbols: Sequence[BarSymbol],
    ) -> Iterator[str]:
        waiting = list(reversed(symbols))
        for figure, beams in written:
            while waiting and waiting[-1].place < figure.end:
                yield self._symbol(waiting.pop(), figure.start)
            segment = segments[figure.index]
            starts = segment.starts and figure.start == segment.start
            ends = segment.ends and figure.end == segment.end
            if segment.sound is not None and starts and place.voice == 1:
                yield self._new_dynamic(segment.sound)
            yield self._note(place, figure, beams, segment.sound, starts=starts, ends=ends)

    def _symbol(self, symbol: BarSymbol, start: int) -> str:
        grip = None if symbol.grip is None else self.sheet.grips[symbol.grip]
        look = WrittenSymbol(symbol.chord, grip, symbol.place - start, self._staff(0))
        return self._pieces.text(add_symbol, look)

    def _new_dynamic(self, sound: Sound) -> str:
        # An accent says already that its chord is louder.
        name = dynamic_name(sound.dynamic)
        if sound.accent or name == self._dynamic or self.plan.unpitched:
            return ""
        self._dynamic = name
        return self._pieces.text(add_dynamics, name)

    def _note(
        self,
        place: _Place,
        figure: Figure,
        beams: Beams,
        sound: Sound | None,
        *,
        starts: bool,
        ends: bool,
    ) -> str:
        heads = () if sound is None else self.sheet.stacks[self.plan.track][sound.stack]
        look = WrittenNote(
            length=figure.end - figure.start,
            value=figure.value,
            edge=figure.edge,
            heads=heads,
            sound=sound,
            starts=starts,
            ends=ends,
            accidentals=place.accidentals.of(heads, starts=starts),
            beams=beams,
            kind=self.plan.staves[place.staff].kind,
            line=self.plan.staves[place.staff].clef.middle,
            voice=place.voice,
            under=place.under,
            staff=self._staff(place.staff),
        )
        return self._pieces.text(add_notes, look)

    def _staff(self, index: int) -> int:
        """The number of a staff; 0 where there is one alone, which needs none."""
        return index + 1 if len(self.plan.staves) > 1 else 0


def _add_backup(parent: Element, length: int) -> None:
    add_element(add_element(parent, "backup"), "duration", length)
