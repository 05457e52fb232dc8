"""Where chords end: long, short, exact, ringing over, staccato."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gripwright import Chart, RhythmPattern, lead
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import GUITAR, drill, played

FOUR = "| Dm7 | G7 | Cmaj7 | A7 |"
HALVES = "| Dm7 G7 | Cmaj7 |"


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        # Long: until the next attack or change of chord, whichever is first.
        (HALVES, "1", ["Dm7 0-2", "G7 2-4", "Cmaj7 4-8"]),
        (HALVES, "2", ["Dm7 1-2", "G7 3-4", "Cmaj7 5-8"]),
        (HALVES, "1 4", ["Dm7 0-1", "Dm7 1-2", "G7 2-3", "G7 3-4", "Cmaj7 4-7", "Cmaj7 7-8"]),
        # A bar that repeats its chord is a change all the same; one that goes on is none.
        ("| C | % |", "2", ["C 1-4", "C 5-8"]),
        ("| C | / / / / |", "2", ["C 1-5", "C 5-8"]),
        # Short: on the next beat or attack, whichever is first.
        (HALVES, "1'", ["Dm7 0-1", "G7 2-3", "Cmaj7 4-5"]),
        (HALVES, "2.5'", ["Dm7 1.5-2", "G7 3.5-4", "Cmaj7 5.5-6"]),
        ("| C |", "1' 1.25 3.75'", ["C 0-0.25", "C 0.25-2.75", "C 2.75-3"]),
        ("| C G@1.5 |", "1'", ["C 0-0.5", "G 0.5-1"]),
        ("metre: 6/8\n| C |", "1'", ["C 0-1.5"]),
        ("metre: 6/8\n| C |", "4/3' 2'", ["C 0.5-1.5", "C 1.5-3"]),
        ("metre: 7/8\n| C |", "1'", ["C 0-0.5"]),
        # Exact: its beats, but never past the next attack or change.
        ("| C | G |", "1:1.5", ["C 0-1.5", "G 4-5.5"]),
        (HALVES, "2:3", ["Dm7 1-2", "G7 3-4", "Cmaj7 5-8"]),
        ("metre: 12/8\n| C |", "1:1.5 3", ["C 0-2.25", "C 3-6"]),
        # Ringing over: through changes until the next attack, an exact one for all its beats,
        # though never into N.C. or past the end.
        (HALVES, "2~", ["Dm7 1-3", "G7 3-5", "Cmaj7 5-8"]),
        (HALVES, "4:3~", ["Dm7 1-4", "G7 3-6", "Cmaj7 7-8"]),
        ("| C | N.C. | G |", "2~", ["C 1-4", "G 9-12"]),
        ("| C | N.C. | G |", "4:3~", ["C 3-4", "G 11-12"]),
    ],
)
def test_each_length_ends_where_the_definition_says(
    chart: str, pattern: str, expected: list[str]
) -> None:
    """Each mark of length over charts that end it in another way."""
    assert played(drill(chart, pattern)) == expected


def test_ring_over_holds_long_chords_alone() -> None:
    """The setting is that of every long attack, and of no short one."""
    assert played(drill(HALVES, "2 3.5'", ring_over=True)) == [
        *("Dm7 0.5-1", "Dm7 1-2.5", "G7 2.5-3", "G7 3-5"),
        *("Cmaj7 5-6.5", "Cmaj7 6.5-7"),
    ]
    assert played(drill("| C G | F | N.C. | C |", "2", ring_over=True)) == [
        *("C 1-3", "G 3-5", "F 5-8", "C 13-16"),
    ]


def test_staccato_is_a_part_of_short_chords_alone() -> None:
    """Half of a short one sounds, all of a long and an exact one."""
    score = drill(FOUR, "1' 2:0.5 3.5'", staccato=Fraction(1, 2))
    assert played(score)[:3] == ["Dm7 0-0.5", "Dm7 1-1.5", "Dm7 2.5-2.75"]
    assert [event.short for event in score.events[:3]] == [True, True, True]


def test_staccato_counts_what_sounds_with_swing() -> None:
    """With a triplet's swing an off-beat sounds a third of a beat; half of that is a sixth."""
    event = drill("| C |", "2.5'", swing=2, staccato=Fraction(1, 2)).events[0]
    assert (event.onset, event.length) == (Fraction(5, 3), Fraction(1, 6))


def test_short_says_what_is_cut_on_purpose() -> None:
    """A long chord never is; an exact one is where it ends by itself."""
    score = drill("| C | G |", "1 2:0.5 3:1 4'")
    assert [event.short for event in score.events[:4]] == [False, True, False, True]


def test_an_open_string_that_should_stop_is_told() -> None:
    """Lifting the hand stops no open string: common practice, and the note says so."""
    line = lead(Chart.parse("| Em |"), GUITAR, lowest_fret=0, highest_fret=2, candidates=5)
    assert any(0 in step.voicing.frets for step in line.steps)
    short = make_drill(line, RhythmPattern.parse("1'"))
    assert [note.startswith("An open string rings on") for note in short.notes] == [True]
    assert make_drill(line, RhythmPattern.parse("1")).notes == ()
    assert drill("| Em |", "1'").notes == ()
