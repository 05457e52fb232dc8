"""Intervals: names, pairs of steps and semitones, and arithmetic against music21."""

from __future__ import annotations

from typing import Final

import attrs
import pytest
from music21.interval import Interval as Music21Interval
from music21.pitch import Pitch as Music21Pitch

from gripwright import Interval, Pitch
from gripwright.errors import NotationError
from tests.core.theory.strategies import ROOTS

# Common practice: the size in semitones of each named interval.
NAMED: Final = {
    "P1": (0, 0),
    "A1": (0, 1),
    "d2": (1, 0),
    "m2": (1, 1),
    "M2": (1, 2),
    "A2": (1, 3),
    "d3": (2, 2),
    "m3": (2, 3),
    "M3": (2, 4),
    "A3": (2, 5),
    "d4": (3, 4),
    "P4": (3, 5),
    "A4": (3, 6),
    "d5": (4, 6),
    "P5": (4, 7),
    "A5": (4, 8),
    "d6": (5, 7),
    "m6": (5, 8),
    "M6": (5, 9),
    "A6": (5, 10),
    "d7": (6, 9),
    "m7": (6, 10),
    "M7": (6, 11),
    "P8": (7, 12),
    "m9": (8, 13),
    "M9": (8, 14),
    "A9": (8, 15),
    "P11": (10, 17),
    "A11": (10, 18),
    "m13": (12, 20),
    "M13": (12, 21),
    "P15": (14, 24),
    "AA4": (3, 7),
    "dd5": (4, 5),
    "-m2": (-1, -1),
    "-M2": (-1, -2),
    "-P5": (-4, -7),
    "-A4": (-3, -6),
    "-P8": (-7, -12),
}

SPELLINGS: Final = tuple(
    letter + accidental for letter in "CDEFGAB" for accidental in ("", "#", "b", "##", "bb")
)


def music21_pitch(text: str, octave: int) -> Music21Pitch:
    """Build music21's pitch, which writes a flat as a hyphen."""
    return Music21Pitch(name=text[0] + text[1:].replace("b", "-"), octave=octave)


def ours_for(directed_name: str) -> str:
    """Write music21's directed name (m-2) as we do (-m2)."""
    return "-" + directed_name.replace("-", "") if "-" in directed_name else directed_name


@pytest.mark.parametrize("name", NAMED)
def test_a_name_is_a_pair_of_steps_and_semitones(name: str) -> None:
    """Each name of common practice reads to its pair, and the pair writes the name."""
    interval = Interval.parse(name)
    assert (interval.steps, interval.semitones) == NAMED[name]
    assert str(Interval(*NAMED[name])) == name


@pytest.mark.parametrize("name", [name for name in NAMED if not name.startswith("-")])
def test_named_intervals_agree_with_music21(name: str) -> None:
    """Steps and semitones of a name are music21's."""
    theirs = Music21Interval(name)
    ours = Interval.parse(name)
    assert (ours.steps, ours.semitones) == (theirs.generic.staffDistance, theirs.semitones)


@pytest.mark.parametrize(
    "text",
    ["", "P", "5", "P3", "M5", "m4", "M8", "x3", "P0", "M-2", "--M2", "MM3", "PP5", "Ad4", "m٣"],
)
def test_text_that_is_no_interval_is_refused(text: str) -> None:
    """A perfect third, a major fifth or a zeroth does not exist."""
    with pytest.raises(NotationError) as caught:
        Interval.parse(text)
    assert caught.value.text == text
    assert 0 <= caught.value.position <= len(text)


@pytest.mark.parametrize("start", ROOTS)
def test_differences_of_pitches_agree_with_music21(start: str) -> None:
    """The interval between two pitches of one accidental at most is music21's directed one.

    Past four signs off the scale music21 has no name, so double accidentals are not compared.
    """
    low, their_low = Pitch.parse(f"{start}4"), music21_pitch(start, 4)
    for end in ROOTS:
        for octave in (3, 4, 5):
            ours = Pitch.parse(f"{end}{octave}") - low
            theirs = Music21Interval(their_low, music21_pitch(end, octave))
            assert ours.semitones == theirs.semitones
            if ours.steps == 0 and ours.semitones < 0:
                # music21 calls C to Cb an ascending diminished unison; a unison has no side.
                continue
            assert ours.steps == theirs.generic.staffDistance
            assert str(ours) == ours_for(theirs.directedName)


@pytest.mark.parametrize("start", SPELLINGS)
def test_transposing_agrees_with_music21(start: str) -> None:
    """A pitch moved by an interval, up and down, has the spelling that music21 gives."""
    for name in ("m2", "M2", "m3", "M3", "P4", "A4", "d5", "P5", "m6", "M6", "m7", "M7", "M9"):
        up, down = Music21Interval(name), Music21Interval(name).reverse()
        ours = Pitch.parse(f"{start}4")
        theirs = music21_pitch(start, 4)
        expected = up.transposePitch(theirs, maxAccidental=None).nameWithOctave
        assert str(ours + Interval.parse(name)) == expected.replace("-", "b")
        expected = down.transposePitch(theirs, maxAccidental=None).nameWithOctave
        assert str(ours - Interval.parse(name)) == expected.replace("-", "b")


@pytest.mark.parametrize(
    ("first", "second", "total"),
    [("M3", "m3", "P5"), ("P5", "P4", "P8"), ("P8", "M2", "M9"), ("A4", "-A4", "P1")],
)
def test_intervals_add(first: str, second: str, total: str) -> None:
    """Intervals add as pairs: a major and a minor third make a perfect fifth."""
    assert Interval.parse(first) + Interval.parse(second) == Interval.parse(total)
    assert Interval.parse(total) - Interval.parse(second) == Interval.parse(first)
    assert -Interval.parse(first) == Interval.parse(total) - Interval.parse(total) - (
        Interval.parse(first)
    )


@pytest.mark.parametrize(
    "name", ["m2", "M2", "A2", "m3", "M3", "P4", "A4", "d5", "P5", "m6", "M6", "d7", "m7", "M7"]
)
def test_complement_is_the_inversion_within_the_octave(name: str) -> None:
    """A simple interval and its complement make an octave, and music21 names it alike."""
    interval = Interval.parse(name)
    assert interval + interval.complement == Interval.parse("P8")
    assert interval.complement.complement == interval
    assert str(interval.complement) == Music21Interval(name).complement.name


@pytest.mark.parametrize(("name", "complement"), [("M9", "m7"), ("M10", "m6"), ("P12", "P4")])
def test_complement_of_a_compound_interval_lies_within_the_octave(
    name: str, complement: str
) -> None:
    """A compound interval inverts as its simple form does, as in music21."""
    assert str(Interval.parse(name).complement) == complement
    assert Music21Interval(name).complement.name == complement


def test_an_interval_is_a_frozen_hashable_value() -> None:
    """Intervals of one sound and two names differ: the fourth augmented, the fifth diminished."""
    assert len({Interval(3, 6), Interval.parse("A4"), Interval.parse("d5")}) == 2
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        Interval(3, 6).steps = 4  # type: ignore[misc]


@pytest.mark.parametrize(
    ("text", "position", "expected"),
    [
        ("", 0, "a quality of P, M, m, A, d and a number, such as 'm3'"),
        ("x3", 0, "a quality of P, M, m, A, d and a number, such as 'm3'"),
        ("m3x", 2, "a quality of P, M, m, A, d and a number, such as 'm3'"),
        ("P3", 0, "P, A or d before 1, 4, 5 and 8; M, m, A or d before the others"),
        ("-M5", 1, "P, A or d before 1, 4, 5 and 8; M, m, A or d before the others"),
    ],
)
def test_a_refusal_says_what_was_read_where_and_what_could_stand(
    text: str, position: int, expected: str
) -> None:
    """The data of the error, which surfaces show."""
    with pytest.raises(NotationError) as caught:
        Interval.parse(text)
    error = caught.value
    assert (error.what, error.text, error.position) == ("interval", text, position)
    assert error.expected == expected
