"""Single voicings: their notes, their fingers, and what notebooks show of them."""

import pytest

from gripwright import Chord, Hand, Voicing
from gripwright.errors import ConditionError
from gripwright.neck.diagram import neck_svg
from gripwright.neck.strain import StrainWeights
from tests.core.neck.reference import frets_of, instrument

GUITAR = instrument("guitar")


def voicing_of(symbol: str, shape: str) -> Voicing:
    """Return a shape on the standard guitar as a voicing of a chord."""
    return Voicing(Chord.parse(symbol), GUITAR, frets_of(shape))


@pytest.mark.parametrize(
    ("symbol", "shape", "pitches"),
    [
        ("C/F#", "2-3-2-0-1-0", "F#2 C3 E3 G3 C4 E4"),
        ("C/Gb", "2-3-2-0-1-0", "Gb2 C3 E3 G3 C4 E4"),
        ("C/E#", "1-3-2-0-1-0", "E#2 C3 E3 G3 C4 E4"),
        ("C/E", "0-3-2-0-1-0", "E2 C3 E3 G3 C4 E4"),
    ],
)
def test_a_slash_bass_is_spelled_as_the_symbol_writes_it(
    symbol: str, shape: str, pitches: str
) -> None:
    """Only the bass: every other note is spelled for the chord."""
    voicing = voicing_of(symbol, shape)
    assert " ".join(map(str, voicing.pitches)) == pitches
    assert [str(note) for note in voicing.notes] == [name[:-1] for name in pitches.split()]


def test_a_pitch_that_is_no_tone_of_the_chord_is_refused() -> None:
    """The error names both."""
    with pytest.raises(ValueError, match=r"^MIDI note 41 is no tone of C$"):
        _ = voicing_of("C", "1-x-x-x-x-x").degrees


def test_fingers_are_those_of_the_hand_and_the_weights() -> None:
    """A hand of one finger presses with its index; heavy extra fingers keep a barre."""
    voicing = voicing_of("F", "1-3-3-2-1-1")
    assert voicing.fingering().fingers == (1, 3, 4, 2, 1, 1)
    heavy = StrainWeights(extra_finger=1000)
    assert voicing.fingering(weights=heavy).fingers == (1, 3, 3, 2, 1, 1)
    with pytest.raises(ConditionError, match="at most 2 presses"):
        voicing.fingering(Hand(fingers=2))


def test_notebooks_show_the_neck() -> None:
    """The rich form of a voicing is its diagram."""
    voicing = voicing_of("C", "x-3-2-0-1-0")
    assert voicing._repr_svg_() == neck_svg(voicing)
