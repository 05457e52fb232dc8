"""What sounds from which sample to which."""

from __future__ import annotations

from fractions import Fraction

import attrs

from gripwright.score.sample import sample_score
from gripwright_rhythm.export.wav.sounding import FORCES, Strum, soundings
from tests.rhythm.export.wav.played import TWELVE, score_of, struck, sung


def test_times_are_those_of_the_scores_clock() -> None:
    """Every string of each chord of the sample, after a count-in of four seconds."""
    found = [one for one in soundings(sample_score(), 100) if one.tone.kind == "chord"]
    assert [(one.onset, one.end) for one in found] == [(400, 800)] * 4 + [(800, 900)] * 4


def test_they_stand_by_onset() -> None:
    """Tracks are merged, and a spread does not break the order."""
    score = score_of(
        [struck(0, 2), struck(2, 4, stroke="up")],
        bass=[sung(0, 1, "C2"), sung(1, 2, "C2")],
        root=[sung(0, 4, "C2")],
    )
    starts = [one.onset for one in soundings(score, 1000, Strum(500))]
    assert starts == sorted(starts)
    assert len(starts) == 4 + 4 + 2 + 1


def test_a_course_sounds_all_its_strings() -> None:
    """Octave and unison mates at the fret of their course."""
    event = struck(0, 1, (3, -1, -1, -1, 2, -1), instrument=TWELVE)
    found = [(one.tone.midi, one.tone.double) for one in soundings(score_of([event]), 1000)]
    assert found == [(43, False), (55, True), (61, False), (61, True)]


def test_a_plucked_chord_is_not_spread() -> None:
    """Fingers pluck together."""
    found = soundings(score_of([struck(1, 2, stroke="pluck")]), 1000, Strum(100))
    assert {one.onset for one in found} == {1000}


def test_a_single_string_is_on_time_whatever_the_anchor() -> None:
    """There is nothing to spread."""
    event = struck(1, 2, (-1, -1, 3, -1, -1, -1))
    found = soundings(score_of([event]), 1000, Strum(100, "last"))
    assert [one.onset for one in found] == [1000]


def test_a_spread_leaves_half_of_a_short_chord_whole() -> None:
    """A stroke slower than the chord is made as fast as it must be."""
    found = soundings(score_of([struck(1, Fraction(11, 10))]), 1000, Strum(300))
    assert [one.onset for one in found] == [1000, 1016, 1033, 1050]


def test_a_spread_that_ends_on_the_onset_keeps_clear_of_the_chord_before() -> None:
    """No string comes before half of the time since it, nor before the score."""
    events = [struck(0, 1), struck(Fraction(1, 10), 1)]
    found = soundings(score_of(events), 1000, Strum(300, "last"))
    assert [one.onset for one in found] == [0, 0, 0, 0, 50, 66, 83, 100]


def test_an_event_shorter_than_a_sample_sounds_for_one() -> None:
    """Nothing is dropped, and nothing lasts for less than nothing."""
    found = soundings(score_of([struck(1, 1 + Fraction(1, 10**6))]), 1000)
    assert {one.end - one.onset for one in found} == {1}


def test_every_dynamic_has_a_colour() -> None:
    """The softest and the hardest are the first and the last of them."""
    forces = [
        soundings(score_of([struck(0, 1, dynamic=dynamic)]), 1000)[0].tone.force
        for dynamic in range(1, 128)
    ]
    assert forces == sorted(forces)
    assert set(forces) == set(range(FORCES))


def test_the_score_is_left_as_it_was() -> None:
    """Nothing is written back into it."""
    score = sample_score()
    soundings(score, 1000, Strum(50, "last"))
    assert score == attrs.evolve(score) == sample_score()
