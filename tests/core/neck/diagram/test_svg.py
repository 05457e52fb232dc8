"""Neck diagrams as SVG, against what players draw (common practice)."""

from itertools import pairwise

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Degree, Instrument, Voicing, find_voicings
from gripwright.errors import ConditionError, UnknownNameError
from gripwright.neck.diagram import LABELS, THEMES, neck_svg
from gripwright.neck.diagram.neck import FRET, GAP, Look, neck_picture
from gripwright.neck.fingering import fingering_of
from tests.core.neck.diagram.drawn import (
    BANJO,
    GUITAR,
    SVG,
    at,
    barres,
    dots,
    elements,
    grip,
    number_of_strings,
    parsed,
    reversed_neck,
    texts,
)

HOSTILE = "<script>alert('x')</script> & \"]]>\x00\ud800\ufffe ♭"


def _middle(element: object) -> tuple[float, float]:
    """The middle of a circle or a rectangle."""
    attrib: dict[str, str] = element.attrib  # type: ignore[attr-defined]
    if "cx" in attrib:
        return float(attrib["cx"]), float(attrib["cy"])
    x, y, width, height = (float(attrib[name]) for name in ("x", "y", "width", "height"))
    return x + width / 2, y + height / 2


def _lines(text: str) -> tuple[list[float], list[float]]:
    """Places of the strings and of the frets."""
    root = parsed(text)
    upright = {at(one, "x1") for one in elements(root, "line") if at(one, "x1") == at(one, "x2")}
    level = {
        at(one, "y1")
        for one in elements(root, "line")
        if at(one, "y1") == at(one, "y2") and one.attrib["stroke-width"] != "3"
    }
    return sorted(upright), sorted(level)


def test_dots_lie_where_the_strings_are_pressed() -> None:
    """Each dot is on its string and in its fret's space, the root alone square."""
    text = neck_svg(grip("Cmaj7", "x-3-5-4-5-x"))
    strings, frets = _lines(text)
    assert len(strings) == 6
    assert {b - a for a, b in pairwise(strings)} == {GAP}
    found = {
        (strings.index(x), next(n for n, y1 in enumerate(frets) if y1 < y < y1 + FRET))
        for x, y in map(_middle, dots(parsed(text)))
    }
    # The box starts at fret 3, so that frets count from there.
    assert found == {(1, 0), (2, 2), (3, 1), (4, 2)}
    (square,) = [one for one in dots(parsed(text)) if one.tag.endswith("rect")]
    assert strings.index(_middle(square)[0]) == 1


def test_first_fret_is_numbered_and_the_nut_is_heavy() -> None:
    """Up the neck the number stands beside the first fret; at the nut a thick line and none."""
    high = parsed(neck_svg(grip("Cmaj7", "x-3-5-4-5-x"), label="none", title=""))
    assert texts(high)[:1] == ["3"]
    assert not [one for one in elements(high, "line") if one.attrib["stroke-width"] == "4"]
    low = parsed(neck_svg(grip("C", "x-3-2-0-1-0"), label="none", title=""))
    assert texts(low) == ["1", "3", "5", "1", "3", "C3", "E3", "G3", "C4", "E4"]
    assert len([one for one in elements(low, "line") if one.attrib["stroke-width"] == "4"]) == 1


def test_muted_and_open_strings_are_marked_above_the_nut() -> None:
    """A cross of two strokes for each muted string, a ring with its label for each open one."""
    root = parsed(neck_svg(grip("C", "x-3-2-0-1-0")))
    crosses = [
        one
        for one in elements(root, "line")
        if at(one, "x1") != at(one, "x2") and at(one, "y1") != at(one, "y2")
    ]
    assert len(crosses) == 2
    page = THEMES["light"].page
    rings = [one for one in elements(root, "circle") if one.attrib["fill"] == page]
    strings, frets = _lines(neck_svg(grip("C", "x-3-2-0-1-0")))
    assert [strings.index(at(ring, "cx")) for ring in rings] == [3, 5]
    assert all(at(ring, "cy") < frets[0] for ring in rings)
    labels = {(one.attrib["x"], one.text) for one in elements(root, "text")}
    assert {(ring.attrib["cx"], text) for ring, text in zip(rings, "53", strict=True)} <= labels


def test_barre_is_a_bar_over_its_strings() -> None:
    """The index of the first grip of F lies over all six strings; a plain C has no bar."""
    voicing = grip("F", "1-3-3-2-1-1")
    (bar,) = barres(parsed(neck_svg(voicing)))
    strings, _ = _lines(neck_svg(voicing))
    assert at(bar, "x") < strings[0]
    assert at(bar, "x") + at(bar, "width") > strings[-1]
    assert barres(parsed(neck_svg(grip("C", "x-3-2-0-1-0")))) == []


def test_fingering_that_is_given_is_the_one_drawn() -> None:
    """Fingers come from the fingering, in labels and in words; open strings have none."""
    voicing = grip("C", "x-3-2-0-1-0")
    fingering = fingering_of(voicing.frets, GUITAR)
    shifted = attrs.evolve(
        fingering,
        presses=tuple(attrs.evolve(one, finger=one.finger + 1) for one in fingering.presses),
    )
    usual = texts(parsed(neck_svg(voicing, label="finger", title="")))
    assert usual[:3] == ["3", "2", "1"]
    root = parsed(neck_svg(voicing, label="finger", title="", fingering=shifted))
    assert texts(root)[:3] == ["4", "3", "2"]
    assert "at fret 3 with finger 4: C3" in str(root.findtext(f"{SVG}desc"))


@pytest.mark.parametrize(
    ("label", "expected"),
    [
        ("degree", ["1", "3", "b7", "#9"]),
        ("note", ["C", "E", "Bb", "D#"]),
        ("interval", ["P1", "M3", "m7", "A9"]),
        ("finger", ["2", "1", "3", "4"]),
        ("none", []),
    ],
)
def test_dots_carry_what_is_asked_for(label: str, expected: list[str]) -> None:
    """Labels come in string order; degrees stand below where dots do not carry them."""
    found = texts(parsed(neck_svg(grip("C7#9", "x-3-2-3-4-x"), label=label, title="")))
    degrees = [] if label == "degree" else ["1", "3", "b7", "#9"]
    assert found == [*expected, *degrees, "C3", "E3", "Bb3", "D#4"]


def test_short_string_is_drawn_from_where_it_starts() -> None:
    """The fifth string of a banjo has its own nut at fret 5, and its ring above that."""
    text = neck_svg(grip("C", "0-5-5-5-5", BANJO))
    root = parsed(text)
    strings, frets = _lines(text)
    (short,) = [
        one for one in elements(root, "line") if at(one, "x1") == at(one, "x2") == strings[0]
    ]
    assert at(short, "y1") == frets[1]
    ring = next(one for one in elements(root, "circle") if at(one, "cx") == strings[0])
    assert frets[0] < at(ring, "cy") < frets[1]
    low, _ = _lines(neck_svg(grip("G", "0-0-0-0-0", BANJO)))
    assert len(low) == 4


def test_course_is_drawn_as_two_strings() -> None:
    """Paired strings lie close beside one another."""
    strings = tuple(
        attrs.evolve(string, doubles=(string.open,)) if n < 2 else string
        for n, string in enumerate(GUITAR.strings)
    )
    paired = attrs.evolve(GUITAR, strings=strings)
    upright, _ = _lines(neck_svg(grip("C", "x-3-2-0-1-0", paired)))
    assert len(upright) == 8


def test_texts_are_escaped_and_what_xml_cannot_hold_is_replaced() -> None:
    """A hostile name or title stays a text."""
    hostile = attrs.evolve(GUITAR, name=HOSTILE)
    text = neck_svg(attrs.evolve(grip("C", "x-3-2-0-1-0"), instrument=hostile), title=HOSTILE)
    root = parsed(text)
    replaced = HOSTILE.replace("\x00", "\ufffd").replace("\ud800", "\ufffd")
    replaced = replaced.replace("\ufffe", "\ufffd")
    assert texts(root)[0] == replaced
    assert str(root.findtext(f"{SVG}title")).endswith(replaced)
    assert not list(elements(root, "script"))
    assert text.isascii()


def test_picture_is_told_in_words() -> None:
    """Title and description say what is seen (WAI-ARIA: an image by its role)."""
    root = parsed(neck_svg(grip("Cmaj7", "x-3-5-4-5-x")))
    assert root.attrib["role"] == "img"
    first, second = list(root)[:2]
    assert (first.tag, second.tag) == (f"{SVG}title", f"{SVG}desc")
    assert first.text == f"Cmaj7 as x-3-5-4-5-x on {GUITAR.name}"
    assert str(second.text).startswith("String 6 muted; string 5 at fret 3 with finger 1: C3")


@pytest.mark.parametrize("theme", THEMES)
def test_colours_are_explicit_and_print_is_black_on_white(theme: str) -> None:
    """No colour is left to the page around; the print theme has only two."""
    root = parsed(neck_svg(grip("F", "1-3-3-2-1-1"), theme=theme, keyboard=True))
    colours = {
        value
        for element in root.iter()
        for name, value in element.attrib.items()
        if name in {"fill", "stroke"}
    }
    assert all(colour.startswith("#") and len(colour) == 7 for colour in colours)
    if theme == "print":
        assert colours == {"#000000", "#FFFFFF"}


def _luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("name", THEMES)
def test_texts_and_marks_stand_out(name: str) -> None:
    """Texts have a contrast of 4.5 to 1 and marks of 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11)."""
    theme = THEMES[name]
    for text, ground in (
        (theme.ink, theme.page),
        (theme.faint, theme.page),
        (theme.tone.text, theme.tone.fill),
        (theme.root.text, theme.root.fill),
    ):
        assert _contrast(text, ground) >= 4.5
    for mark, ground in (
        (theme.wire, theme.page),
        (theme.nut, theme.page),
        (theme.tone.fill, theme.page),
        (theme.root.edge, theme.page),
    ):
        assert _contrast(mark, ground) >= 3


def test_colours_of_tones_are_those_of_the_published_set() -> None:
    """Okabe and Ito, "Color Universal Design" (2008): the eight colours, as its figure has them."""
    published = {
        (0, 0, 0),
        (230, 159, 0),
        (86, 180, 233),
        (0, 158, 115),
        (240, 228, 66),
        (0, 114, 178),
        (213, 94, 0),
        (204, 121, 167),
    }
    for name in ("light", "dark"):
        for paint in (THEMES[name].tone, THEMES[name].root):
            assert tuple(int(paint.fill[n : n + 2], 16) for n in (1, 3, 5)) in published


def test_width_is_what_is_asked_for() -> None:
    """The picture keeps its shape at any width."""
    root = parsed(neck_svg(grip("C", "x-3-2-0-1-0"), width=120))
    _, _, across, down = map(float, root.attrib["viewBox"].split())
    assert root.attrib["width"] == "120"
    assert at(root, "height") / 120 == pytest.approx(down / across, abs=1e-3)


@pytest.mark.parametrize("width", [0, -5, float("nan"), float("inf")])
def test_width_must_be_one(width: float) -> None:
    """Nothing can be shown at no width; a dot of a page still can."""
    with pytest.raises(ConditionError) as caught:
        neck_svg(grip("C", "x-3-2-0-1-0"), width=width)
    assert str(caught.value) == f"width cannot be {width}: expected more than 0 px"
    assert parsed(neck_svg(grip("C", "x-3-2-0-1-0"), width=0.5)).attrib["width"] == "0.5"


@pytest.mark.parametrize(
    ("arguments", "nearest"), [({"label": "degre"}, "degree"), ({"theme": "dar"}, "dark")]
)
def test_unknown_names_are_refused_with_the_nearest(
    arguments: dict[str, str], nearest: str
) -> None:
    """A misspelt label or theme says what was meant."""
    with pytest.raises(UnknownNameError, match=nearest):
        neck_svg(grip("C", "x-3-2-0-1-0"), **arguments)  # type: ignore[arg-type]


def test_grip_that_no_hand_holds_is_drawn_without_fingers() -> None:
    """Six fingers are too many: a picture there is, fingers there are none."""
    seven = Instrument.from_text("B1 E2 A2 D3 G3 B3 E4", frets=22)
    known = find_voicings(Chord.parse("C"), seven)[0]
    wild = attrs.evolve(known, frets=(1, 3, 5, 7, 9, 11, 13), names=EVERY_DEGREE)
    assert len(dots(parsed(neck_svg(wild)))) == 7
    with pytest.raises(ConditionError) as caught:
        neck_svg(wild, label="finger")
    assert str(caught.value) == (
        "label cannot be 'finger': expected another one where no fingers hold the grip"
    )


def test_grip_that_takes_a_fifth_finger_names_it() -> None:
    """Five presses are held by some hands."""
    voicing = Voicing(Chord.parse("C"), GUITAR, (1, 2, 3, 4, 5, -1), EVERY_DEGREE)
    assert "at fret 5 with finger 5" in str(parsed(neck_svg(voicing)).findtext(f"{SVG}desc"))


EVERY_DEGREE = tuple(
    map(Degree, ("1", "b9", "9", "b3", "3", "11", "#11", "5", "b13", "13", "b7", "7"))
)


SYMBOLS = st.sampled_from(["C", "Cmaj7", "F#m7b5", "Bb13", "G7/B", "D5"])


@st.composite
def voicings(draw: st.DrawFn) -> Voicing:
    """Voicings with any number of strings, on plain necks and on one with a short string."""
    count = draw(st.integers(1, 16))
    instrument = draw(st.sampled_from([number_of_strings(count), BANJO]))
    chord = Chord.parse(draw(SYMBOLS))
    # Free frets instead of a search: a picture must not depend on what a hand can hold.
    frets = draw(
        st.lists(
            st.one_of(st.just(-1), st.just(0), st.integers(6, 10)),
            min_size=len(instrument.strings),
            max_size=len(instrument.strings),
        ).filter(lambda frets: any(fret >= 0 for fret in frets))
    )
    return Voicing(chord, instrument, tuple(frets), EVERY_DEGREE)


@given(voicing=voicings(), label=st.sampled_from(sorted(set(LABELS) - {"finger"})))
def test_every_string_is_shown_and_every_text_once(voicing: Voicing, label: str) -> None:
    """One to sixteen strings: a dot for each that sounds, two strokes for each that does not."""
    root = parsed(neck_svg(voicing, label=label, title=""))
    sounding = sum(fret >= 0 for fret in voicing.frets)
    assert len(dots(root)) == sounding
    crossing = [
        one
        for one in elements(root, "line")
        if at(one, "x1") != at(one, "x2") and at(one, "y1") != at(one, "y2")
    ]
    assert len(crossing) == 2 * (len(voicing.frets) - sounding)
    rows = {"degree": 2, "none": 2}.get(label, 3)
    numbered = any(fret > 0 for fret in voicing.frets)
    assert len(texts(root)) == rows * sounding + numbered


@given(voicing=voicings())
def test_everything_lies_on_the_plane(voicing: Voicing) -> None:
    """No mark is cut off at an edge."""
    picture = neck_picture(voicing, Look())
    for one in dots(parsed(picture.svg(page="#FFFFFF"))):
        x, y = _middle(one)
        assert 8 <= x <= picture.width - 8
        assert 8 <= y <= picture.height - 8


@given(voicing=voicings())
def test_left_handed_twice_is_the_same_picture(voicing: Voicing) -> None:
    """A mirror undoes a mirror, byte by byte."""
    plain = neck_picture(voicing, Look())
    left = neck_picture(voicing, Look(left_handed=True))
    assert left.mirrored().svg(page="#FFFFFF") == plain.svg(page="#FFFFFF")
    assert left.mirrored().mirrored() == left


@given(voicing=voicings())
def test_left_handed_neck_looks_like_one_strung_the_other_way_round(voicing: Voicing) -> None:
    """From left to right the same tones at the same heights, with the same labels."""
    left = neck_svg(voicing, left_handed=True, title="")
    assert _by_string(left) == _by_string(neck_svg(reversed_neck(voicing), title=""))


def test_first_fret_of_a_left_handed_neck_stands_on_the_right() -> None:
    """The number starts clear of the bass string, as it ends clear of it on the other side."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    for left_handed, anchor in ((False, "end"), (True, "start")):
        text = neck_svg(voicing, label="none", title="", left_handed=left_handed)
        strings, _ = _lines(text)
        (number,) = [one for one in elements(parsed(text), "text") if one.text == "3"][:1]
        assert number.attrib["text-anchor"] == anchor
        outside = at(number, "x") - strings[-1] if left_handed else strings[0] - at(number, "x")
        assert outside > 8


def _by_string(text: str) -> list[tuple[int, float, str, str]]:
    """Each dot by the rank of its string, its height, its kind and its label."""
    root = parsed(text)
    labels: dict[float, list[tuple[float, str]]] = {}
    for one in elements(root, "text"):
        labels.setdefault(at(one, "x"), []).append((at(one, "y"), one.text or ""))
    found = sorted((x, y, one.tag) for one in dots(root) for x, y in [_middle(one)])
    places = [
        (x, y, tag, next(word for height, word in labels[x] if 0 < height - y < 5))
        for x, y, tag in found
    ]
    return [(round((x - found[0][0]) / GAP), y, tag, word) for x, y, tag, word in places]


@given(voicing=voicings(), look=st.tuples(st.booleans(), st.booleans()))
def test_equal_requests_give_equal_text(voicing: Voicing, look: tuple[bool, bool]) -> None:
    """Nothing but the arguments decides, and the text is ASCII."""
    keyboard, left_handed = look
    first = neck_svg(voicing, keyboard=keyboard, left_handed=left_handed)
    again = attrs.evolve(voicing)
    assert first == neck_svg(again, keyboard=keyboard, left_handed=left_handed)
    assert first.isascii()
