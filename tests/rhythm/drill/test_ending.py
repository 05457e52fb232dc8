"""The ending bar: the tonic, held, where the last chorus aims at it or it is asked for."""

from __future__ import annotations

import pytest

from tests.rhythm.drill.lines import drill, played


@pytest.mark.parametrize(
    ("chart", "tonic"),
    [
        # The key says; a minor tonic is minor. Its grip is the line's own where there is one.
        ("key: C\n| Dm7 | G7 |", "C6"),
        ("key: Cm\n| Dm7b5 | G7 |", "Cm6"),
        ("key: Bb\n| Bbmaj7 | F7 |", "Bbmaj7"),
        ("key: Am\n| Am7 | E7 |", "Am7"),
        ("key: F\n| C7 | Bb7 |", "F6"),
        # Without a key the last chord tells: one that leads home, or rests (common practice).
        ("| Dm7 | G7 |", "C6"),
        ("| C | Am | Dm | G |", "C"),
        ("| Cm7 | Fm7 | Dm7b5 | G7 |", "Cm7"),
        ("| Bm7b5 | Bdim7 |", "Bm6"),
        ("| Dm7 | G7 | Cmaj7 |", "Cmaj7"),
        ("| Cmaj7 | G7 |", "Cmaj7"),
        ("| C7 | F7 | C7 | G7 |", "C6"),
        ("| Am7 | Bm7b5 E7 |", "Am7"),
        ("| C | G7 | N.C. |", "C"),
    ],
)
@pytest.mark.parametrize("pattern", ["4.5>", "4.5>'", "1 4.5:0.25>"])
def test_the_last_anticipation_is_the_tonic_held_to_the_end(
    chart: str, tonic: str, pattern: str
) -> None:
    """Through the whole ending bar, be the others long or short."""
    score = drill(chart, pattern, choruses=2)
    last = score.events[-1]
    ending = score.bars[-1]
    assert (str(last.chord), last.push) == (tonic, True)
    assert ending.ending
    assert (last.onset, last.end) == (ending.onset - ending.meter.pulse / 2, ending.end)
    assert not any(bar.ending for bar in score.bars[:-1])


def test_an_approach_leads_to_the_tonic_on_its_first_beat() -> None:
    """The approach in the last bar, the tonic held for the ending bar."""
    assert played(drill("key: C\n| Dm7 | G7 |", "1 4(above)"))[-2:] == ["Db6 7-8*", "C6 8-12"]
    assert played(drill("key: C\n| Dm7 | G7 |", "4(below)'"))[-2:] == ["B6 7-8*", "C6 8-12"]


def test_earlier_choruses_aim_at_the_chorus_after() -> None:
    """The first chord again, and no ending bar between."""
    assert played(drill("| Dm7 | G7 |", "1 4(above)", choruses=2))[3:5] == ["Ebm7 7-8*", "Dm7 8-11"]
    assert played(drill("| Dm7 | G7 |", "4.5>", choruses=2))[2] == "Dm7 7.5-11.5>"


@pytest.mark.parametrize("pattern", ["1", "1'", "4.5", "1 2.5", "4", "2.5>"])
def test_where_nothing_aims_past_it_the_last_chorus_ends_with_the_form(pattern: str) -> None:
    """No ending bar, and nothing sounds past the last bar."""
    score = drill("| Dm7 | G7 |", pattern, choruses=2)
    assert score.end == 16
    assert not score.bars[-1].ending


def test_an_ending_that_is_asked_for_is_there() -> None:
    """On its first beat, whatever the rhythm."""
    assert played(drill("key: C\n| Dm7 | G7 |", "2'", ending=True))[-2:] == ["G7 5-6", "C6 8-12"]


def test_an_ending_that_is_declined_is_not() -> None:
    """What would aim at it is left out, and the chord before lasts to the end of the form."""
    chart = "| Dm7 | G7 |"
    assert played(drill(chart, "1 4(above)", ending=False))[-1] == "G7 4-8"
    assert played(drill(chart, "1 4.5>", ending=False))[-1] == "G7 4-8"


def test_a_hit_out_of_the_last_bar_aims_at_the_ending() -> None:
    """As an anticipation of the pattern does."""
    assert played(drill("key: C\n| C6 | G7 {1' 4.5>} |", "1"))[-1] == "C6 7.5-12>"


def test_the_ending_is_a_bar_of_the_tune() -> None:
    """Its metre, its number, its clicks; it belongs to the last chorus."""
    score = drill("metre: 3/4\nkey: G\n| Am7 | D7 |", "3.5>", "2", choruses=3)
    last = score.bars[-1]
    assert (last.number, last.chorus) == (7, 3)
    assert [last.onset, last.length] == [18, 3]
    assert score.choruses[-1].end == score.end == 21
    assert [click.onset for click in score.clicks if click.bar == 7] == [19]
    assert [score.changes[-1].onset, score.changes[-1].end] == [18, 21]
