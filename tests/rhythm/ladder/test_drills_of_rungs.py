"""Rungs played over a chart: what sounds where."""

import pytest

from gripwright import Chart, Instrument, Line, Meter, Score, lead
from gripwright_rhythm.drill import make_drill
from gripwright_rhythm.ladder import rung, rungs_in

GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=15, scale_mm=648)


def line_of(text: str) -> Line:
    """A line of grips through a chart of our own."""
    return lead(Chart.parse(text), GUITAR)


FOUR = line_of("| Dm7 G7 | Cmaj7 |")
WHOLE_BARS = line_of("| Dm7 | Cmaj7 |")


def score_of(number: int, part: int = 1, line: Line = FOUR) -> Score:
    """The drill of a rung over a line."""
    drill = rung(number).part(part, Meter())
    return make_drill(line, drill.pattern, drill.click, ending=False)


def heard(score: Score) -> list[str]:
    """Chord, onset and end of each attack, in quarters."""
    return [f"{event.voicing.chord} {event.onset} to {event.end}" for event in score.events]


def test_beat_one_reads_as_the_first_beat_of_each_chord() -> None:
    """Rung 1 holds every chord to the next; rung 2 lets it go after a beat."""
    assert heard(score_of(1)) == ["Dm7 0 to 2", "G7 2 to 4", "Cmaj7 4 to 8"]
    assert heard(score_of(2)) == ["Dm7 0 to 1", "G7 2 to 3", "Cmaj7 4 to 5"]


def test_an_off_beat_of_four_is_the_chord_of_its_own_bar() -> None:
    """Rung 20 sounds the chord that is there, to the bar line."""
    found = heard(score_of(20, line=WHOLE_BARS))
    assert found == ["Dm7 7/2 to 4", "Cmaj7 15/2 to 8"]


def test_anticipations_bring_the_chord_in_early() -> None:
    """Rung 24 sounds the next bar's chord from 4.5; rung 25 that of beat 3 from 2.5."""
    assert heard(score_of(24, line=WHOLE_BARS)) == ["Dm7 -1/2 to 7/2", "Cmaj7 7/2 to 8"]
    assert "G7 3/2 to 7/2" in heard(score_of(25))


def test_approaches_take_the_last_beat() -> None:
    """Rung 7 sounds a chord a half step above the next one, from beat 4 to the change."""
    found = heard(score_of(7, line=WHOLE_BARS))
    assert found[0] == "Dm7 0 to 3"
    assert found[1] in {"C#maj7 3 to 4", "Dbmaj7 3 to 4"}


@pytest.mark.parametrize("meter", ["4/4", "3/4", "6/8"])
def test_every_drill_of_every_rung_can_be_played(meter: str) -> None:
    """Each makes a score whose clicks are its own; all but free comping sound a chord."""
    line = line_of(f"metre: {meter}\n| Dm7 | G7 | C6 |")
    for one in rungs_in(Meter.parse(meter)):
        for part in one.parts(Meter.parse(meter)):
            score = make_drill(line, part.pattern, part.click, count_in=0)
            assert bool(score.events) == (part.pattern is not None)
            assert score.clicks
