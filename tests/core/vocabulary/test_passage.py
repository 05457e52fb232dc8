"""A passage of a tune: a phrase whose line has the new grip in its place."""

import pytest

from gripwright import Chart, Chord, Instrument
from gripwright.leading import lead
from gripwright.vocabulary import Profile, passage_of
from tests.core.vocabulary.players import GUITAR, PLAYER, grip

TUNE = Chart.parse(
    "title: Rain\n| Gm7 | C7 | Fmaj7 | % | Em7b5 | A7b9 | Dm6 | % | Bbmaj7 | G7/B | C13 | % |"
)


@pytest.mark.parametrize(
    ("symbol", "shape", "bars"),
    [
        ("Cm7b5", "x-3-4-3-4-x", (5, 8)),
        ("C7", "x-3-5-3-5-x", (1, 4)),
        ("C13", "8-x-8-9-10-x", (9, 12)),
    ],
)
def test_the_grip_stands_at_its_chord(symbol: str, shape: str, bars: tuple[int, int]) -> None:
    """In the first phrase that has it, on the root that the tune has there."""
    passage = passage_of(TUNE, PLAYER, grip(symbol, shape))
    assert passage is not None
    assert (passage.first_bar, passage.last_bar) == bars
    assert passage.place is not None
    step = passage.line.steps[passage.place]
    assert step.voicing.degrees == grip(symbol, shape).degrees
    assert step.chord.quality == Chord.parse(symbol).quality
    assert "Rain, bars" in passage.sentence
    for one in passage.line.steps:
        assert one.bar == one.onset // 4 + 1
        assert one.voicing.chord == one.chord


def test_the_whole_line_is_the_cheapest_that_has_the_grip() -> None:
    """Its cost is that of the cheapest way to the grip and of the cheapest way on from it."""
    here = grip("C7", "x-3-5-3-5-x")
    around = {"lowest_fret": 1, "highest_fret": 8, "candidates": 60}
    chords = list(map(Chord.parse, ("Gm7", "C7", "Fmaj7", "Fmaj7")))
    passage = passage_of(TUNE, PLAYER, here)
    assert passage is not None
    before = lead(chords[:2], GUITAR, last=here, **around)  # type: ignore[arg-type]
    after = lead(chords[1:], GUITAR, first=here, **around)  # type: ignore[arg-type]
    assert passage.line.cost == before.cost + after.cost - after.steps[0].cost.total


def test_a_tension_on_top_stands_in_the_line() -> None:
    """The half-diminished grip with the 11 on top is used for the plain symbol."""
    eleven = grip("Cm7b5", "x-6-4-3-6-x")
    assert eleven.top_degree == "11"
    passage = passage_of(TUNE, PLAYER, eleven)
    assert passage is not None
    assert passage.place is not None
    step = passage.line.steps[passage.place]
    assert str(step.chord) == "Em7b5"
    assert [str(pitch) for pitch in step.voicing.pitches][-1] == "A4"


def test_a_grip_that_the_band_has_no_room_for_is_played_without_it() -> None:
    """A piano leaves three notes high up; the grip has four."""
    passage = passage_of(TUNE, Profile(GUITAR, band="piano"), grip("C7", "x-3-5-3-5-x"))
    assert passage is not None
    assert passage.place is not None


def test_a_tune_without_the_chord_is_played_all_the_same() -> None:
    """Its first phrase, and no place for the grip."""
    passage = passage_of(TUNE, PLAYER, grip("Cdim7", "x-3-4-2-4-x"))
    assert passage is not None
    assert passage.place is None
    assert passage.first_bar == 1
    assert passage_of(TUNE, PLAYER) == passage


def test_a_tune_without_chords_has_no_passage() -> None:
    """Silence is led nowhere."""
    assert passage_of(Chart.parse("| N.C. | % |"), PLAYER) is None


def test_a_chord_that_the_instrument_cannot_voice_leaves_the_tune_out() -> None:
    """It is not the plan that fails."""
    one = Profile(Instrument.from_text("E2 A2", frets=12))
    assert passage_of(Chart.parse("| C13 | F6/9 |"), one) is None
