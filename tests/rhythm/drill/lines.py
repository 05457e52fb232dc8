"""Lines that the tests of drills share: made by hand, one fretted grip for each chord."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

from gripwright import Chart, Chord, Line, RhythmPattern, Score, Voicing, find_voicings
from gripwright.leading import LineStep
from gripwright.leading.cost import StepCost
from gripwright.neck.ranking import teaching
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill
from tests.core.neck.reference import instrument

GUITAR = instrument("guitar")

_FREE = StepCost(0, 0, 0, 0)


@cache
def grip(chord: Chord) -> Voicing:
    """Return the first grip of a chord in the teaching order, of four notes and no open string."""
    table = find_voicings(chord, GUITAR, max_notes=4, no_open=True, highest_fret=12)
    return table.order_by(teaching)[0]


def line_of(chart: Chart[Chord]) -> Line:
    """Return the line that grips each chord of a chart in the same way wherever it stands."""
    steps = [
        LineStep(span.symbol, grip(span.symbol), span.onset, span.length, span.bar + 1, _FREE)
        for span in chart.unfolded().spans
        if span.symbol is not None
    ]
    return Line(tuple(steps), chart=chart)


def drill(chart: str, pattern: str | None, click: str = "all", **settings: Any) -> Score:
    """Return a drill over the text of a chart, its pattern in the chart's metre."""
    tune = Chart.parse(chart)
    rhythm = None if pattern is None else RhythmPattern.parse(pattern, tune.meter)
    return make_drill(line_of(tune), rhythm, Click.parse(click), **settings)


def played(score: Score) -> list[str]:
    """Return the chords of a score as words, each with its start and end in quarters.

    ``>`` marks a push and ``*`` an approach.
    """
    return [
        f"{event.chord} {decimal(event.onset)}-{decimal(event.end)}"
        + ">" * event.push
        + "*" * event.approach
        for event in score.events
    ]


def decimal(value: Fraction) -> str:
    """Return a number of quarters with a point where it is short, else as a fraction."""
    rounded = round(value, 2)
    return f"{float(value):g}" if rounded == value else str(value)
