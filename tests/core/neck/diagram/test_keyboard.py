"""Piano keyboards beside the neck."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, find_voicings
from gripwright.neck.diagram import THEMES, close_position, neck_svg
from gripwright.neck.diagram.keyboard import keyboards
from tests.core.neck.diagram.drawn import GUITAR, SVG, at, dots, elements, grip, parsed


@pytest.mark.parametrize(
    ("symbol", "shape", "pile"),
    [
        # Orders of the degrees as the trade has them: root position, rootless, over a bass.
        ("Cmaj7", "x-3-5-4-5-x", "C3 E3 G3 B3"),
        ("Cmaj7", "x-2-2-0-1-x", "C3 E3 G3 B3"),
        ("G13", "x-8-7-4-5-x", "B3 F4 A4 E5"),
        ("C/E", "0-3-2-0-1-0", "E2 C3 G3"),
        ("C7#9", "x-3-2-3-4-x", "C3 E3 Bb3 D#4"),
    ],
)
def test_close_position_piles_the_tones_up(symbol: str, shape: str, pile: str) -> None:
    """Each tone once, in the order of the chord, at the next place above the one before."""
    tones = close_position(grip(symbol, shape))
    assert " ".join(str(pitch) for pitch, _ in tones) == pile


@given(data=st.data())
def test_close_position_has_the_tones_of_the_grip(data: st.DataObject) -> None:
    """No tone is lost, each is less than an octave above the one before, none lies too low."""
    symbol = data.draw(st.sampled_from(["Cmaj9", "F#m7b5", "Bb13", "G7/D", "E7alt", "C/D"]))
    table = find_voicings(Chord.parse(symbol), GUITAR, max_notes=5)
    voicing = table[data.draw(st.integers(0, len(table) - 1))]
    tones = close_position(voicing)
    assert sorted(degree for _, degree in tones) == sorted(set(voicing.degrees))
    midi = [pitch.midi for pitch, _ in tones]
    assert all(0 < high - low < 12 for low, high in pairwise(midi))
    assert min(voicing.midi) <= midi[0] < min(voicing.midi) + 12


def test_keys_are_marked_where_the_tones_lie() -> None:
    """On the lower keyboard lie the pitches of the grip, white and black keys as on a piano."""
    # A piano: the places of its keys from C, white keys a unit wide, black ones between.
    places = [0.5, 1, 1.5, 2, 2.5, 3.5, 4, 4.5, 5, 5.5, 6, 6.5]
    voicing = grip("C7#9", "x-3-2-3-4-x")
    root = parsed(keyboards(voicing, "degree", THEMES["light"]).svg(page="#FFFFFF"))
    keys = [one for one in elements(root, "rect") if one.attrib.get("rx") == "1"]
    white = min(at(key, "width") for key in keys if at(key, "height") == 36)
    marked = dots(root)
    squares = [one for one in marked if one.tag == f"{SVG}rect"]
    circles = [one for one in marked if one.tag == f"{SVG}circle"]
    # C, the root, on both keyboards; E, Bb and D# twice each.
    assert (len(squares), len(circles)) == (2, 6)
    left = min(at(key, "x") for key in keys)
    found = sorted({round((at(one, "cx") - left) / white, 2) for one in circles})
    assert found == [places[4], places[10], 7 + places[3]]
    black = max(at(key, "y") for key in keys if at(key, "height") == 23) + 23
    deepest = {round((at(one, "cx") - left) / white, 2): at(one, "cy") for one in circles[-3:]}
    assert deepest[places[10]] < black < deepest[places[4]]


def test_keyboards_stand_beside_the_neck_on_request() -> None:
    """The picture grows to the right, and its words tell both orders."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    plain, with_keys = parsed(neck_svg(voicing)), parsed(neck_svg(voicing, keyboard=True))
    assert at(with_keys, "width") > 2 * at(plain, "width")
    words = str(with_keys.findtext(f"{SVG}desc"))
    assert words.startswith(str(plain.findtext(f"{SVG}desc")))
    assert "Close: C3 E3 G3 B3. Grip: C3 G3 B3 E4." in words
