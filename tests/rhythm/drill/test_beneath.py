"""Bass notes and roots beneath the chords, as tracks of their own."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gripwright import NoteEvent, RhythmPattern
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import decimal, drill, line_of

from gripwright import Chart  # isort: skip


def _notes(notes: tuple[NoteEvent, ...]) -> list[str]:
    return [f"{one.pitch} {decimal(one.onset)}-{decimal(one.end)}" for one in notes]


def test_neither_sounds_unless_asked_for() -> None:
    """The tracks are empty."""
    score = drill("| C |", "1")
    assert (score.bass, score.root) == ((), ())


@pytest.mark.parametrize(
    ("chart", "held", "pulsed"),
    [
        ("| C |", ["C2 0-4"], ["C2 0-1", "C2 1-2", "C2 2-3", "C2 3-4"]),
        ("| Dm7 N.C. |", ["D2 0-2"], ["D2 0-1", "D2 1-2"]),
        (
            "| C G@2.5 |",
            ["C2 0-1.5", "G2 1.5-4"],
            ["C2 0-1", "C2 1-1.5", "G2 1.5-2", "G2 2-3", "G2 3-4"],
        ),
        ("metre: 6/8\n| Am |", ["A2 0-3"], ["A2 0-1.5", "A2 1.5-3"]),
        # The root, not the bass, of a slash chord; a chord over two bars is held once.
        ("| C/E |", ["C2 0-4"], ["C2 0-1", "C2 1-2", "C2 2-3", "C2 3-4"]),
        ("metre: 2/4\n| F | / / |", ["F2 0-4"], ["F2 0-1", "F2 1-2", "F2 2-3", "F2 3-4"]),
        ("metre: 2/4\npickup: 1\n| G7 | C |", ["G2 0-1", "C2 1-3"], ["G2 0-1", "C2 1-2", "C2 2-3"]),
    ],
)
def test_the_root_is_held_or_pulsed_under_each_chord(
    chart: str, held: list[str], pulsed: list[str]
) -> None:
    """From where the chart has it, whatever the rhythm does."""
    assert _notes(drill(chart, "2'", root="held").root) == held
    assert _notes(drill(chart, "2'", root="pulsed").root) == pulsed


def test_a_root_goes_on_under_the_ending() -> None:
    """The tonic's."""
    assert _notes(drill("key: C\n| G7 |", "4.5>", root="held").root) == ["G2 0-4", "C2 4-8"]


@pytest.mark.parametrize(
    ("chart", "bass"),
    [
        # The root where a chord starts, its fifth halfway through a bar of even beats.
        ("| C |", ["C2 0-2", "G1 2-4"]),
        ("| Bm7b5 |", ["B1 0-2", "F1 2-4"]),
        ("| C G |", ["C2 0-2", "G1 2-4"]),
        ("metre: 3/4\n| C |", ["C2 0-3"]),
        ("| C / / G |", ["C2 0-3", "G1 3-4"]),
        # The bass of a slash chord is its bass.
        ("| C/E |", ["E1 0-2", "E1 2-4"]),
        ("| C N.C. |", ["C2 0-2"]),
    ],
)
def test_the_bass_is_the_chords_own(chart: str, bass: list[str]) -> None:
    """Within the range of a bass, from E1 up."""
    assert _notes(drill(chart, "2", bass=True).bass) == bass


def test_a_pattern_that_says_where_a_bass_plays_is_followed() -> None:
    """A bossa's bass, on 1 and 3 of both bars (common practice): the root, then the fifth."""
    pattern = RhythmPattern.parse("1 2.5 4 | 2 3.5", bass="1 2.5 3")
    score = make_drill(line_of(Chart.parse("| C | F |")), pattern, bass=True)
    assert _notes(score.bass) == [
        *("C2 0-1.5", "G1 1.5-2", "C2 2-4", "F1 4-5.5", "C2 5.5-6", "F1 6-8"),
    ]


def test_notes_beneath_swing_and_know_their_beat() -> None:
    """The and of one sounds late, and is 1.5 still."""
    pattern = RhythmPattern.parse("1", bass="1.5")
    score = make_drill(line_of(Chart.parse("| C |")), pattern, bass=True, swing=2)
    assert [(one.onset, one.beat, one.bar) for one in score.bass] == [
        (0, 1, 1),
        (Fraction(2, 3), Fraction(3, 2), 1),
    ]
