"""What the readers of small notations say: where, what was expected, what is near."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import pytest

from gripwright import Chord, Degree, Interval, Note, Pitch
from gripwright.errors import NotationError

READERS: Final[dict[str, Callable[[str], object]]] = {
    "note": Note.parse,
    "pitch": Pitch.parse,
    "degree": Degree,
    "interval": Interval.parse,
    "chord symbol": Chord.parse,
}


@pytest.mark.parametrize(
    ("what", "text", "said"),
    [
        ("note", "c", "unexpected 'c' at position 0 (did you mean 'C'?)"),
        ("note", "bb", "unexpected 'b' at position 0 (did you mean 'Bb'?)"),
        ("note", "", "it ends at position 0 (expected a letter from A to G)"),
        ("note", "H", "unexpected 'H' at position 0 (expected a letter from A to G)"),
        ("note", "cx", "unexpected 'c' at position 0 (expected a letter from A to G)"),
        ("note", "Cx", "unexpected 'x' at position 1 (expected flats, sharps or the end)"),
        ("pitch", "c4", "unexpected 'c' at position 0 (did you mean 'C4'?)"),
        ("pitch", "c", "unexpected 'c' at position 0 (expected a letter from A to G)"),
        (
            "pitch",
            "C#",
            "it ends at position 2 (expected an octave number, such as the 4 of C4)",
        ),
        (
            "pitch",
            "Cx4",
            "unexpected 'x' at position 1 (expected an octave number, such as the 4 of C4)",
        ),
        ("pitch", "Cb4.5", "unexpected '.' at position 3 (expected the end)"),
        (
            "degree",
            "3b",
            (
                "unexpected '3' at position 0"
                " (expected flats or sharps and a number, such as 'b3' or '#11')"
            ),
        ),
        (
            "interval",
            "M3x",
            (
                "unexpected 'x' at position 2"
                " (expected a quality of P, M, m, A, d and a number, such as 'm3')"
            ),
        ),
        (
            "interval",
            "P3",
            (
                "unexpected 'P' at position 0"
                " (expected P, A or d before 1, 4, 5 and 8; M, m, A or d before the others)"
            ),
        ),
        ("chord symbol", "Cmaj77", "unexpected '7' at position 5 (did you mean 'Cmaj7'?)"),
        ("chord symbol", "cmaj7", "unexpected 'c' at position 0 (did you mean 'Cmaj7'?)"),
        ("chord symbol", "C7(b9", "it ends at position 5 (did you mean 'C7b9'?)"),
        ("chord symbol", "B♭7♯x", "unexpected '♯' at position 3 (did you mean 'B♭7'?)"),
    ],
)
def test_a_refusal_says_where_and_what(what: str, text: str, said: str) -> None:
    """Each message names the notation, the text and the place, and offers what can be read."""
    with pytest.raises(NotationError) as caught:
        READERS[what](text)
    assert str(caught.value) == f"cannot read {what} {text!r}: {said}"


def test_a_pitch_is_spelled_by_a_note_that_sounds_so() -> None:
    """A note of another pitch class is refused with both."""
    with pytest.raises(ValueError, match=r"^C does not sound as MIDI note 61$"):
        Pitch.spell(Note.parse("C"), 61)


def test_a_degree_lies_above_the_root() -> None:
    """Unisons are degrees; what goes down by a step is none."""
    assert [Degree.of(Interval.parse(name)) for name in ("P1", "d1", "m2")] == ["1", "b1", "b2"]
    with pytest.raises(ValueError, match=r"^a degree lies above the root, and -M2 goes down$"):
        Degree.of(Interval.parse("-M2"))
