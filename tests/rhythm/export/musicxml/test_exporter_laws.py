"""Laws of the MusicXML exporter, over any score and over drills."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, get_args

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ChordEvent, Score
from gripwright.errors import ConditionError
from gripwright.laws.drawing import scores
from gripwright_rhythm.export.musicxml import MusicXmlExporter
from gripwright_rhythm.export.musicxml.notation import Notation
from tests.core.tune.test_leadsheet_writer import schema
from tests.rhythm.export.musicxml.reading import Head, Heard, heard, length_of, part_of, played
from tests.rhythm.export.scores import drill
from tests.rhythm.few import few

EXPORTERS = st.builds(
    MusicXmlExporter,
    frames=st.booleans(),
    repeats=st.booleans(),
    count_in=st.booleans(),
    clicks=st.booleans(),
)


def exported(exporter: MusicXmlExporter, score: Score) -> bytes | None:
    """The file, or None where MusicXML is known not to hold the score."""
    try:
        return exporter.export(score)
    except ConditionError as error:
        pulses = {bar.meter.pulse for bar in score.bars}
        swings = {chorus.swing for chorus in score.choruses} != {1}
        if error.name == "swing":
            assert swings
            assert pulses - {Fraction(1), Fraction(1, 2)}
        elif error.name == "onset":
            assert swings
        else:
            assert error.name == "divisions"
        return None


def expected(score: Score, event: ChordEvent, start: Fraction) -> Heard:
    """A chord as it must be read, its heads with strings and frets."""
    strings = [string for string, fret in enumerate(event.voicing.frets) if fret >= 0]
    heads = tuple(
        Head(midi, len(event.voicing.frets) - string, event.voicing.frets[string])
        for string, midi in zip(strings, event.voicing.midi, strict=True)
    )
    return Heard(
        score.written(event.onset) - start,
        score.written(event.end) - start,
        heads,
        f"{float(round(Fraction(100 * event.dynamic, 90), 2)):g}",
    )


def start_of(score: Score, data: bytes) -> Fraction:
    """Where the first measure of the file starts in the score."""
    part = part_of(data)
    divisions = int(part.findtext("measure/attributes/divisions", "0"))
    written = sum(length_of(measure) for measure in played(part))
    return score.end - Fraction(written, divisions)


def by_time(events: list[Heard]) -> list[Heard]:
    """Events in one order, also those that start and end together."""
    return sorted(events, key=lambda one: (one.onset, one.end, str(one)))


@few
@given(scores(), EXPORTERS)
def test_export_then_read_gives_the_chords_back(score: Score, exporter: MusicXmlExporter) -> None:
    """Onset, end, loudness, string and fret of every chord on the tablature, exactly."""
    data = exported(exporter, score)
    if data is not None:
        start = start_of(score, data)
        wanted = [expected(score, event, start) for event in score.events]
        found = [attrs.evolve(one, accent=False) for one in heard(part_of(data), staff=2)]
        assert by_time(found) == by_time(wanted)


@few
@given(scores(), EXPORTERS)
def test_notes_say_what_the_tablature_says(score: Score, exporter: MusicXmlExporter) -> None:
    """The same times and pitches on both staves; accents and dots stand on the notes."""
    data = exported(exporter, score)
    if data is not None:
        part = part_of(data)
        notes, strings = heard(part), heard(part, staff=2)
        assert [(one.onset, one.end) for one in notes] == [(one.onset, one.end) for one in strings]
        assert sum(one.accent for one in notes) == sum(event.accent for event in score.events)
        assert sum(one.staccato for one in notes) == sum(event.short for event in score.events)


@few
@given(scores())
def test_single_notes_and_clicks_are_parts(score: Score) -> None:
    """Bass and clicks are read back where they are; there is no part for what there is none of."""
    data = exported(MusicXmlExporter(count_in=True), score)
    if data is not None:
        names = [name for name in ("bass", "root", "clicks") if getattr(score, name)]
        for number, name in enumerate(names, start=2):
            found = heard(part_of(data, f"P{number}"))
            events = getattr(score, name)
            assert [one.onset + score.start for one in found] == [
                score.written(event.onset) for event in events
            ]
            if name != "clicks":
                assert sorted(one.end + score.start for one in found) == sorted(
                    score.written(event.end) for event in events
                )
        assert data.count(b"<score-part id") == 1 + len(names)


@few
@given(scores(), EXPORTERS)
def test_every_voice_fills_its_bar(score: Score, exporter: MusicXmlExporter) -> None:
    """The durations of each voice add up to the bar's length, in every part."""
    data = exported(exporter, score)
    if data is None:
        return
    lengths = [bar.length for bar in score.bars]
    for number in range(1, 1 + data.count(b"<score-part id")):
        part = part_of(data, f"P{number}")
        divisions = int(part.findtext("measure/attributes/divisions", "0"))
        measures = played(part)
        for measure, length in zip(measures, lengths[-len(measures) :], strict=True):
            voices: dict[str, int] = {}
            for note in measure.findall("note"):
                if note.find("chord") is None:
                    voice = note.findtext("voice", "")
                    duration = int(note.findtext("duration", "0"))
                    voices[voice] = voices.get(voice, 0) + duration
            assert {Fraction(total, divisions) for total in voices.values()} == {length}


@few
@given(scores(), EXPORTERS, st.sampled_from(get_args(Notation)))
def test_every_file_is_valid(score: Score, exporter: MusicXmlExporter, notation: Notation) -> None:
    """W3C MusicXML 4.0."""
    data = exported(attrs.evolve(exporter, notation=notation), score)
    if data is not None:
        schema().validate(data.decode())


@few
@given(scores())
def test_equal_scores_give_equal_bytes(score: Score) -> None:
    """A score rebuilt from its parts is written alike, and is left as it was."""
    again = attrs.evolve(score, events=[attrs.evolve(event) for event in score.events])
    assert exported(MusicXmlExporter(), score) == exported(MusicXmlExporter(), again)
    assert again == score


PATTERNS = ["1 2.5'", "2 4.5>", "1' 3!", "2 4", "1 4'(above)", "1:1/3 2:2/3", "3:3~ 4", "4.5>"]


@few
@given(
    st.sampled_from(PATTERNS),
    st.sampled_from(["all", "2 4", "every-other", "off"]),
    st.fixed_dictionaries(
        {
            "choruses": st.integers(1, 4),
            "swing": st.sampled_from([Fraction(1), Fraction(2), Fraction(3, 2)]),
            "staccato": st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(7, 10)]),
            "count_in": st.integers(0, 2),
            "bass": st.booleans(),
        }
    ),
)
def test_repeats_unfold_to_the_drill(pattern: str, click: str, chosen: dict[str, Any]) -> None:
    """Choruses that are written once are read as often as they are played."""
    score = drill("| Dm7 G7 | Cmaj7 | Fmaj7@2 Bm7b5@4 | E7 |", pattern, click, **chosen)
    data = MusicXmlExporter().export(score)
    start = start_of(score, data)
    wanted = [expected(score, event, start) for event in score.events]
    found = [attrs.evolve(one, accent=False) for one in heard(part_of(data), staff=2)]
    assert by_time(found) == by_time(wanted)
    plain = MusicXmlExporter(repeats=False).export(score)
    assert heard(part_of(plain)) == heard(part_of(data))
    assert len(data) <= len(plain)


def test_the_laws_can_fail() -> None:
    """The reader notices a note that lasts too long."""
    data = MusicXmlExporter().export(drill("| C |", "1:1 2", "off", count_in=0))
    longer = data.replace(b"<duration>1<", b"<duration>2<", 1)
    assert heard(part_of(longer)) != heard(part_of(data))
    with pytest.raises(KeyError):
        heard(part_of(data.replace(b'<tie type="start" />', b"")))
