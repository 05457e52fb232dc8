"""A small score, made by hand: for examples, and to try an exporter with."""

from __future__ import annotations

from fractions import Fraction

from gripwright.meter import Meter
from gripwright.neck.instrument import Instrument
from gripwright.neck.voicing import Voicing
from gripwright.score.event import ChordEvent, ClickEvent
from gripwright.score.score import ChordChange, Chorus, Score, ScoreBar
from gripwright.theory.chord import Chord
from gripwright.tune.key import Key


def sample_score() -> Score:
    """Two bars on a guitar: a long Dm7, a short G7, clicks on all beats and a bar of count-in.

    Example:
        >>> [(event.chord.symbol, str(event.end)) for event in sample_score().events]
        [('Dm7', '4'), ('G7', '5')]
    """
    guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="sample")
    meter = Meter()
    bars = [
        ScoreBar(0, Fraction(-4), meter, Fraction(4), 0),
        ScoreBar(1, Fraction(0), meter, Fraction(4), 1),
        ScoreBar(2, Fraction(4), meter, Fraction(4), 1),
    ]
    minor, dominant = Chord.parse("Dm7"), Chord.parse("G7")
    grips = [
        Voicing(minor, guitar, (-1, 5, 7, 5, 6, -1)),
        Voicing(dominant, guitar, (3, -1, 3, 4, 3, -1)),
    ]
    one = Fraction(1)
    tempo = Fraction(60)
    return Score(
        instrument=guitar,
        bars=bars,
        choruses=[
            Chorus(0, Fraction(-4), Fraction(0), tempo),
            Chorus(1, Fraction(0), Fraction(8), tempo, key=Key.parse("C")),
        ],
        changes=[
            ChordChange(Fraction(0), Fraction(4), minor),
            ChordChange(Fraction(4), Fraction(8), dominant),
        ],
        events=[
            ChordEvent(Fraction(0), Fraction(4), grips[0], 1, one, 80),
            ChordEvent(Fraction(4), Fraction(5), grips[1], 2, one, 80, short=True),
        ],
        clicks=[
            ClickEvent(Fraction(beat), bar.number, 1 + Fraction(beat) - bar.onset, beat % 4 == 0)
            for bar in bars
            for beat in range(int(bar.onset), int(bar.end))
        ],
        title="Sample",
        rhythm="long, then short",
        click="all beats",
    )
