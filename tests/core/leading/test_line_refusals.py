"""What cannot be led, and how it is said."""

import pickle
from typing import Any

import pytest

from gripwright import Chart, ConditionError, GripwrightError, Pitch, find_voicings
from gripwright.errors import NoCandidateError
from gripwright.leading import BANDS, lead
from tests.core.leading.tunes import GUITAR, chords, sung


def refused(symbols: str, **settings: Any) -> NoCandidateError:
    """Lead what has a chord without a voicing, and return what is said."""
    with pytest.raises(NoCandidateError) as caught:
        lead(chords(symbols), GUITAR, **settings)
    return caught.value


@pytest.mark.parametrize(
    ("symbols", "chord", "bar", "settings", "reason"),
    [
        (
            "C F7 Bb",
            "F7",
            2,
            {"strings": (6, 5), "min_notes": 2, "min_tones": 2, "root": "required"},
            "strings 6, 5",
        ),
        ("C F7", "C", 1, {"lowest_fret": 22, "no_open": True}, "no fret below 22"),
        (
            "C F7",
            "F7",
            2,
            {"top": [None, Pitch.parse("D4")]},
            "'D4 on top' there are",
        ),
        (
            "C F7",
            "C",
            1,
            {"melody": [sung("E2", 0, 4)]},
            "'the melody above' there",
        ),
        (
            "C F7",
            "F7",
            2,
            {"melody": [sung("E2", 5, 1)]},
            "'the melody above' there",
        ),
        (
            "Cmaj7 F7",
            "Cmaj7",
            1,
            {"band": BANDS["bass"], "strings": (6, 5, 4), "highest_fret": 4},
            "no note below C3",
        ),
    ],
)
def test_chord_bar_and_condition_are_named(
    symbols: str, chord: str, bar: int, settings: dict[str, Any], reason: str
) -> None:
    """The first chord that has none, its bar counted from 1, and what there is otherwise."""
    error = refused(symbols, **settings)
    assert (error.chord, error.bar) == (chord, bar)
    assert reason in error.reason
    assert str(error) == f"no voicing for {chord} in bar {bar}: {error.reason}"


def test_what_there_is_otherwise_is_counted() -> None:
    """As many as the same search without what is blamed has."""
    error = refused("F7", top=[Pitch.parse("D4")], max_notes=4)
    (f7,) = chords("F7")
    assert f"there are {len(find_voicings(f7, GUITAR, max_notes=4)):,}" in error.reason


def test_the_bar_is_the_one_that_is_played() -> None:
    """The second ending is bar 4 as written and bar 6 as played."""
    chart = Chart.parse("|: Dm7 | G7 |1. Em7 :|2. C |")
    with pytest.raises(NoCandidateError) as caught:
        lead(chart, GUITAR, min_tones=4)
    assert (caught.value.chord, caught.value.bar) == ("C", 6)


def test_the_refusal_can_be_pickled() -> None:
    """Data and message come back, so that it may cross processes."""
    error = refused("C", lowest_fret=22, no_open=True)
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is NoCandidateError
    assert (again.chord, again.bar, again.reason) == (error.chord, error.bar, error.reason)
    assert str(again) == str(error)


def test_the_refusal_is_ours_and_a_value_error() -> None:
    """As callers may catch it."""
    assert issubclass(NoCandidateError, GripwrightError)
    assert issubclass(NoCandidateError, ValueError)


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"candidates": 0}, "candidates"),
        ({"candidates": 5001}, "candidates"),
        ({"top": "up"}, "top"),
        ({"top": [None]}, "top"),
        ({"top": [None] * 3}, "top"),
        ({"first": find_voicings(chords("Am")[0], GUITAR)[0]}, "voicing"),
        ({"last": find_voicings(chords("Dm7")[0], GUITAR)[0]}, "voicing"),
        ({"highest_fret": -1}, "highest_fret"),
    ],
)
def test_values_outside_their_range_are_refused_by_name(
    settings: dict[str, Any], name: str
) -> None:
    """For two chords, Dm7 and G7."""
    with pytest.raises(ConditionError) as caught:
        lead(chords("Dm7 G7"), GUITAR, **settings)
    assert caught.value.name == name
