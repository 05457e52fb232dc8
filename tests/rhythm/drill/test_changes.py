"""The chords of the chart in a score: where they stand, also with swing."""

from fractions import Fraction

from gripwright import Chart, RhythmPattern, lead, load_registry
from gripwright_rhythm import make_drill

GUITAR = load_registry().instruments["guitar"]


def test_changes_swing_with_the_chords() -> None:
    """A chord that comes in on the and of two swings, and so does its symbol."""
    line = lead(Chart.parse("| Dm7 G7@2.5 |"), GUITAR, max_notes=4, candidates=20)
    score = make_drill(line, RhythmPattern.parse("1"), swing=2)
    assert [change.onset for change in score.changes] == [0, Fraction(5, 3)]
    assert [event.onset for event in score.events] == [0, Fraction(5, 3)]
    assert [score.written(change.onset) for change in score.changes] == [0, Fraction(3, 2)]
