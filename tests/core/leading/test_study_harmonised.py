"""Melodies harmonised: the melody on top, the chords of the chart, the cheapest line below."""

from fractions import Fraction

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chart, Chord, ConditionError, Pitch
from gripwright.errors import NoCandidateError
from gripwright.leading import LineWeights, harmonised, lead, melody_tops
from tests.core.neck.reference import instrument

GUITAR = instrument("guitar")
CHART = Chart.parse("|: Dm7 | G7 Db7 :| N.C. | Cmaj7 / / A7 |")
TOPS = "F4 E4 Eb4 A4 B4 Ab4 D4 C#4"


@attrs.frozen
class Sung:
    """A note of a melody."""

    onset: Fraction
    length: Fraction
    pitch: Pitch


def pitches(text: str) -> list[Pitch]:
    """Return the pitches of a line."""
    return [Pitch.parse(name) for name in text.split()]


def test_the_melody_is_on_top_tensions_and_all() -> None:
    """Ninths and thirteenths are harmonised; chords and times are the chart's."""
    line = harmonised(CHART, GUITAR, pitches(TOPS), max_notes=4)
    spans = [span for span in CHART.unfolded().spans if span.symbol is not None]
    assert [pitch.midi for pitch in line.top_line] == [pitch.midi for pitch in pitches(TOPS)]
    assert [str(step.voicing.top_degree) for step in line.steps] == [
        *("b3", "13", "9", "5", "3", "5", "9", "3")
    ]
    assert [(step.chord, step.onset, step.length, step.bar) for step in line.steps] == [
        (span.symbol, span.onset, span.length, span.bar + 1) for span in spans
    ]
    assert all(step.voicing.chord == step.chord for step in line.steps)


@settings(max_examples=10)
@given(st.lists(st.sampled_from(["Dm7", "G7", "Cmaj7", "A7", "Fm6"]), min_size=2, max_size=5))
def test_its_own_top_line_gives_a_line_no_dearer(symbols: list[str]) -> None:
    """Harmonising the top line of the cheapest line finds the cheapest line's cost again."""
    chords = [Chord.parse(symbol) for symbol in symbols]
    asked = {"strings": (4, 3, 2, 1), "weights": LineWeights(top=0), "candidates": 5000}
    free = lead(chords, GUITAR, top="free", **asked)  # type: ignore[arg-type]
    assert harmonised(chords, GUITAR, free.top_line, **asked).cost == free.cost


def test_a_chord_takes_the_note_that_sounds_as_it_is_struck() -> None:
    """Or else the first one that comes while it lasts, or none; N.C. takes none."""
    chart = Chart.parse("| Dm7 G7 | N.C. | Cmaj7 | A7 |")
    melody = [
        Sung(Fraction(1), Fraction(1, 2), Pitch.parse("A4")),
        Sung(Fraction(3, 2), Fraction(2), Pitch.parse("F4")),
        Sung(Fraction(4), Fraction(4), Pitch.parse("C5")),
        Sung(Fraction(8), Fraction(4), Pitch.parse("G4")),
        Sung(Fraction(8), Fraction(4), Pitch.parse("E4")),
    ]
    tops = melody_tops(chart, reversed(melody))
    assert [str(top) for top in tops] == ["A4", "F4", "G4", "None"]


def test_a_note_out_of_reach_is_refused_with_the_bar_as_played() -> None:
    """The bar is the chart's, with N.C. and half bars counted."""
    tops: list[Pitch | None] = [None] * 7
    with pytest.raises(NoCandidateError, match="A7 in bar 6") as caught:
        harmonised(CHART, GUITAR, [*tops, Pitch.parse("C#2")])
    assert caught.value.bar == 6
    with pytest.raises(NoCandidateError, match="G7 in bar 2"):
        harmonised(CHART, GUITAR, [None, Pitch.parse("E4"), *tops[:6]], as_written=True)


def test_a_top_line_must_fit_the_chart() -> None:
    """One note a chord, and no other word on the top line."""
    with pytest.raises(ConditionError, match="one for each of 8 chords"):
        harmonised(CHART, GUITAR, [None])
    with pytest.raises(ConditionError, match="melody"):
        harmonised(CHART, GUITAR, [None] * 8, melody=[])
