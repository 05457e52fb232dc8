"""Values in the field's own words."""

from fractions import Fraction

import pytest

from gripwright import (
    Chart,
    Chord,
    Hand,
    Instrument,
    InstrumentString,
    Interval,
    Meter,
    Pitch,
    RhythmPattern,
    Shape,
)
from gripwright.laws import case_in_words, in_words
from gripwright.score.sample import sample_score

SHORT = InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5)
LONG = InstrumentString(Pitch.parse("D3"), 680.0)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (Chord.parse("Dm7/G"), "Dm7/G"),
        (Interval.parse("m3"), "m3"),
        (Hand(fingers=3, reach_mm=90), "3 fingers, 90 mm"),
        (Meter.parse("3+2/4"), "3+2/4"),
        (Shape.parse("x-3-5"), "x-3-5"),
        (Fraction(3, 2), "3/2"),
        (True, "yes"),
        (-7, "-7"),
        (RhythmPattern.parse("1 2.5'"), '"1 2.5\'" in 4/4'),
        (
            Instrument("one", "one", (SHORT, LONG), 22),
            "G4 D3, 22 frets, 670 to 680 mm, string 2 from fret 5",
        ),
        (Chart.parse("| C | G7 |"), "'| C | G7 |'"),
        (object, "<class 'object'>"),
    ],
)
def test_values_are_written_as_one_would_write_them(value: object, words: str) -> None:
    """No field names, no nesting."""
    assert in_words(value) == words


def test_a_score_is_told_by_what_sounds() -> None:
    """Bars, tempo, chords with their shapes and times."""
    words = in_words(sample_score())
    assert "Dm7 x-5-7-5-6-x 0 to 4, G7 3-x-3-4-3-x 4 to 5" in words
    assert "tempo 60, 60" in words


def test_long_words_are_cut() -> None:
    """A counterexample fits on a screen."""
    chart = Chart.parse("|" + " C |" * 400)
    assert len(in_words(chart)) == 400
    assert in_words(chart).endswith("...")


def test_a_case_names_what_was_drawn() -> None:
    """Several values stand side by side."""
    assert case_in_words({"top_note": Pitch.parse("E4"), "seed": 3}) == "top note E4, seed 3"
