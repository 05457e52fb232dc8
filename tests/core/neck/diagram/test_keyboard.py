"""Piano keyboards beside the neck."""

from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from gripwright import Chord, Instrument, InstrumentString, Pitch, Voicing, find_voicings
from gripwright.neck.diagram import THEMES, Block, Disc, Picture, Words, close_position, neck_svg
from gripwright.neck.diagram.keyboard import keyboards
from gripwright.neck.diagram.picture import width_in_ems
from tests.core.neck.diagram.drawn import GUITAR, SVG, at, dots, elements, grip, parsed
from tests.core.neck.diagram.extents import extent, meetings, plane, tones, words
from tests.core.neck.diagram.test_svg import EVERY_DEGREE, voicings


@pytest.mark.parametrize(
    ("symbol", "shape", "pile"),
    [
        # Orders of the degrees as the trade has them: root position, rootless, over a bass.
        ("Cmaj7", "x-3-5-4-5-x", "C3 E3 G3 B3"),
        ("Cmaj7", "x-2-2-0-1-x", "C3 E3 G3 B3"),
        ("G13", "x-8-7-4-5-x", "B3 F4 A4 E5"),
        ("C/E", "0-3-2-0-1-0", "E2 C3 G3"),
        ("C7#9", "x-3-2-3-4-x", "C3 E3 Bb3 D#4"),
        # The root next above a bass that lies a semitone over it.
        ("C7b9", "9-x-8-9-8-8", "C4 E4 G4 Bb4 Db5"),
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


BLACK = {"C#", "D#", "F#", "G#", "A#"}
ABOVE_C = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")


def is_black(midi: int) -> bool:
    """Tell whether a pitch has a black key: the five of each octave, as on any piano."""
    return ABOVE_C[midi % 12] in BLACK


def keys_of(picture: Picture) -> list[list[Block]]:
    """The keys of both keyboards, the upper one's first, each from left to right."""
    keys = [mark for mark in picture.marks if isinstance(mark, Block) and mark.height >= 23]
    tops = sorted({key.y - key.height / 2 for key in keys})
    return [
        sorted((key for key in keys if key.y - key.height / 2 == top), key=lambda key: key.x)
        for top in tops
    ]


@settings(max_examples=20)
@given(
    voicing=voicings(),
    label=st.sampled_from(["note", "interval", "degree"]),
    theme=st.sampled_from(sorted(THEMES)),
)
def test_tones_lie_on_their_keys_and_labels_beside_them(
    voicing: Voicing, label: str, theme: str
) -> None:
    """Above in close position, below as gripped; labels of black keys above, of white below."""
    colours = THEMES[theme]
    picture = keyboards(voicing, label, colours)
    assert all(plane(picture).holds(extent(mark)) for mark in picture.marks)
    assert meetings(words(picture)) == []
    gripped = sorted(set(zip(voicing.pitches, voicing.degrees, strict=True)), key=_by_midi)
    sounding = [pitch.midi for pitch, _ in (*close_position(voicing), *gripped)]
    expected = [list(close_position(voicing)), gripped]
    marked, told = tones(picture), words(picture)
    for name, keys, row in zip(("Close", "Grip"), keys_of(picture), expected, strict=True):
        caption = told.pop(0)
        assert caption.text == f"{name}: {' '.join(str(pitch) for pitch, _ in row)}"
        top = keys[0].y - keys[0].height / 2
        assert extent(caption).bottom < top
        shown = dict(zip(range_of(sounding), keys, strict=True))
        for pitch, degree in row:
            key, mark, text = shown[pitch.midi], marked.pop(0), told.pop(0)
            black = is_black(pitch.midi)
            # The outline of a dot on a black key may lie on the edge of the key.
            assert extent(key).holds(extent(mark), slack=0.5)
            assert mark.x == text.x == key.x
            # A dot on a white key lies below the black keys.
            assert black or extent(mark).top > top + 23
            assert (extent(text).bottom < top) if black else (extent(text).top > top + 36)
            assert isinstance(mark, Block) == (degree.pitch_class == 0)
            paint = colours.key_root if degree.pitch_class == 0 else colours.key_tone
            assert (mark.fill, mark.edge) == (paint.fill, paint.edge)
            says = {"note": str(pitch.note), "interval": str(degree.interval)}
            assert text.text == says.get(label, str(degree))
            assert (text.colour, text.bold) == (colours.ink, True)
    assert not marked
    assert not told


def _by_midi(tone: tuple[Pitch, object]) -> int:
    return tone[0].midi


def range_of(sounding: list[int]) -> range:
    """The keys from the next C or F below to the next E or B above, two octaves at least."""
    low = min(sounding)
    first = max(midi for midi in range(low - 11, low + 1) if ABOVE_C[midi % 12] in {"C", "F"})
    high = max(*sounding, first + 23)
    last = min(midi for midi in range(high, high + 12) if ABOVE_C[midi % 12] in {"E", "B"})
    return range(first, last + 1)


@settings(max_examples=20)
@given(voicing=voicings())
def test_keyboards_are_those_of_a_piano(voicing: Voicing) -> None:
    """Both alike, from C or F to E or B, two octaves at least, and no longer than need be."""
    theme = THEMES["dark"]
    picture = keyboards(voicing, "note", theme)
    upper, lower = keys_of(picture)
    assert [(key.x, key.width, key.height) for key in upper] == [
        (key.x, key.width, key.height) for key in lower
    ]
    whites = [key for key in upper if key.height == 36]
    blacks = [key for key in upper if key.height == 23]
    assert {(key.fill, key.edge) for key in whites} == {(theme.white_key, theme.key_edge)}
    assert {(key.fill, key.edge) for key in blacks} == {(theme.black_key, theme.key_edge)}
    assert all(low.x + low.width == pytest.approx(high.x) for low, high in pairwise(whites))
    assert all(key.width < whites[0].width for key in blacks)
    sounding = [pitch.midi for pitch, _ in close_position(voicing)] + list(voicing.midi)
    assert [key.height == 23 for key in upper] == [is_black(midi) for midi in range_of(sounding)]
    # Black keys lie over the borders of white ones.
    borders = {round(low.x + low.width / 2, 6) for low in whites[:-1]}
    assert {round(key.x, 6) for key in blacks} <= borders
    order = [mark for mark in picture.marks if mark in upper]
    assert order == whites + blacks
    assert picture.description.endswith(f"{words(picture)[0].text}. {_grip(picture)}.")


def _grip(picture: Picture) -> str:
    return next(text.text for text in words(picture) if text.text.startswith("Grip"))


CHROMATIC = Instrument(
    id="unison",
    name="unison",
    strings=tuple(InstrumentString(Pitch.parse("C3"), 648.0) for _ in range(12)),
    frets=12,
)
"""Twelve strings of one pitch, so that every tone can lie beside the next."""


@settings(max_examples=20)
@given(voicing=voicings())
@example(voicing=Voicing(Chord.parse("F#m9"), GUITAR, (2, 1, 6, 4, 0, 1), EVERY_DEGREE))
# Captions too long for the keyboards: as many tones on both, then one more on the lower.
@example(voicing=Voicing(Chord.parse("C"), CHROMATIC, tuple(range(12)), EVERY_DEGREE))
@example(voicing=Voicing(Chord.parse("F#"), CHROMATIC, (0, *range(2, 13)), EVERY_DEGREE))
def test_captions_are_as_large_as_both_find_room(voicing: Voicing) -> None:
    """One size for both, and no larger than a label; the plane ends beside the keys."""
    picture = keyboards(voicing, "degree", THEMES["light"])
    captions = [text for text in words(picture) if text.anchor == "start"]
    (size,) = {text.size for text in captions}
    assert {text.colour for text in captions} == {THEMES["light"].ink}
    keys = [extent(key) for row in keys_of(picture) for key in row]
    left, right = min(key.left for key in keys), max(key.right for key in keys)
    assert left == pytest.approx(picture.width - right)
    widest = max(width_in_ems(text.text) for text in captions)
    assert size == pytest.approx(min(9, (right - left - 0.8) / widest))
    assert picture.height - max(extent(mark).bottom for mark in picture.marks) < 12


def labels_of(symbol: str, frets: tuple[int, ...], label: str) -> list[Words]:
    """The labels of the lower keyboard, each tone on a string of its own."""
    frets = (*frets, *[-1] * (12 - len(frets)))
    voicing = Voicing(Chord.parse(symbol), CHROMATIC, frets, EVERY_DEGREE)
    picture = keyboards(voicing, label, THEMES["light"])
    assert meetings(words(picture)) == []
    sounding = sum(fret >= 0 for fret in frets)
    return [text for text in words(picture) if text.anchor == "middle"][-sounding:]


@pytest.mark.parametrize("label", ["note", "interval", "degree"])
def test_labels_of_twelve_tones_beside_one_another_can_be_read(label: str) -> None:
    """None lies over another, and none vanishes."""
    assert all(2 <= text.size <= 9 for text in labels_of("C", tuple(range(12)), label))


def test_two_labels_share_the_way_from_key_to_key() -> None:
    """E and F: each as large as both find room; black keys, in a row of their own, take none."""
    low, high = labels_of("C", (4, 5), "interval")
    gap = extent(high).left - extent(low).right
    assert 0 < gap < low.size / 4
    assert {text.size for text in labels_of("C", (3, 4), "degree")} == {9}
    assert {text.size for text in labels_of("C", (0, 4, 9), "degree")} == {9}


def test_dots_on_white_keys_are_larger_than_on_black_ones() -> None:
    """As the keys are."""
    picture = keyboards(grip("C7#9", "x-3-2-3-4-x"), "degree", THEMES["light"])
    third, seventh, ninth = [mark.radius for mark in picture.marks if isinstance(mark, Disc)][-3:]
    assert third > seventh == ninth
