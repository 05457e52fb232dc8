"""Tempo in beats and in clicks, steps by chorus, swing by curve, and clicks too far apart."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from gripwright import ConditionError, UnknownNameError
from tests.rhythm.drill.lines import drill

FOUR = "| C | F | G | C |"
LIMIT = "Rate Limits of Sensorimotor Synchronization"
"""The published source of the limit, about 1.8 s (2006)."""


def test_two_and_four_at_fifty_beats_are_two_seconds_and_four_tenths_apart() -> None:
    """Beyond the limit of about 1.8 s ("Rate Limits of Sensorimotor Synchronization", 2006)."""
    score = drill(FOUR, "1", "2 4", tempo_bpm=50)
    first, second = [click.onset for click in score.clicks if click.onset > 0][:2]
    assert score.seconds_at(second) - score.seconds_at(first) == Fraction(24, 10)
    assert len(score.notes) == 1
    assert "2.4 s" in score.notes[0]
    assert LIMIT in score.notes[0]
    assert score.click == "on 2 and 4; 50 beats a minute, 25 clicks a minute"


def test_two_and_four_at_fifty_clicks_are_a_hundred_beats() -> None:
    """The same number, twice as fast, and no note."""
    score = drill(FOUR, "1", "2 4", tempo_bpm=50, tempo_of="clicks")
    assert {chorus.tempo_bpm for chorus in score.choruses} == {100}
    assert score.notes == ()
    assert score.click == "on 2 and 4; 100 beats a minute, 50 clicks a minute"


@pytest.mark.parametrize(
    ("metre", "click", "clicks_bpm", "beats_bpm"),
    [
        *(("4/4", "all", 60, 60), ("4/4", "1", 30, 120), ("4/4", "4", 30, 120)),
        *(("4/4", "2.5 4.5", 50, 100), ("4/4", "every-other", 15, 120)),
        *(("4/4", "backbeat", 50, 100), ("3/4", "2", 40, 120), ("3/4", "backbeat", 40, 120)),
        *(("5/4", "1", 30, 150), ("6/8", "1", 40, 80), ("12/8", "2 4", 40, 80)),
        ("2/2", "all", 60, 60),
    ],
)
def test_clicks_a_minute_where_they_are_evenly_spaced(
    metre: str, click: str, clicks_bpm: int, beats_bpm: int
) -> None:
    """Beats between clicks times clicks a minute."""
    chart = f"metre: {metre}\n{FOUR}"
    score = drill(chart, "1", click, tempo_bpm=clicks_bpm, tempo_of="clicks", choruses=2)
    assert {chorus.tempo_bpm for chorus in score.choruses} == {beats_bpm}


@pytest.mark.parametrize(
    ("chart", "click", "swing"),
    [
        *((FOUR, "off", 1), (FOUR, "after-count-in", 1), (FOUR, "2-on-2-off", 1)),
        *((FOUR, "2 3", 1), (FOUR, "1 2.5", 1), ("| C | F | G |", "every-other", 1)),
        *(("metre: 5/4\n| C |", "backbeat", 1), ("| C | 2/4 F | G |", "1", 1)),
        # Even as written, uneven as they sound.
        (FOUR, "1 1.5 2 2.5 3 3.5 4 4.5", 2),
        (FOUR, "1 2.5 4", "drummers"),
    ],
)
def test_clicks_that_are_not_evenly_spaced_give_no_tempo(
    chart: str, click: str, swing: int | str
) -> None:
    """They are refused by name."""
    with pytest.raises(ConditionError, match=f"clicks {click} are not evenly spaced"):
        drill(chart, "1", click, tempo_bpm=60, tempo_of="clicks", swing=swing)


def test_clicks_on_every_half_beat_give_a_tempo_where_they_are_straight() -> None:
    """Two clicks a beat."""
    score = drill(FOUR, "1", "1 1.5 2 2.5 3 3.5 4 4.5", tempo_bpm=120, tempo_of="clicks")
    assert score.choruses[0].tempo_bpm == 60


@pytest.mark.parametrize(
    ("tempo", "noted"),
    [(66, True), (67, False), (200, False)],
)
def test_the_note_stands_where_the_gap_passes_the_limit(tempo: int, *, noted: bool) -> None:
    """Two beats at 66 and two thirds are 1.8 s."""
    notes = drill(FOUR, "1", "2 4", tempo_bpm=tempo).notes
    assert any(LIMIT in note for note in notes) is noted


def test_the_note_looks_at_the_slowest_chorus() -> None:
    """A drill that slows down passes the limit on its way."""
    assert drill(FOUR, "1", "2 4", tempo_bpm=70).notes == ()
    slower = drill(FOUR, "1", "2 4", tempo_bpm=70, tempo_step=-10, choruses=2)
    assert LIMIT in slower.notes[0]
    assert "2 s" in slower.notes[0]


def test_clicks_that_drop_out_are_apart_on_purpose() -> None:
    """No note where whole bars are silent because the drill says so."""
    assert drill(FOUR, "1", "2-on-2-off", tempo_bpm=60).notes == ()
    assert drill(FOUR, "1", "after-count-in", tempo_bpm=60).notes == ()


def test_each_chorus_is_a_step_faster() -> None:
    """The count-in has the tempo of the first; the clock adds them up."""
    score = drill("| C |", "1", tempo_bpm=60, tempo_step=Fraction(15, 2), choruses=3)
    assert [one.tempo_bpm for one in score.choruses] == [60, 60, Fraction(135, 2), 75]
    assert score.seconds_at(Fraction(0)) == 8
    assert score.seconds == 8 + 4 + 4 * Fraction(60) * 2 / 135 + 4 * Fraction(60, 75)


def test_every_tempo_is_exact() -> None:
    """No float comes out of a step that was one."""
    score = drill("| C |", "1", tempo_step=0.5, choruses=2)
    assert [type(one.tempo_bpm) for one in score.choruses] == [Fraction] * 3
    assert score.choruses[-1].tempo_bpm == Fraction(121, 2)


def test_the_clock_counts_the_pulses_of_the_metre() -> None:
    """Sixty dotted quarters a minute."""
    score = drill("metre: 6/8\n| C |", "1", tempo_bpm=60, count_in=0)
    assert score.seconds == 2


@pytest.mark.parametrize(
    ("settings", "ratios"),
    [
        ({"swing": 2}, [2]),
        ({"swing": "3/2"}, [Fraction(3, 2)]),
        # The derived curve of the drummers: 600/bpm - 1, here at its published points.
        ({"swing": "drummers", "tempo_bpm": 200}, [2]),
        ({"swing": "drummers", "tempo_bpm": 300}, [1]),
        ({"swing": "drummers", "tempo_bpm": 120}, [Fraction(7, 2)]),
        (
            {"swing": "comping", "tempo_bpm": 100, "tempo_step": 150, "choruses": 2},
            [2, Fraction(7, 5)],
        ),
    ],
)
def test_swing_follows_the_tempo_of_each_chorus(
    settings: dict[str, Any], ratios: list[Fraction]
) -> None:
    """By ratio and by curve."""
    score = drill("| C |", "1.5", **settings)
    assert [one.swing for one in score.choruses if one.number] == ratios
    for chorus, ratio in zip(score.choruses[1:], ratios, strict=True):
        event = next(one for one in score.events if one.onset >= chorus.onset)
        assert event.onset - chorus.onset == Fraction(ratio) / (ratio + 1)


def test_slow_drummers_are_said_to_be_unmeasured() -> None:
    """Below 120 beats a minute there is no published figure (Music Perception 19(3), 2002)."""
    assert "unmeasured below 120" in drill(FOUR, "1", tempo_bpm=100, swing="drummers").notes[0]
    assert drill(FOUR, "1", tempo_bpm=120, swing="drummers").notes == ()


@pytest.mark.parametrize(
    "settings",
    [
        *(
            {"tempo_bpm": value}
            for value in (9, 401, 0, -60, True, float("nan"), float("inf"), None)
        ),
        {"tempo_bpm": 4, "tempo_of": "clicks"},
        {"tempo_bpm": 201, "tempo_of": "clicks"},
        {"tempo_step": 171, "choruses": 3},
        {"tempo_step": -30, "choruses": 3},
        {"tempo_step": "fast"},
        *({"swing": value} for value in (Fraction(1, 2), 5, float("nan"), None)),
        *({"staccato": value} for value in (0, Fraction(3, 2), -1, "x", True)),
    ],
)
def test_a_number_out_of_range_is_refused(settings: dict[str, Any]) -> None:
    """By one error that names it, whatever was given."""
    with pytest.raises(ConditionError):
        drill(FOUR, "1", "2 4", **settings)


def test_a_step_out_of_range_is_named_with_its_chorus() -> None:
    """It is the step that is too wide, and not the tempo that was asked for."""
    with pytest.raises(ConditionError, match="chorus 3 would be at 0") as caught:
        drill(FOUR, "1", tempo_bpm=60, tempo_step=-30, choruses=4)
    assert caught.value.name == "tempo_step"


@pytest.mark.parametrize(
    ("tempo", "clicks"), [(5, "clicks"), (200, "clicks"), (10, "beats"), (400, "beats")]
)
def test_the_ends_of_the_range_are_in_it(tempo: int, clicks: str) -> None:
    """From 10 to 400 beats a minute."""
    score = drill(FOUR, "1", "2 4", tempo_bpm=tempo, tempo_of=clicks)
    assert score.choruses[0].tempo_bpm in {10, 400}


def test_an_unknown_way_to_count_names_the_known_ones() -> None:
    """Beats and clicks."""
    with pytest.raises(UnknownNameError, match="'bars'"):
        drill(FOUR, "1", tempo_of="bars")
