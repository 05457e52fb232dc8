"""A part of a score, read measure by measure into drafts of bars."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, Literal
from xml.etree.ElementTree import Element

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.theory.interval import Interval
from gripwright.theory.note import LETTERS, Note
from gripwright.theory.pitch import Pitch
from gripwright.tune.bar import PLAIN, JumpText
from gripwright.tune.key import Key
from gripwright.tune.leadsheet_elements import number_of, passes_of, text_of, whole_of
from gripwright.tune.leadsheet_harmony import HarmonyReading, key_of, read_harmony
from gripwright.tune.leadsheet_melody import TOP_STAFF, SourceNote
from gripwright.tune.leadsheet_words import feel_in, jump_in, name_in, sign_in
from gripwright.tune.written import COMMON_TIME

_ZERO: Final = Fraction(0)
_STEPS: Final = (0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6)
"""Diatonic steps of an interval of so many semitones, where a file does not say."""

_NOTE_VALUES: Final = {
    "breve": Fraction(8),
    "whole": Fraction(4),
    "half": Fraction(2),
    "quarter": Fraction(1),
    "eighth": Fraction(1, 2),
    "16th": Fraction(1, 4),
    "32nd": Fraction(1, 8),
}
_AT_START: Final = frozenset({"name", "segno", "coda"})
"""Signs that hold from the start of a bar; at the end of one they mean the next."""


@attrs.define
class Draft:
    """A bar in the making: all that its measure says.

    Args:
        index: Its place, counted from 0.
        meter: The metre in force.
        key: The key in force, at concert pitch.
        implicit: Whether the measure does not count as one.
        number: The number that the file gives it.
    """

    index: int
    meter: Meter
    key: Key | None
    implicit: bool
    number: str
    length: Fraction = _ZERO
    """Quarters that its notes, rests and gaps fill."""
    name: str | None = None
    feel: str | None = None
    tempo: Fraction | None = None
    """Quarters a minute."""
    harmonies: list[tuple[Fraction, HarmonyReading]] = attrs.field(factory=list)
    notes: list[SourceNote] = attrs.field(factory=list)
    signs: set[str] = attrs.field(factory=set)
    coda_symbol: Literal["start", "end"] | None = None
    """Where in it a coda symbol stands that may mean either end of the way."""
    jump: JumpText | None = None
    repeat_start: bool = False
    repeat_end: int | None = None
    endings: tuple[int, ...] = ()
    ending_stops: bool = False
    repeats_bars: int = 0
    """How many bars before are repeated in it, by a sign; 0 for none."""
    warnings: list[str] = attrs.field(factory=list)


class PartReader:
    """Reads the measures of one part.

    Args:
        measures: The measure elements.
    """

    def __init__(self, measures: Sequence[Element]) -> None:
        self._measures = measures
        self._divisions = Fraction(1)
        self._meter = COMMON_TIME
        self._key: Key | None = None
        self._transposed = Interval(0, 0)
        self._bar_repeat = 0
        self._cursor = _ZERO
        self._onset = _ZERO
        self._any_tempo = False
        # Signs at the end of a measure belong to the next one.
        self._next: list[tuple[str, str | None]] = []
        self._late: list[tuple[Fraction, str, str | None]] = []

    def read(self) -> list[Draft]:
        """The drafts of all measures."""
        return [self._measure(index, measure) for index, measure in enumerate(self._measures)]

    def _measure(self, index: int, measure: Element) -> Draft:
        # The signature at the head of a measure holds in it from its start.
        draft = Draft(
            index=index,
            meter=self._meter,
            key=self._key,
            implicit=measure.get("implicit") == "yes",
            number=measure.get("number", ""),
        )
        for sign, name in self._next:
            self._sign(draft, sign, name)
        self._next, self._late = [], []
        self._cursor = self._onset = _ZERO
        for element in measure:
            if element.tag in _READ:
                getattr(self, f"_read_{element.tag}")(draft, element)
            draft.length = max(draft.length, self._cursor)
        for place, sign, name in self._late:
            late = place > 0 and place >= draft.length
            if late and sign == "coda symbol":
                draft.coda_symbol = "end"
            elif late and sign in _AT_START:
                self._next.append((sign, name))
            else:
                self._sign(draft, sign, name)
        draft.repeats_bars = self._bar_repeat
        return draft

    def _quarters(self, element: Element, path: str = "duration") -> Fraction:
        return (number_of(element.findtext(path)) or _ZERO) / self._divisions

    # Signatures

    def _read_attributes(self, draft: Draft, element: Element) -> None:
        divisions = number_of(element.findtext("divisions"))
        if divisions is not None:
            if divisions > 0:
                self._divisions = divisions
            else:
                draft.warnings.append("divisions that are not above 0 are passed over")
        transpose = element.find("transpose")
        if transpose is not None:
            self._transposed = _transposition(transpose)
        key = element.find("key")
        if key is not None:
            self._key = draft.key = self._read_signature(draft, key)
        time = element.find("time")
        if time is not None:
            self._meter = draft.meter = _meter(draft, time) or self._meter
        for repeat in element.findall("measure-style/measure-repeat"):
            stops = repeat.get("type") == "stop"
            self._bar_repeat = 0 if stops else max(1, whole_of(repeat.text) or 1)

    def _read_signature(self, draft: Draft, element: Element) -> Key | None:
        fifths = whole_of(element.findtext("fifths"))
        mode = text_of(element, "mode").lower() or "major"
        key = None if fifths is None else key_of(fifths, mode)
        if key is not None:
            try:
                key = Key(key.tonic + self._transposed, key.minor)
            except ConditionError:
                key = None
        if key is None:
            draft.warnings.append("a key signature that is no major or minor key is left out")
        elif mode not in {"major", "minor", "none"}:
            draft.warnings.append(f"the mode {mode[:40]!r} is read as the key {key}")
        return key

    # Notes

    def _read_note(self, draft: Draft, element: Element) -> None:
        if element.find("grace") is not None:
            return
        duration = self._quarters(element)
        if element.find("chord") is None:
            self._onset = self._cursor
            self._cursor += duration
        if element.find("cue") is not None or duration <= 0:
            return
        pitch = self._pitch(element.find("pitch"))
        if pitch is None:
            return
        ties = {tie.get("type") for tie in (*element.findall("tie"), *element.iter("tied"))}
        note = SourceNote(
            pitch=pitch,
            bar=draft.index,
            onset=self._onset,
            duration=duration,
            voice=text_of(element, "voice") or "1",
            staff=text_of(element, "staff") or TOP_STAFF,
            tied_from="stop" in ties,
            tied_on="start" in ties,
        )
        draft.notes.append(note)

    def _pitch(self, element: Element | None) -> Pitch | None:
        if element is None:
            return None
        step = text_of(element, "step").upper()
        octave = whole_of(element.findtext("octave"))
        alteration = whole_of(element.findtext("alter") or "0")
        if len(step) != 1 or step not in LETTERS or octave is None or alteration is None:
            return None
        if not 0 <= octave <= 9 or abs(alteration) > 3:  # noqa: PLR2004 - bounds of the schema, and of spelling
            return None
        return Pitch(Note(step, alteration), octave) + self._transposed

    def _read_backup(self, _draft: Draft, element: Element) -> None:
        self._cursor = max(_ZERO, self._cursor - self._quarters(element))

    def _read_forward(self, _draft: Draft, element: Element) -> None:
        self._cursor += self._quarters(element)

    def _read_harmony(self, draft: Draft, element: Element) -> None:
        key = draft.key
        if key is not None and self._transposed.steps:
            key = _moved(key, -self._transposed)
        reading = read_harmony(element, key)
        if reading.chord is not None and self._transposed != Interval(0, 0):
            try:
                chord = reading.chord.transposed(self._transposed)
            except ConditionError:
                reading = HarmonyReading(
                    None, readable=False, warnings=("a chord that cannot be spelled is left out",)
                )
            else:
                reading = attrs.evolve(reading, chord=chord)
        onset = max(_ZERO, self._cursor + self._quarters(element, "offset"))
        draft.warnings += reading.warnings
        if reading.readable:
            draft.harmonies.append((onset, reading))

    # Signs

    def _read_barline(self, draft: Draft, element: Element) -> None:
        left = element.get("location", "right") == "left"
        for sign in ("segno", "coda"):
            if element.find(sign) is not None or element.get(sign) is not None:
                if left:
                    self._sign(draft, sign, None)
                else:
                    self._next.append((sign, None))
        ending = element.find("ending")
        if ending is not None and ending.get("type", "start") == "start":
            draft.endings = passes_of(ending.get("number", "")) or passes_of(ending.text or "")
            if not draft.endings:
                draft.warnings.append("an ending without a number is left out")
        elif ending is not None:
            draft.ending_stops = True
        repeat = element.find("repeat")
        if repeat is None:
            return
        if repeat.get("direction") == "backward":
            draft.repeat_end = whole_of(repeat.get("times")) or PLAIN
        elif left:
            draft.repeat_start = True
        else:
            self._next.append(("repeat", None))

    def _read_direction(self, draft: Draft, element: Element) -> None:
        place = self._cursor + self._quarters(element, "offset")
        words = [" ".join((word.text or "").split()) for word in element.iter("words")]
        said = " ".join(filter(None, words))
        sound = element.find("sound")
        jump = jump_in(said)
        if jump is not None:
            draft.jump = jump
        signs = {sign for text in (said, *words) if (sign := sign_in(text)) is not None}
        feel = feel_in(said) if said else None
        draft.feel = feel or draft.feel
        tempo = _metronome(element)
        if tempo is not None:
            draft.tempo, self._any_tempo = tempo, True
        for rehearsal in element.iter("rehearsal"):
            name = name_in(rehearsal.text or "")
            if name is not None:
                self._late.append((place, "name", name))
        if element.find("direction-type/segno") is not None and jump is None:
            signs.add("segno")
        if sound is not None:
            signs |= self._sounds(draft, sound, worded=bool(said) and tempo is None)
        if element.find("direction-type/coda") is not None and jump is None:
            self._coda_symbol(signs)
        self._late += [(place, sign, None) for sign in sorted(signs)]

    @staticmethod
    def _coda_symbol(signs: set[str]) -> None:
        if not signs & {"coda", "to_coda"}:
            signs.add("coda symbol")

    def _read_sound(self, draft: Draft, element: Element) -> None:
        place = self._cursor + self._quarters(element, "offset")
        signs = self._sounds(draft, element, worded=False)
        self._late += [(place, sign, None) for sign in sorted(signs)]

    def _sounds(self, draft: Draft, sound: Element, *, worded: bool) -> set[str]:
        tempo = number_of(sound.get("tempo"))
        # Slowing down is written as a row of tempi that nobody sees; they are no new tempo.
        if tempo is not None and tempo > 0 and draft.tempo is None:
            if worded or not self._any_tempo:
                draft.tempo = tempo
            self._any_tempo = True
        if sound.get("dacapo") == "yes" and draft.jump is None:
            draft.jump = "D.C."
        if sound.get("dalsegno") is not None and draft.jump is None:
            draft.jump = "D.S."
        if sound.get("forward-repeat") == "yes":
            draft.repeat_start = True
        found = {sign for sign in ("segno", "coda", "fine") if sound.get(sign) is not None}
        return found | ({"to_coda"} if sound.get("tocoda") is not None else set())

    def _sign(self, draft: Draft, sign: str, name: str | None) -> None:
        if sign == "name":
            draft.name = draft.name or name
        elif sign == "repeat":
            draft.repeat_start = True
        elif sign == "coda symbol":
            draft.coda_symbol = "start"
        else:
            draft.signs.add(sign)


_READ: Final = frozenset(
    {"attributes", "note", "backup", "forward", "harmony", "barline", "direction", "sound"}
)


def _moved(key: Key, interval: Interval) -> Key | None:
    try:
        return Key(key.tonic + interval, key.minor)
    except ConditionError:
        return None


def _transposition(element: Element) -> Interval:
    """The interval from what is written to what sounds."""
    semitones = whole_of(element.findtext("chromatic")) or 0
    octaves = whole_of(element.findtext("octave-change")) or 0
    steps = whole_of(element.findtext("diatonic"))
    if steps is None:
        whole, rest = divmod(abs(semitones), 12)
        steps = (7 * whole + _STEPS[rest]) * (1 if semitones >= 0 else -1)
    if max(abs(steps), abs(semitones), abs(octaves)) > 36:  # noqa: PLR2004 - no instrument transposes so far
        return Interval(0, 0)
    return Interval(steps + 7 * octaves, semitones + 12 * octaves)


def _meter(draft: Draft, element: Element) -> Meter | None:
    if element.find("senza-misura") is not None:
        draft.warnings.append("no metre is given; the one before holds")
        return None
    pairs = list(_pairs(element))
    unit = max((unit for _, unit in pairs), default=0)
    if all(unit % own == 0 for _, own in pairs):
        groups = tuple(count * (unit // own) for counts, own in pairs for count in counts)
        try:
            return Meter(sum(groups), unit, groups if len(groups) > 1 else ())
        except ConditionError:
            # Out of range, or no pairs at all: said below.
            pass
    draft.warnings.append("a metre that cannot be read is left out; the one before holds")
    return None


def _pairs(element: Element) -> Iterator[tuple[tuple[int, ...], int]]:
    for beats, unit in zip(element.findall("beats"), element.findall("beat-type"), strict=False):
        counts = re.fullmatch(r"\s*[0-9]{1,2}(\s*\+\s*[0-9]{1,2})*\s*", beats.text or "")
        below = whole_of(unit.text)
        if counts is not None and below is not None and below > 0:
            yield tuple(int(count) for count in counts[0].split("+")), below


def _metronome(element: Element) -> Fraction | None:
    """Quarters a minute, where a metronome mark says."""
    mark = element.find("direction-type/metronome")
    if mark is None:
        return None
    value = _NOTE_VALUES.get(text_of(mark, "beat-unit"))
    shown = re.search(r"[0-9]{1,4}(\.[0-9]{1,4})?", text_of(mark, "per-minute"))
    if value is None or shown is None or len(mark.findall("beat-unit")) != 1:
        return None
    dots = len(mark.findall("beat-unit-dot"))
    if dots > 2:  # noqa: PLR2004 - a double dot is the most that is written
        return None
    return value * (2 - Fraction(1, 2**dots)) * Fraction(shown[0])
