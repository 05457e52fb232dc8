"""Requests that went wrong once, each with what is right."""

from typing import Any

import pytest

from gripwright import ConditionError, find_voicings
from gripwright.leading import BANDS, LineWeights, choruses, lead
from tests.core.leading.tunes import GUITAR, UKULELE, chords


@pytest.mark.parametrize("name", BANDS)
def test_a_chord_of_two_tones_can_be_led_in_every_band(name: str) -> None:
    """C5 has no third tone to ask for."""
    (step,) = lead(chords("C5"), GUITAR, band=BANDS[name]).steps
    assert step.voicing.degrees


def test_the_heaviest_weights_do_not_overflow() -> None:
    """Four voices to six: two enter, at a hundred semitones of a hundred each."""
    c7, f = chords("C7 F")
    ends = find_voicings(c7, GUITAR, max_notes=4)[0], find_voicings(f, GUITAR, min_notes=6)[0]
    spare = len(ends[1].midi) - len(ends[0].midi)
    heavy = LineWeights(motion=100, stranger=100, travel=0, top=0, ease=0)
    line = lead([c7, f], GUITAR, weights=heavy, first=ends[0], last=ends[1])
    assert line.cost >= 100 * 100 * 1000 * spare


def test_the_only_chord_is_both_first_and_last() -> None:
    """Asked for two grips, it cannot be both."""
    c7 = chords("C7")
    one, other = find_voicings(c7[0], GUITAR)[0:2]
    assert lead(c7, GUITAR, first=one, last=one).steps[0].voicing == one
    with pytest.raises(ConditionError):
        lead(c7, GUITAR, first=one, last=other)


def test_a_grip_of_another_instrument_is_refused() -> None:
    """It has other strings."""
    tune = chords("F C7")
    (grip, *_) = find_voicings(tune[0], UKULELE)
    with pytest.raises(ConditionError):
        lead(tune, GUITAR, first=grip)


def test_lines_of_another_instrument_surcharge_nothing() -> None:
    """None of their grips can be had."""
    tune = chords("F C7")
    used = [lead(tune, UKULELE, candidates=9)]
    assert lead(tune, GUITAR, candidates=9, used=used) == lead(tune, GUITAR, candidates=9)


@pytest.mark.parametrize("surcharge", [-1, float("nan"), float("inf"), 1e9])
def test_a_surcharge_that_is_no_price_is_refused(surcharge: float) -> None:
    """Below nothing, no number, or more than costs can hold."""
    tune = chords("F C7")
    used = [lead(tune, GUITAR, candidates=9)]
    with pytest.raises(ConditionError) as caught:
        lead(tune, GUITAR, candidates=9, used=used, surcharge=surcharge)
    assert caught.value.name == "surcharge"


@pytest.mark.parametrize("stranger", [1.5, "4", True])
def test_the_price_of_a_stranger_is_a_whole_number(stranger: Any) -> None:  # noqa: ANN401
    """As is said."""
    with pytest.raises(ConditionError) as caught:
        LineWeights(stranger=stranger)
    assert caught.value.name == "stranger"


@pytest.mark.parametrize("candidates", [2.5, "4", True, None])
def test_candidates_are_a_whole_number(candidates: Any) -> None:  # noqa: ANN401
    """Not a part of one, and no text."""
    with pytest.raises(ConditionError) as caught:
        lead(chords("C"), GUITAR, candidates=candidates)
    assert caught.value.name == "candidates"


def test_fewer_choruses_than_none_are_refused() -> None:
    """The docstring asks for one or more."""
    with pytest.raises(ConditionError):
        choruses(chords("C"), GUITAR, -1)


def test_choruses_may_start_from_used_lines() -> None:
    """A setting of lead as any other."""
    tune = chords("Dm7 G7")
    first, second = choruses(tune, GUITAR, 2, candidates=40)
    (again,) = choruses(tune, GUITAR, 1, candidates=40, used=[first])
    assert again == second
