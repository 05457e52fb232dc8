"""Forms: pickups, choruses, odd bars, repeats and jumps, numbers and sections of bars."""

from __future__ import annotations

import attrs
import pytest

from gripwright import Chart, RhythmPattern, Score
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import drill, line_of, played

PICKUP = "pickup: 1\n| G7 | C | F |"


def _bars(score: Score) -> list[tuple[int, str, str]]:
    return [(bar.number, str(bar.onset), str(bar.length)) for bar in score.bars]


def test_a_count_in_is_two_bars_before_the_form() -> None:
    """Numbered backwards from 0; they are a chorus 0 of the same tempo."""
    score = drill("| C | G |", "1")
    assert _bars(score)[:3] == [(-1, "-8", "4"), (0, "-4", "4"), (1, "0", "4")]
    assert [one.number for one in score.choruses] == [0, 1]
    assert [one.onset for one in score.choruses] == [-8, 0]
    assert [one.end for one in score.choruses] == [0, 8]


def test_a_pickup_is_played_in_the_last_bar_of_the_count_in() -> None:
    """Three beats are counted, the fourth is the pickup."""
    score = drill(PICKUP, "1")
    assert _bars(score) == [
        (-1, "-7", "4"),
        (0, "-3", "3"),
        (0, "0", "1"),
        (1, "1", "4"),
        (2, "5", "4"),
    ]
    assert [bar.lead_in for bar in score.bars] == [0, 0, 3, 0, 0]
    assert played(score) == ["G7 0-1", "C 1-5", "F 5-9"]
    assert [event.beat for event in score.events] == [4, 1, 1]


def test_a_pickup_without_a_count_in_is_no_bar_one() -> None:
    """Bar 1 is the first whole bar (common practice)."""
    score = drill(PICKUP, "1", count_in=0)
    assert [f"{bar.number}: {bar.length}" for bar in score.bars] == ["0: 1", "1: 4", "2: 4"]


def test_the_pickup_has_the_places_at_the_end_of_its_bar() -> None:
    """Beat 4 is its only beat, 4.5 the and of it."""
    assert played(drill(PICKUP, "4 4.5'"))[:2] == ["G7 0-0.5", "G7 0.5-1"]
    assert played(drill("pickup: 2\n| G7 | C |", "1 3.5"))[0] == "G7 0.5-2"
    assert played(drill("pickup: 3/2\n| G7 | C |", "4"))[0] == "G7 0.5-1.5"


def test_later_choruses_leave_the_pickup_out_where_the_last_bar_is_whole() -> None:
    """Else the tune would gain a beat each time."""
    score = drill(PICKUP, "1", choruses=3)
    assert [one.onset for one in score.choruses[1:]] == [0, 9, 17]
    assert played(score)[3:] == ["C 9-13", "F 13-17", "C 17-21", "F 21-25"]


def test_later_choruses_play_the_pickup_where_the_last_bar_makes_room() -> None:
    """A last bar of three beats and a pickup of one are a bar."""
    score = drill("pickup: 1\n| G7 | C | 3/4 F |", "1", choruses=2)
    assert played(score) == ["G7 0-1", "C 1-5", "F 5-8", "G7 8-9", "C 9-13", "F 13-16"]
    assert [bar.lead_in for bar in score.bars if bar.length == 1] == [3, 3]
    # Neither is counted: one completes the count-in, the other the bar of three beats.
    assert [bar.number for bar in score.bars] == [-1, 0, 0, 1, 2, 2, 3, 4]
    assert (score.events[3].bar, str(score.events[3].beat)) == (2, "4")


def test_the_last_bar_anticipates_what_the_next_chorus_starts_with() -> None:
    """The pickup chord where it is played again, else the chord after it."""
    assert played(drill("pickup: 1\n| G7 | C | 3/4 F |", "1 4.5>", choruses=2))[5] == "G7 7.5-8.5>"
    assert played(drill(PICKUP, "1 4.5>", choruses=2))[5] == "C 8.5-9>"


@pytest.mark.parametrize(
    ("chart", "chords"),
    [
        ("|: C | F :| G |", "C F C F G"),
        ("|: C |1. F :|2. G |", "C F C G"),
        ("|: C :| x3", "C C C"),
        ("|: C :| open", "C C"),
        ("| C | F Fine | G D.C. al Fine |", "C F G C F"),
        ("| C | Segno F To Coda | G D.S. al Coda |\n[Coda]\n| Am |", "C F G F Am"),
    ],
)
def test_repeats_and_jumps_are_played_out(chart: str, chords: str) -> None:
    """In every chorus."""
    found = [str(event.chord) for event in drill(chart, "1", choruses=2).events]
    assert found == chords.split() * 2


def test_bars_of_another_length_have_their_own() -> None:
    """2/4 and 3/4 in 4/4."""
    score = drill("| C | 2/4 F | 3/4 G | Am |", "1")
    assert [bar.onset for bar in score.bars[2:]] == [0, 4, 6, 9]
    assert [str(bar.meter) for bar in score.bars[2:]] == ["4/4", "2/4", "3/4", "4/4"]


def test_places_after_an_odd_bar_are_counted_from_its_barline() -> None:
    """The beat after a bar of 2/4 is a 1, and down."""
    events = drill("| C | 2/4 F | G |", "1 1.5").events
    assert [(str(event.beat), event.stroke) for event in events[4:]] == [
        ("1", "down"),
        ("3/2", "up"),
    ]


def test_sections_are_named_where_they_start_and_in_every_chorus() -> None:
    """The bar in the middle of one has no name."""
    score = drill("[A]\n| C | F |\n[B]\n| G |", "1", choruses=2, count_in=0)
    assert [bar.section for bar in score.bars] == ["A", None, "B"] * 2
    assert [bar.number for bar in score.bars] == [1, 2, 3, 4, 5, 6]
    assert [bar.chorus for bar in score.bars] == [1, 1, 1, 2, 2, 2]


def test_changes_are_those_of_the_chart_without_a_gap() -> None:
    """N.C. among them."""
    score = drill("| C N.C. | G |", "1", choruses=2)
    assert [one.onset for one in score.changes] == [0, 2, 4, 8, 10, 12]
    assert [one.end for one in score.changes] == [2, 4, 8, 10, 12, 16]
    assert [one.chord and str(one.chord) for one in score.changes[:3]] == ["C", None, "G"]


def test_a_line_without_a_chart_is_a_bar_a_chord() -> None:
    """Chords of four quarters each."""
    line = attrs.evolve(line_of(Chart.parse("| C | G |")), chart=None)
    assert played(make_drill(line, RhythmPattern.parse("2"))) == ["C 1-4", "G 5-8"]
