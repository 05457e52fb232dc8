"""Laws of tablature: what is seen is what sounds, on any score."""

from __future__ import annotations

import pickle
from fractions import Fraction
from itertools import pairwise

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ChordEvent, Chorus, ConditionError, Meter, Score, ScoreBar
from gripwright.laws.drawing import scores
from gripwright_rhythm.export.tablature import TextExporter
from tests.rhythm.export.scores import GRIPS, voicings
from tests.rhythm.few import few

WIDTH = 80


@st.composite
def phrases(draw: st.DrawFn) -> Score:
    """Return bars of one metre with chords and rests on a grid, each ending where one may."""
    meter = Meter.parse(draw(st.sampled_from(["4/4", "3/4", "6/8", "7/8", "2/2"])))
    grid = draw(st.sampled_from([1, 2, 3, 4])) * 4
    count = draw(st.integers(1, 9))
    steps = int(meter.length * count * grid / 4)
    grips = voicings(draw(st.sampled_from(sorted(GRIPS))))
    marks = sorted(draw(st.sets(st.integers(0, steps), min_size=2, max_size=12)))
    times = [Fraction(mark * 4, grid) for mark in marks]
    bars = [
        ScoreBar(index + 1, index * meter.length, meter, meter.length, 1) for index in range(count)
    ]
    end = bars[-1].end
    times = [min(time, end) for time in times]
    events = [
        ChordEvent(
            one, other, draw(st.sampled_from(grips)), int(one // meter.length) + 1, Fraction(1), 80
        )
        for one, other in pairwise(times)
        if one < other and draw(st.booleans())
    ]
    return Score(
        instrument=grips[0].instrument,
        bars=bars,
        choruses=[Chorus(1, Fraction(0), end, Fraction(60))],
        changes=[],
        events=events,
    )


def strings_of(text: str, score: Score) -> list[str]:
    """Return each string as one line through all bars, the bass side first, without bar lines."""
    names = [str(string.open) for string in score.instrument.strings]
    lines = [line for line in text.splitlines() if line[5:6] in {"|", ":"} and line[-1:] in "|:"]
    found = [""] * len(names)
    for place, line in enumerate(lines):
        string = len(names) - 1 - place % len(names)
        assert line[:5].strip() == names[string]
        found[string] += line[5:].replace("|", "").replace(":", "")
    return found


@few
@given(phrases())
def test_what_is_seen_is_what_sounds(score: Score) -> None:
    """Read column by column, each fret stands where its chord starts and lasts to its end."""
    text = TextExporter().export(score).decode("ascii")
    lines = strings_of(text, score)
    (columns,) = {len(line) for line in lines}
    per_quarter = columns / score.end
    assert per_quarter.denominator == 1
    for string, line in enumerate(lines):
        wanted = ["-"] * columns
        for event in score.events:
            start, end = int(event.onset * per_quarter), int(event.end * per_quarter)
            fret = event.voicing.frets[string]
            signs = "x" + "-" * (end - start - 1) if fret < 0 else f"{fret}".ljust(end - start, "=")
            wanted[start:end] = signs
        assert line == "".join(wanted)


@few
@given(scores())
def test_every_line_is_ascii_and_fits(score: Score) -> None:
    """Whatever the score, lines hold 80 columns; or the error says what does not fit."""
    try:
        data = TextExporter().export(score)
    except ConditionError as error:
        assert error.name == "attacks"
        return
    assert data.isascii()
    assert data.endswith(b"\n")
    lines = data.decode().split("\n")
    assert max(map(len, lines)) <= WIDTH
    assert all(line == line.rstrip() for line in lines)
    again = pickle.loads(pickle.dumps(score))
    assert TextExporter().export(again) == data


@pytest.mark.parametrize("choruses", [2, 50])
@few
@given(score=phrases())
def test_choruses_that_are_alike_are_drawn_once(score: Score, choruses: int) -> None:
    """However many there are, the page is the same but for a sentence."""
    length = score.end
    again = attrs.evolve(
        score,
        bars=[
            attrs.evolve(
                bar,
                number=bar.number + turn * len(score.bars),
                onset=bar.onset + turn * length,
                chorus=turn + 1,
            )
            for turn in range(choruses)
            for bar in score.bars
        ],
        choruses=[
            Chorus(turn + 1, turn * length, (turn + 1) * length, Fraction(60))
            for turn in range(choruses)
        ],
        events=[_later(event, turn * length) for turn in range(choruses) for event in score.events],
    )
    once = TextExporter().export(score).decode()
    more = TextExporter().export(again).decode()
    shared = [line for line in more.splitlines() if "as chorus 1." not in line]
    assert [line for line in once.splitlines() if line] == [line for line in shared if line]


def _later(event: ChordEvent, by: Fraction) -> ChordEvent:
    return attrs.evolve(event, onset=event.onset + by, end=event.end + by)
