"""Chord scales in their context: common practice, save where a test says otherwise."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Chart, Chord
from gripwright.laws.drawing import spelled_chords
from gripwright.theory import QUALITIES
from gripwright.theory.quality import Quality
from gripwright.theory.scale import usual_scale
from gripwright.tune import Key, forms
from gripwright.tune.chord_scale import chart_scales, chord_scale
from gripwright.tune.numeral_chart import numeral_chart, realised
from gripwright.tune.spelling import spelled
from tests.core.tune.numeral_strategies import MAJOR_KEYS, MINOR_KEYS

BY_CONTEXT = [
    ("C", "Cmaj7", None, "ionian", "9 13", "11"),
    ("C", "Fmaj7", None, "lydian", "9 #11 13", ""),
    ("C", "Dm7", None, "dorian", "9 11", "13"),
    ("C", "Em7", None, "phrygian", "11", "b9 b13"),
    ("C", "Am7", None, "aeolian", "9 11", "b13"),
    ("C", "G7", None, "mixolydian", "9 13", "11"),
    ("C", "G7", "Cmaj7", "mixolydian", "9 13", "11"),
    ("C", "G7", "Cm7", "phrygian dominant", "b9 b13", "11"),
    ("Cm", "G7", None, "phrygian dominant", "b9 b13", "11"),
    ("C", "A7", None, "phrygian dominant", "b9 b13", "11"),
    ("C", "E7", "Am7", "phrygian dominant", "b9 b13", "11"),
    ("C", "E7", "A7", "mixolydian", "9 13", "11"),
    ("C", "D7", "G7", "mixolydian", "9 13", "11"),
    ("C", "A7#9", "Dm7", "altered", "b9 b5 #5", ""),
    ("C", "A13b9", "Dm7", "half-whole diminished", "#9 #11", ""),
    ("C", "G7alt", "Cmaj7", "altered", "", ""),
    ("C", "G7#11", "Cmaj7", "lydian dominant", "9 13", ""),
    ("C", "Db7", "Cmaj7", "lydian dominant", "9 #11 13", ""),
    ("C", "Eb7", "Dm7", "lydian dominant", "9 #11 13", ""),
    ("C", "Ab7", None, "lydian dominant", "9 #11 13", ""),
    ("C", "Bb7", "Cmaj7", "lydian dominant", "9 #11 13", ""),
    ("C", "F7", "C7", "lydian dominant", "9 #11 13", ""),
    ("Cm", "Bb7", "Ebmaj7", "mixolydian", "9 13", "11"),
    ("Cm", "Ab7", "G7", "lydian dominant", "9 #11 13", ""),
    ("C", "Fm7", "Bb7", "dorian", "9 11", "13"),
    ("C", "Gm7", "C7", "dorian", "9 11", "13"),
    ("C", "F#dim7", None, "whole-half diminished", "9 11 b13 7", ""),
    ("Cm", "Dm7b5", "G7", "locrian", "11 b13", "b9"),
    ("C", "Bm7b5", None, "locrian", "11 b13", "b9"),
    ("Cm", "Am7b5", None, "locrian natural 2", "9 11 b13", ""),
    ("Cm", "Cm6", None, "melodic minor", "9 11 7", ""),
    ("Cm", "Cm(maj7)", None, "melodic minor", "9 11 13", ""),
    ("C", "Cmaj7#5", None, "lydian augmented", "9 #11", "13"),
    ("C", "G7sus4", "G7", "mixolydian", "9 3 13", ""),
    ("Cm", "Ebmaj7", None, "ionian", "9 13", "11"),
    ("C", "Abmaj7", None, "lydian", "9 #11 13", ""),
    (None, "Db7", "Cmaj7", "lydian dominant", "9 #11 13", ""),
    (None, "G7", "Cm6", "phrygian dominant", "b9 b13", "11"),
    (None, "Dm7", "G7", "dorian", "9 11", "13"),
    (None, "Dm7", None, "dorian", "9 11 13", ""),
]
"""Key, chord, next chord, scale, tensions and tones to avoid."""


@pytest.mark.parametrize(("key", "chord", "after", "scale", "tensions", "avoid"), BY_CONTEXT)
def test_scales_in_context(  # noqa: PLR0917 - the columns of the table
    key: str | None, chord: str, after: str | None, scale: str, tensions: str, avoid: str
) -> None:
    """The scale that the trade plays there, and what it counts as tension."""
    reading = chord_scale(
        Chord.parse(chord),
        None if key is None else Key.parse(key),
        None if after is None else Chord.parse(after),
    )
    assert reading.scale is not None
    assert reading.scale.name == scale
    assert set(reading.tensions) == set(tensions.split())
    assert set(reading.avoid) == set(avoid.split())
    assert reading.reason


@given(
    spelled_chords(),
    st.none() | st.sampled_from(MAJOR_KEYS + MINOR_KEYS),
    st.none() | spelled_chords(),
)
def test_a_scale_is_parted_into_tones_tensions_and_tones_to_avoid(
    chord: Chord, key: Key | None, after: Chord | None
) -> None:
    """Each of its pitch classes once; the chord's tones all in it, save a fifth that gives way."""
    reading = chord_scale(chord, key, after)
    assert reading.scale is not None or usual_scale(chord.quality) is None
    if reading.scale is None:
        return
    others = [degree.pitch_class for degree in (*reading.tensions, *reading.avoid)]
    own = {degree.pitch_class for degree in reading.tones}
    assert len(others) == len(set(others))
    assert not own & set(others)
    assert own | set(others) == reading.scale.tones
    lost = set(chord.degrees) - set(reading.tones)
    assert lost <= {"5"}
    assert not lost or {"b9", "#9"} & set(chord.degrees)


@given(spelled_chords(), st.sampled_from(MAJOR_KEYS))
@example(Chord.parse("D#7"), Key.parse("Gb"))
def test_the_same_place_takes_the_same_scale_in_every_key(chord: Chord, key: Key) -> None:
    """A context is made of degrees, however they are spelled."""
    root = spelled(key.tonic + (chord.root - Key.parse("C").tonic), key)
    moved = Chord(root, chord.quality)
    there, here = chord_scale(moved, key), chord_scale(chord, Key.parse("C"))
    assert (there.scale, there.tensions, there.avoid) == (here.scale, here.tensions, here.avoid)


@pytest.mark.parametrize("quality", QUALITIES.values(), ids=lambda quality: quality.name)
def test_without_a_context_it_is_the_usual_scale(quality: Quality) -> None:
    """And the tensions are those of the quality's row, where the scale has them."""
    reading = chord_scale(Chord(Chord.parse("C").root, quality))
    assert reading.scale == usual_scale(quality)
    assert not set(reading.tensions) & set(quality.avoid)


def test_a_chord_that_no_scale_holds_has_its_own_tones() -> None:
    """Both thirds and both sevenths."""
    quality = Quality.from_row({"name": "odd", "degrees": "1 b3 3 b7 7"})
    reading = chord_scale(Chord(Chord.parse("C").root, quality))
    assert reading.scale is None
    assert reading.tones == quality.degrees


def test_the_scales_of_a_chart_follow_its_form() -> None:
    """Each chord is read before the next other one that is played, over bars and repeats."""
    chart = Chart.parse("key: C\n|: Em7 A7 | % |1. Dm7 G7 :|2. Dm7 N.C. | G7 | G7 | Cm6 |")
    names = [
        None if reading is None or reading.scale is None else reading.scale.name
        for reading in chart_scales(chart)
    ]
    once = ["phrygian", "phrygian dominant", "phrygian", "phrygian dominant", "dorian"]
    assert names == [
        *once,
        "mixolydian",
        *once,
        None,
        "phrygian dominant",
        "phrygian dominant",
        "melodic minor",
    ]


@pytest.mark.parametrize("name", forms())
def test_every_chord_of_every_form_has_a_scale(name: str) -> None:
    """In whatever form a player meets it."""
    form = forms()[name]
    chart = realised(numeral_chart(form.text), Key.parse("Cm" if form.minor else "C"))
    readings = chart_scales(chart)
    assert len(readings) == len(chart.unfolded().spans)
    assert all(reading is not None and reading.scale is not None for reading in readings)
