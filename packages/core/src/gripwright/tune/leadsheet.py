"""Lead sheets: MusicXML of any notation program, read as a chart with its melody."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final
from xml.etree.ElementTree import Element

import attrs

from gripwright.errors import LeadSheetError
from gripwright.theory.chord import Chord
from gripwright.theory.pitch import Pitch
from gripwright.tune.chart import OPEN_TIMES, Chart
from gripwright.tune.leadsheet_elements import text_of
from gripwright.tune.leadsheet_form import form_of
from gripwright.tune.leadsheet_melody import MelodyNote, melody_of
from gripwright.tune.leadsheet_part import Draft, PartReader
from gripwright.tune.leadsheet_source import open_source
from gripwright.tune.leadsheet_words import name_in
from gripwright.tune.unfold import MOST_BARS


@attrs.frozen
class PlayedNote:
    """A note of the melody as it is played.

    Args:
        pitch: The pitch as it sounds.
        onset: Quarters from the start of the form.
        duration: Quarters that it lasts.
        bar: The index of the played bar in which it starts.

    Example:
        >>> note = PlayedNote(Pitch.parse("E4"), onset=Fraction(4), duration=Fraction(1), bar=1)
        >>> print(note.pitch, note.onset)
        E4 4
    """

    pitch: Pitch
    onset: Fraction
    duration: Fraction
    bar: int


@attrs.frozen
class LeadSheet:
    """A tune as a notation program wrote it.

    Args:
        chart: Its chords and form.
        melody: Its melody as written, which may have no note.
        warnings: What was guessed or left out, a sentence each, with its bar: counted from 1 in
            the order written, a pickup included.

    Example:
        >>> sheet = LeadSheet(Chart.parse("| Dm7 | G7 |"))
        >>> len(sheet.chart.written), sheet.melody, sheet.warnings
        (2, (), ())
    """

    chart: Chart[Chord]
    melody: tuple[MelodyNote, ...] = ()
    warnings: tuple[str, ...] = ()

    def played_melody(self, *, open_times: int = OPEN_TIMES) -> tuple[PlayedNote, ...]:
        """The melody in the order in which it is played, as `Chart.unfolded` goes.

        Args:
            open_times: How often an open vamp is played, 1 to 99.

        Raises:
            ConditionError: `open_times` is out of range, or the form has more than 10,000 bars.
        """
        by_bar: dict[int, list[MelodyNote]] = {}
        for note in self.melody:
            by_bar.setdefault(note.bar, []).append(note)
        return tuple(
            PlayedNote(note.pitch, bar.onset + note.onset, note.duration, index)
            for index, bar in enumerate(self.chart.unfolded(open_times=open_times).bars)
            for note in by_bar.get(bar.index, ())
        )


def read_leadsheet(data: bytes, *, name: str | None = None) -> LeadSheet:
    """Read a lead sheet.

    MusicXML, partwise or timewise, plain or compressed (``.musicxml``, ``.xml``, ``.mxl``), of
    any version to 4.0. Chords come from the first part that has some, the melody from the same
    part or else the first with notes; both are at concert pitch. Signs of the first part hold for
    all. Where signs stand in a bar does not matter: segno and coda lead to its start, all others
    act at its end.

    Chords mean what the trade's symbols do: the kind ``dominant-13th`` is 13, without the 11 that
    the schema stacks below it. Kinds outside the schema are read as chord symbols, and signs
    that lead nowhere are left out; each is a warning.

    Args:
        data: The file, of at most 8,000,000 bytes, the same unpacked, 400,000 elements and 10,000
            bars. Nothing that it refers to is fetched.
        name: What to call it in errors, such as its file name.

    Returns:
        The chart, the melody and the warnings.

    Raises:
        LeadSheetError: The file is too large, broken, hostile, no MusicXML, or has no chord.

    Example:
        >>> from gripwright import Chart
        >>> from gripwright.tune.leadsheet_writer import write_leadsheet
        >>> sheet = read_leadsheet(write_leadsheet(Chart.parse("|: Dm7 | G7 :|")))
        >>> print(sheet.chart)
        metre: 4/4
        |: Dm7 | G7 :|
    """
    root, warnings = open_source(data, name=name)
    parts = _parts(root)
    chorded = next((part for part in parts if any(_has(m, "harmony") for m in part)), None)
    if chorded is None:
        raise LeadSheetError(name=name, reason="it has no chord symbols")
    if len(chorded) > MOST_BARS:
        raise LeadSheetError(name=name, reason=f"it has more than {MOST_BARS:,} bars")
    drafts = PartReader(chorded).read()
    sung = drafts
    first = drafts if chorded is parts[0] else PartReader(parts[0][:MOST_BARS]).read()
    if first is not drafts:
        _merge_signs(drafts, first)
    if not any(draft.notes for draft in drafts):
        for part in parts:
            if part is not chorded and any(_has(measure, "note/pitch") for measure in part):
                sung = first if part is parts[0] else PartReader(part[: len(drafts)]).read()
                break
    form = form_of(drafts, name=name)
    chart = Chart(form.sections, form.settings, _title(root), form.pickup)
    starts = _starts(chart)
    notes = [note for draft in sung[: len(starts)] for note in draft.notes]
    return LeadSheet(chart, melody_of(notes, starts), (*warnings, *form.warnings))


def _has(measure: Element, path: str) -> bool:
    return measure.find(path) is not None


def _parts(root: Element) -> list[list[Element]]:
    """The measures of each part that has some."""
    if root.tag == "score-partwise":
        parts = [part.findall("measure") for part in root.findall("part")]
        return [part for part in parts if part]
    by_part: dict[str, list[Element]] = {}
    for measure in root.findall("measure"):
        for part in measure.findall("part"):
            # Timewise, the measure holds the parts; each of them becomes a measure of its own.
            part.attrib = {**measure.attrib, "id": part.get("id", "")}
            by_part.setdefault(part.get("id", ""), []).append(part)
    return list(by_part.values())


_MERGED: Final = ("name", "feel", "tempo", "jump", "repeat_end")


def _merge_signs(drafts: Sequence[Draft], others: Sequence[Draft]) -> None:
    """Take over the signs of another part, which hold for the whole score."""
    for draft, other in zip(drafts, others, strict=False):
        for field in _MERGED:
            if getattr(draft, field) is None:
                setattr(draft, field, getattr(other, field))
        draft.signs |= other.signs
        draft.coda_symbol = draft.coda_symbol or other.coda_symbol
        draft.repeat_start |= other.repeat_start
        draft.ending_stops |= other.ending_stops
        draft.endings = draft.endings or other.endings


def _title(root: Element) -> str | None:
    return name_in(text_of(root, "work/work-title")) or name_in(text_of(root, "movement-title"))


def _starts(chart: Chart[Chord]) -> list[Fraction]:
    starts, end = [], Fraction(0)
    for written in chart.written:
        starts.append(end)
        end += written.length
    return starts
