"""Documents: a score as one MusicXML file, part after part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree.ElementTree import Element, indent, tostring

from gripwright import Score, ScoreBar
from gripwright.tune.musicxml_elements import HEAD, add_element
from gripwright_rhythm.export.musicxml.exporter import MusicXmlExporter
from gripwright_rhythm.export.musicxml.layout import Place, choruses_in, places_of
from gripwright_rhythm.export.musicxml.part import PartWriter
from gripwright_rhythm.export.musicxml.plan import PartPlan, plans_of
from gripwright_rhythm.export.musicxml.rhythm import RhythmWriter
from gripwright_rhythm.export.musicxml.sheet import sheet_of


def write_document(score: Score, settings: MusicXmlExporter) -> bytes:
    """Write a score as a MusicXML 4.0 partwise document in UTF-8.

    Args:
        score: The score.
        settings: What is shown, and how.

    Raises:
        ConditionError: What MusicXML cannot hold.
    """
    sheet = sheet_of(
        score, frames=settings.frames, count_in=settings.count_in, clicks=settings.clicks
    )
    bars = score.bars[sheet.first :]
    choruses = choruses_in(bars) if settings.repeats else [range(len(bars))]
    places = tuple(places_of(sheet.bars, choruses))
    numbers = tuple(_numbers(places, bars))
    plans = plans_of(score, settings.notation, clicks=settings.clicks)
    rhythms = RhythmWriter()
    texts = [HEAD, '<score-partwise version="4.0">\n', _header(score, plans)]
    for plan in plans:
        opening = tuple(_opening(sheet.first)) if plan.leads else ()
        texts.append(f'  <part id="{plan.id}">\n')
        texts += PartWriter(sheet, plan, rhythms, opening).measures(places, numbers)
        texts.append("  </part>\n")
    texts.append("</score-partwise>\n")
    return "".join(texts).encode()


def _header(score: Score, plans: Sequence[PartPlan]) -> str:
    root = Element("score-partwise")
    if score.title is not None:
        add_element(add_element(root, "work"), "work-title", score.title)
    identification = add_element(root, "identification")
    add_element(add_element(identification, "encoding"), "software", "Gripwright")
    texts = [("rhythm", score.rhythm), ("click", score.click)]
    texts += [("note", note) for note in score.notes]
    if any(text for _, text in texts):
        miscellaneous = add_element(identification, "miscellaneous")
        for name, text in texts:
            if text:
                add_element(miscellaneous, "miscellaneous-field", text, name=name)
    listed = add_element(root, "part-list")
    for plan in plans:
        part = add_element(listed, "score-part", id=plan.id)
        add_element(part, "part-name", plan.name)
        instrument = add_element(part, "score-instrument", id=f"{plan.id}-I1")
        add_element(instrument, "instrument-name", plan.name)
        add_element(instrument, "instrument-sound", plan.sound)
    indent(root)
    return "".join(f"  {tostring(child, encoding='unicode').rstrip()}\n" for child in root)


def _opening(left_out: int) -> Iterator[str]:
    """What is said over the first bar: how many bars of the count-in are left out."""
    if left_out:
        yield f"count-in: {left_out} bar{'s' if left_out > 1 else ''}"


def _numbers(places: Sequence[Place], bars: Sequence[ScoreBar]) -> Iterator[tuple[str, bool]]:
    """The number of each bar on paper, and whether it is one that does not count.

    Counting starts with the first full bar; bars of the count-in and pickups are marked with an X
    (MusicXML 4.0, measure number).
    """
    counted = uncounted = 0
    for place in places:
        bar = bars[place.index]
        if bar.chorus == 0 or bar.lead_in:
            uncounted += 1
            yield f"X{uncounted}", True
        else:
            counted += 1
            yield str(counted), False
