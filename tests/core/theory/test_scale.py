"""Scales, and which of them a chord takes.

The scale of each chord is common practice.
"""

import pytest

from gripwright.theory import QUALITIES, Chord, Quality
from gripwright.theory.scale import Scale, scale_degrees, scales, usual_scale

PITCHES = {scale.name: scale.tones for scale in scales()}

BY_CHORD = {
    "maj7": {"ionian"},
    "maj7#11": {"lydian"},
    "m7": {"dorian"},
    "m9": {"dorian"},
    "7": {"mixolydian"},
    "9": {"mixolydian"},
    "13": {"mixolydian"},
    "7b9": {"phrygian dominant", "half-whole diminished"},
    "7alt": {"altered"},
    "7#11": {"lydian dominant"},
    "13b9": {"half-whole diminished"},
    "dim7": {"whole-half diminished"},
    "9#5": {"whole-tone"},
    "m7b5": {"locrian", "locrian natural 2"},
    "m(maj7)": {"melodic minor"},
    "m6": {"melodic minor"},
    "maj7#5": {"lydian augmented"},
    "7sus4": {"mixolydian"},
    "9sus4": {"mixolydian"},
    "7sus4b9": {"phrygian", "dorian b2"},
}
"""For each quality the scales that the trade plays on it."""


@pytest.mark.parametrize(("quality", "names"), BY_CHORD.items())
def test_chords_take_the_scales_that_the_trade_plays_on_them(quality: str, names: set[str]) -> None:
    """The usual scale of a quality is one of the trade's."""
    scale = usual_scale(Chord.parse(f"C{quality}").quality)
    assert scale is not None
    assert scale.name in names


@pytest.mark.parametrize(
    ("name", "tones"),
    [
        ("ionian", {0, 2, 4, 5, 7, 9, 11}),
        ("dorian", {0, 2, 3, 5, 7, 9, 10}),
        ("phrygian", {0, 1, 3, 5, 7, 8, 10}),
        ("lydian", {0, 2, 4, 6, 7, 9, 11}),
        ("mixolydian", {0, 2, 4, 5, 7, 9, 10}),
        ("aeolian", {0, 2, 3, 5, 7, 8, 10}),
        ("locrian", {0, 1, 3, 5, 6, 8, 10}),
    ],
)
def test_modes_are_rotations_of_the_major_scale(name: str, tones: set[int]) -> None:
    """Each mode is the major scale begun on another of its tones."""
    major = [0, 2, 4, 5, 7, 9, 11]
    assert PITCHES[name] == tones
    assert tones in [{(tone - start) % 12 for tone in major} for start in major]


@pytest.mark.parametrize(
    ("name", "parent"),
    [
        ("dorian b2", "melodic minor"),
        ("lydian augmented", "melodic minor"),
        ("lydian dominant", "melodic minor"),
        ("locrian natural 2", "melodic minor"),
        ("altered", "melodic minor"),
        ("half-whole diminished", "whole-half diminished"),
    ],
)
def test_modes_of_other_scales_are_rotations_of_them(name: str, parent: str) -> None:
    """The modes of melodic minor, and the two readings of the diminished scale."""
    tones = PITCHES[parent]
    assert PITCHES[name] in [{(tone - start) % 12 for tone in tones} for start in tones]


def test_symmetric_scales_repeat() -> None:
    """Whole-tone at each tone, diminished at each minor third."""
    assert PITCHES["whole-tone"] == {0, 2, 4, 6, 8, 10}
    diminished = PITCHES["half-whole diminished"]
    assert {(tone + 3) % 12 for tone in diminished} == diminished


def test_scales_rise_within_an_octave() -> None:
    """Each starts on the tonic and climbs, and no two have the same tones."""
    for scale in scales():
        heights = [degree.semitones for degree in scale.degrees]
        assert heights == sorted(set(heights))
        assert heights[0] == 0
        assert heights[-1] < 12
    assert len({scale.tones for scale in scales()}) == len(scales())


@pytest.mark.parametrize("quality", QUALITIES)
def test_the_usual_scale_holds_the_chord(quality: str) -> None:
    """Every tone of the chord is in it, under the chord's own name."""
    chord = QUALITIES[quality]
    degrees = scale_degrees(chord)
    tones = [degree.semitones % 12 for degree in degrees]
    assert tones == sorted(set(tones))
    assert {degree.semitones % 12 for degree in chord.degrees} <= set(tones)
    for degree in degrees:
        own = [other for other in chord.degrees if (other.semitones - degree.semitones) % 12 == 0]
        assert degree == own[0] if own else str(degree) not in {"2", "b2", "#2", "4", "#4", "6"}


def test_a_chord_that_no_scale_holds_has_its_own_tones() -> None:
    """A chord of both sevenths and both thirds has no scale."""
    quality = Quality.from_row({"name": "odd", "degrees": "1 b3 3 b7 7"})
    assert usual_scale(quality) is None
    assert scale_degrees(quality) == ("1", "b3", "3", "b7", "7")


def test_a_scale_is_a_value() -> None:
    """Equal scales are equal, and their tones are pitch classes."""
    first = scales()[0]
    assert Scale(first.name, first.degrees) == first
    assert first.tones == {0, 2, 4, 5, 7, 9, 11}
