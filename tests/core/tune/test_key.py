"""Keys: signatures, texts, and what is no key."""

import pytest

from gripwright import ConditionError, NotationError, Note
from gripwright.tune import Key

# The circle of fifths: common practice.
MAJOR = ("Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#")
MINOR = ("Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#")


@pytest.mark.parametrize(("tonic", "fifths"), list(zip(MAJOR, range(-7, 8), strict=True)))
def test_signatures_of_major_keys(tonic: str, fifths: int) -> None:
    """Each fifth up is a sharp more."""
    assert Key.parse(tonic).fifths == fifths
    assert str(Key.parse(f"{tonic} major")) == tonic


@pytest.mark.parametrize(("tonic", "fifths"), list(zip(MINOR, range(-7, 8), strict=True)))
def test_signatures_of_minor_keys(tonic: str, fifths: int) -> None:
    """A minor key has the signature of the major key a minor third above."""
    for text in (f"{tonic}m", f"{tonic} minor", f"{tonic}min", f"{tonic}-"):
        assert Key.parse(text) == Key(Note.parse(tonic), minor=True)
    assert Key.parse(f"{tonic}m").fifths == fifths


@pytest.mark.parametrize(
    ("text", "position"), [("H", 0), ("", 0), ("C7", 1), ("G#", 0), ("Fbm", 0), ("C dorian", 1)]
)
def test_no_key(text: str, position: int) -> None:
    """No letter, no mode of ours, or more than seven flats or sharps."""
    with pytest.raises(NotationError) as caught:
        Key.parse(text)
    assert caught.value.position == position


def test_a_key_of_eight_sharps_is_refused() -> None:
    """As a value too."""
    with pytest.raises(ConditionError, match="G#"):
        Key(Note.parse("G#"))
