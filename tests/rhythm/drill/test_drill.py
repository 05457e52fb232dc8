"""Drills as a whole: refusals, keys by chorus, strokes, dynamics, beats, JSON."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import attrs
import pytest

from gripwright import Chart, Chord, ConditionError, Instrument, Interval, Line, RhythmPattern, lead
from gripwright.meter import Meter
from gripwright.score.document import score_document
from gripwright.score.document_reader import read_score
from gripwright.tune.transpose import transposed
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import GUITAR, drill, grip, line_of, played

BAR = "| Dm7 | G7 |"


@pytest.fixture(scope="module")
def led() -> Line:
    """Return a line that was led, with its own grips."""
    return lead(Chart.parse("| Dm7 G7 | Cmaj7 |"), GUITAR, max_notes=4, no_open=True, candidates=20)


def test_a_line_is_played_with_its_own_grips(led: Line) -> None:
    """Each event has the voicing of its step."""
    score = make_drill(led, RhythmPattern.parse("1"), choruses=2)
    assert [event.voicing for event in score.events] == [step.voicing for step in led.steps] * 2
    assert score.instrument == GUITAR


def test_a_chorus_may_have_a_line_of_its_own(led: Line) -> None:
    """They are played in turn."""
    other = lead(Chart.parse("| Dm7 G7 | Cmaj7 |"), GUITAR, max_notes=3, no_open=True, candidates=5)
    score = make_drill([led, other], RhythmPattern.parse("1"), choruses=3)
    found = [event.voicing for event in score.events]
    assert found == [step.voicing for line in (led, other, led) for step in line.steps]


def test_a_chorus_may_be_in_another_key() -> None:
    """The last bar anticipates the first chord of the new key; the ending is its tonic."""
    chart = Chart.parse("key: C\n| Cmaj7 | G7 |")
    lines = [line_of(transposed(chart, Interval.parse(by))) for by in ("P1", "P4", "m7")]
    score = make_drill(lines, RhythmPattern.parse("1 4.5>"), choruses=3)
    assert [str(one.key) for one in score.choruses] == ["C", "C", "F", "Bb"]
    assert played(score) == [
        *("Cmaj7 0-3.5", "G7 3.5-4>", "G7 4-7.5", "Fmaj7 7.5-8>"),
        *("Fmaj7 8-11.5", "C7 11.5-12>", "C7 12-15.5", "Bbmaj7 15.5-16>"),
        *("Bbmaj7 16-19.5", "F7 19.5-20>", "F7 20-23.5", "Bbmaj7 23.5-28>"),
    ]


def test_later_choruses_may_have_another_rhythm() -> None:
    """Where only a push of the same rhythm would sound its first chord, it is attacked."""
    later = RhythmPattern.parse("4.5>", name="later")
    pattern = attrs.evolve(RhythmPattern.parse("1'", name="first"), later=(later,))
    score = make_drill(line_of(Chart.parse("| C | F |")), pattern, choruses=3, ending=False)
    assert played(score) == [
        *("C 0-1", "F 4-5"),
        *("C 8-11.5", "F 11.5-15.5>", "C 15.5-19.5>"),
        "F 19.5-24>",
    ]


def test_strokes_go_down_on_beats_and_up_between() -> None:
    """Unless the pattern says, or the hand plucks."""
    attacks = drill("| C |", "1 2.5 3^ 4.5v 4p").events
    assert [event.stroke for event in attacks] == ["down", "up", "up", "pluck", "down"]
    plucked = drill("| C |", "1 2.5 3^", stroke="pluck").events
    assert [event.stroke for event in plucked] == ["pluck", "pluck", "up"]
    eighths = drill("metre: 6/8\n| C |", "1 4/3 5/3 2").events
    assert [event.stroke for event in eighths] == ["down", "up", "up", "down"]


def test_strokes_are_those_of_written_beats_with_swing() -> None:
    """An off-beat that sounds late is an up stroke still."""
    assert [event.stroke for event in drill("| C |", "1 1.5", swing=3).events] == ["down", "up"]


def test_accents_are_louder_and_no_louder_than_midi_has() -> None:
    """By the pattern's own dynamic."""
    line = line_of(Chart.parse("| C |"))
    usual = make_drill(line, RhythmPattern.parse("1 2!", dynamic=60)).events
    assert usual[0].dynamic == 60 < usual[1].dynamic
    assert [event.accent for event in usual] == [False, True]
    assert make_drill(line, RhythmPattern.parse("1!", dynamic=127)).events[0].dynamic == 127


def test_beats_are_those_written_with_swing() -> None:
    """2.5 is the and of two, wherever it sounds; so in the count-in and over the barline."""
    events = drill("| C | F |", "2.5 4.5>", swing=3, count_in=1).events
    assert [(event.bar, str(event.beat)) for event in events] == [
        *((1, "5/2"), (1, "9/2"), (2, "5/2"), (2, "9/2")),
    ]
    pushed = drill("| C | F |", "4.5>", swing=3, count_in=1).events[0]
    assert (pushed.bar, str(pushed.beat), pushed.onset) == (0, "9/2", Fraction(-1, 4))


def test_swing_moves_ends_with_onsets() -> None:
    """What ends on an off-beat ends where the off-beat sounds."""
    events = drill("| C |", "1 2.5", swing=2).events
    assert [(one.onset, one.end) for one in events] == [(0, Fraction(5, 3)), (Fraction(5, 3), 4)]


@pytest.mark.parametrize(
    ("chart", "pattern", "meter", "words"),
    [
        ("metre: 3/4\n| C |", "1", "4/4", "a pattern in 3/4, the metre of the tune, not in 4/4"),
        ("| C |", "1", "3/4", "not in 3/4"),
        ("metre: 6/8\n| C |", "1", "3/4", "not in 3/4"),
        ("metre: 2/2\n| C |", "1", "4/4", "not in 4/4"),
        ("metre: 3+2/4\n| C |", "1", "2+3/4", "not in 2+3/4"),
        ("| C | 6/8 F |", "1", "4/4", "the beats of 6/8, the metre of bar 2"),
    ],
)
def test_a_pattern_outside_its_metre_is_refused_by_name(
    chart: str, pattern: str, meter: str, words: str
) -> None:
    """The error says which pattern, and what the tune would take."""
    rhythm = RhythmPattern.parse(pattern, Meter.parse(meter), name="mine")
    with pytest.raises(ConditionError, match="'mine'") as caught:
        make_drill(line_of(Chart.parse(chart)), rhythm)
    assert words in str(caught.value)


def test_groups_that_one_side_leaves_open_are_no_other_metre() -> None:
    """5/4 takes a pattern in 3+2, and the other way round."""
    for tune, meter in (("5/4", "3+2/4"), ("3+2/4", "5/4")):
        rhythm = RhythmPattern.parse("1 4", Meter.parse(meter))
        chart = Chart.parse(f"metre: {tune}\n| C |")
        assert played(make_drill(line_of(chart), rhythm)) == ["C 0-3", "C 3-5"]


@pytest.mark.parametrize(
    ("metre", "click", "words"),
    [
        ("3/4", "2 4", "beats of 3/4, from 1 to below 4"),
        ("4/4", "5", "beats of 4/4, from 1 to below 5"),
        ("6/8", "3", "beats of 6/8, from 1 to below 3"),
        *(
            (metre, "backbeat", f"another click in {metre}")
            for metre in ("6/8", "2/4", "11/8", "1+3/4")
        ),
    ],
)
def test_a_click_outside_its_metre_is_refused_by_name(metre: str, click: str, words: str) -> None:
    """Before anything is played."""
    with pytest.raises(ConditionError, match=f"'{click}'") as caught:
        drill(f"metre: {metre}\n| C |", "1", click)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "settings",
    [
        *({"choruses": value} for value in (0, 101, -1, True, 1.0)),
        *({"count_in": value} for value in (-1, 9, True, 1.5)),
        {"stroke": "up"},
        {"root": "loud"},
        {"root": True},
    ],
)
def test_a_setting_out_of_range_is_refused(settings: dict[str, Any]) -> None:
    """It is named."""
    with pytest.raises(ConditionError, match=next(iter(settings))):
        drill(BAR, "1", **settings)


def test_lines_that_are_none_are_refused() -> None:
    """No line, no chord, other instruments, the chords of another chart."""
    pattern = RhythmPattern.parse("1")
    line = line_of(Chart.parse(BAR))
    with pytest.raises(ConditionError, match="one line or more"):
        make_drill([], pattern)
    with pytest.raises(ConditionError, match="one chord or more"):
        make_drill(attrs.evolve(line, steps=()), pattern)
    with pytest.raises(ConditionError, match="the chords of its chart"):
        make_drill(attrs.evolve(line, steps=line.steps[:1]), pattern)
    other = lead(Chart.parse("| C |"), Instrument.from_text("C4 E4 G4", id="three"))
    with pytest.raises(ConditionError, match="one instrument"):
        make_drill([line, other], pattern)


def test_what_is_played_and_clicked_is_said_in_words() -> None:
    """For a sheet's head."""
    pattern = RhythmPattern.parse("1 2.5", name="dotted", summary="The dotted cell.")
    score = make_drill(line_of(Chart.parse("title: Mine\n| C |")), pattern, Click.parse("2 4"))
    assert (score.title, score.rhythm) == ("Mine", "dotted: The dotted cell")
    assert score.click == "on 2 and 4; 60 beats a minute, 30 clicks a minute"


def test_equal_requests_give_equal_bytes() -> None:
    """Twice the same drill is the same document, which reads back as the same score."""
    settings: dict[str, Any] = {"swing": "drummers", "choruses": 2, "bass": True, "root": "held"}
    one = drill("[A]\nkey: Bb\n| Cm7 F7 | Bbmaj7 N.C. |", "1 2.5'! 4(above)", "2 4", **settings)
    other = drill("[A]\nkey: Bb\n| Cm7 F7 | Bbmaj7 N.C. |", "1 2.5'! 4(above)", "2 4", **settings)
    assert score_document(one) == score_document(other)
    assert read_score(score_document(one)) == one


def test_chords_that_the_player_places_have_their_grips() -> None:
    """Without a pattern nothing else says how they are gripped; with one the events do."""
    free = drill("| Dm7 | G7 N.C. |", None)
    assert [change.voicing for change in free.changes] == [
        grip(Chord.parse("Dm7")),
        grip(Chord.parse("G7")),
        None,
    ]
    assert {change.voicing for change in drill("| Dm7 | G7 |", "1").changes} == {None}
