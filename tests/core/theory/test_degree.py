"""Degrees: names of chord tones above a root, with the intervals they stand for."""

from __future__ import annotations

import pickle
from typing import Final

import pytest
from music21.interval import Interval as Music21Interval

from gripwright import Degree, Interval
from gripwright.errors import NotationError

# Degree: (number, alteration, steps, semitones, name of the interval), common practice.
DEGREES: Final = {
    "1": (1, 0, 0, 0, "P1"),
    "2": (2, 0, 1, 2, "M2"),
    "b3": (3, -1, 2, 3, "m3"),
    "3": (3, 0, 2, 4, "M3"),
    "4": (4, 0, 3, 5, "P4"),
    "b5": (5, -1, 4, 6, "d5"),
    "5": (5, 0, 4, 7, "P5"),
    "#5": (5, 1, 4, 8, "A5"),
    "6": (6, 0, 5, 9, "M6"),
    "bb7": (7, -2, 6, 9, "d7"),
    "b7": (7, -1, 6, 10, "m7"),
    "7": (7, 0, 6, 11, "M7"),
    "b9": (9, -1, 8, 13, "m9"),
    "9": (9, 0, 8, 14, "M9"),
    "#9": (9, 1, 8, 15, "A9"),
    "11": (11, 0, 10, 17, "P11"),
    "#11": (11, 1, 10, 18, "A11"),
    "b13": (13, -1, 12, 20, "m13"),
    "13": (13, 0, 12, 21, "M13"),
}


@pytest.mark.parametrize("text", DEGREES)
def test_a_degree_knows_its_number_alteration_and_interval(text: str) -> None:
    """Number and alteration are read from the name, steps and semitones from the major scale."""
    degree = Degree(text)
    number, alteration, steps, semitones, name = DEGREES[text]
    assert (degree.number, degree.alteration) == (number, alteration)
    assert (degree.steps, degree.semitones) == (steps, semitones)
    assert degree.interval == Interval.parse(name)


@pytest.mark.parametrize("text", DEGREES)
def test_the_interval_of_a_degree_agrees_with_music21(text: str) -> None:
    """The interval of a degree has the steps and semitones that music21 gives that interval."""
    degree = Degree(text)
    theirs = Music21Interval(str(degree.interval))
    assert degree.semitones == theirs.semitones
    assert degree.steps == theirs.generic.staffDistance


@pytest.mark.parametrize("text", DEGREES)
def test_a_degree_is_its_text(text: str) -> None:
    """A degree equals, hashes, writes and pickles as its text, and stays a degree."""
    degree = Degree(text)
    assert degree == text
    assert str(degree) == text
    assert {degree, text} == {text}
    again = pickle.loads(pickle.dumps(degree))
    assert again == degree
    assert type(again) is Degree
    assert again.interval == degree.interval


@pytest.mark.parametrize("text", ["", "b", "#", "0", "x3", "3b", "b#5", "-5", "٣", "²", "5 ", "m3"])
def test_text_that_is_no_degree_is_refused(text: str) -> None:
    """A degree is flats or sharps and then a number from one."""
    with pytest.raises(NotationError) as caught:
        Degree(text)
    assert caught.value.text == text
