"""Reading instruments from rows of TOML."""

import pytest

from gripwright import Pitch
from gripwright_tunings.definitions import read_instruments

ROW = """
[[instrument]]
id = "sample"
name = "a sample"
strings = "D3 A3 D4"
frets = 12
scale_mm = 500
"""


def test_a_plain_row_needs_five_keys() -> None:
    """Strings take the one length; nothing else is set."""
    (sample,) = read_instruments(ROW)
    assert (sample.id, sample.name, sample.frets) == ("sample", "a sample", 12)
    assert [str(string.open) for string in sample.strings] == ["D3", "A3", "D4"]
    assert {(s.scale_mm, s.first_fret, s.doubles) for s in sample.strings} == {(500.0, 0, ())}
    assert sample.align_fret == 0.0


def test_strings_are_numbered_from_the_treble_side() -> None:
    """String 3 of three is the first as strung; a course may have several mates."""
    text = ROW + 'first_fret = { 3 = 5 }\ndoubles = { 2 = "A3 A4" }\n'
    (sample,) = read_instruments(text)
    assert [string.first_fret for string in sample.strings] == [5, 0, 0]
    mates = (Pitch.parse("A3"), Pitch.parse("A4"))
    assert [string.doubles for string in sample.strings] == [(), mates, ()]


def test_a_fanned_neck_has_a_length_for_each_string() -> None:
    """Lengths stand as strung, with the fret that lies square to the neck."""
    text = ROW.replace("500", "[520, 510, 500]") + "align_fret = 7\n"
    (sample,) = read_instruments(text)
    assert [string.scale_mm for string in sample.strings] == [520.0, 510.0, 500.0]
    assert sample.align_fret == 7.0
    places = [sample.place_mm(index, 7) for index in range(3)]
    assert places == pytest.approx([places[0]] * 3)


def test_rows_keep_their_order() -> None:
    """Instruments come as the text lists them; a text without rows has none."""
    text = ROW.replace('"sample"', '"zz"') + ROW.replace('"sample"', '"aa"')
    assert [own.id for own in read_instruments(text)] == ["zz", "aa"]
    assert read_instruments("") == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ROW.replace("frets", "fretz"), "frets, fretz"),
        (ROW + "colour = 1\n", "colour"),
        (ROW + "first_fret = { 4 = 5 }\n", "no string 4"),
        (ROW + 'doubles = { 0 = "D3" }\n', "no string 0"),
        (ROW.replace("D3 A3", "D3 H3"), "H3"),
        (ROW.replace("500", "[520, 510]"), "2 lengths for 3 strings"),
        (ROW.replace("=", ""), "Expected"),
    ],
)
def test_a_wrong_row_is_refused(text: str, words: str) -> None:
    """A slip in a definition is an error that names it, never an instrument."""
    with pytest.raises(ValueError, match=words):
        read_instruments(text)
