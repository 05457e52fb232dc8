"""Marks and pictures: moved, mirrored, scaled, and read back from their SVG."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright.neck.diagram import Block, Disc, Line, Mark, Picture, Words, number
from gripwright.neck.diagram.picture import document, size_within, width_in_ems
from tests.core.neck.diagram.drawn import SVG, at, elements, parsed
from tests.core.neck.diagram.extents import Extent, extent

places = st.integers(-40, 40).map(lambda half: half / 2)
sizes = st.integers(1, 40).map(lambda half: half / 2)
colours = st.sampled_from(["#000000", "#0072B2", "#E69F00"])
kinds = (
    st.builds(Line, places, places, places, places, sizes, colours),
    st.builds(Disc, places, places, sizes, colours, colours, sizes),
    st.builds(Block, places, places, sizes, sizes, colours, colours, sizes, sizes),
    st.builds(
        Words,
        places,
        places,
        st.sampled_from(["Cmaj7", "b9", "W"]),
        sizes,
        colours,
        st.sampled_from(["start", "middle", "end"]),
        st.booleans(),
    ),
)
marks = st.one_of(*kinds)
of_each_kind = st.tuples(*kinds)


def edges(mark: Mark) -> tuple[float, ...]:
    """The edges of a mark, to be compared."""
    painted = extent(mark)
    return painted.left, painted.top, painted.right, painted.bottom


def looks(mark: Mark) -> list[object]:
    """What of a mark no move changes: its kind, its colours, its text and its weight."""
    kept = ("colour", "fill", "edge", "text", "bold")
    return [type(mark), *(getattr(mark, name, None) for name in kept)]


@given(some=of_each_kind, x=places, y=places)
def test_moved_mark_is_the_same_farther_on(some: tuple[Mark, ...], x: float, y: float) -> None:
    """Every edge moves alike, and it moves back."""
    for mark in some:
        left, top, right, bottom = edges(mark)
        assert edges(mark.moved(x, y)) == pytest.approx((left + x, top + y, right + x, bottom + y))
        assert looks(mark.moved(x, y)) == looks(mark)
        assert mark.moved(x, y).moved(-x, -y) == mark


@given(some=of_each_kind, width=sizes)
def test_mirrored_mark_is_as_far_from_the_other_side(some: tuple[Mark, ...], width: float) -> None:
    """Left and right change places, heights stay, texts stay readable."""
    for mark in some:
        left, top, right, bottom = edges(mark)
        mirrored = mark.mirrored(width)
        assert edges(mirrored) == pytest.approx((width - right, top, width - left, bottom))
        assert looks(mirrored) == looks(mark)
        assert mirrored.mirrored(width) == mark


@given(some=of_each_kind, by=st.sampled_from([0.5, 2.0, 4.0]))
def test_scaled_mark_is_so_many_times_as_large(some: tuple[Mark, ...], by: float) -> None:
    """Outlines and corners too: seen from afar it looks the same."""
    for mark in some:
        assert edges(mark.scaled(by)) == pytest.approx(tuple(edge * by for edge in edges(mark)))
        assert looks(mark.scaled(by)) == looks(mark)
        assert mark.scaled(by).scaled(1 / by) == mark
        for name in ("width", "edge_width", "corner", "size", "radius"):
            assert getattr(mark.scaled(by), name, 0.0) == getattr(mark, name, 0.0) * by


@given(some=of_each_kind)
def test_mark_is_written_as_it_lies(some: tuple[Mark, ...]) -> None:
    """Read back by the rules of SVG 1.1, its edges and colours are its own.

    A circle is given by its middle, a rectangle by its corner, a text by its baseline; a stroke
    lies half on either side.
    """
    for mark in some:
        root = parsed(Picture(100, 50, (mark,)).svg(page="#FFFFFF"))
        (one,) = list(root)[3:]
        kind = one.tag.removeprefix(SVG)
        if isinstance(mark, Words):
            assert kind == "text"
            assert (one.text, one.attrib["text-anchor"]) == (mark.text, mark.anchor)
            assert (at(one, "x"), at(one, "font-size")) == (mark.x, mark.size)
            # Capitals rise about 0.72 of the size over the baseline.
            assert at(one, "y") == pytest.approx(mark.y + 0.36 * mark.size, abs=0.006)
            assert one.attrib.get("font-weight") == ("bold" if mark.bold else None)
            assert one.attrib["fill"] == mark.colour
            continue
        half = at(one, "stroke-width") / 2
        if isinstance(mark, Line):
            assert kind == "line"
            assert (one.attrib["stroke"], one.attrib["stroke-linecap"]) == (mark.colour, "round")
            across, down = ((at(one, f"{axis}1"), at(one, f"{axis}2")) for axis in "xy")
            assert {*zip(across, down, strict=True)} == {(mark.x1, mark.y1), (mark.x2, mark.y2)}
        else:
            assert (one.attrib["fill"], one.attrib["stroke"]) == (mark.fill, mark.edge)
            if isinstance(mark, Disc):
                assert kind == "circle"
                x, y, radius = at(one, "cx"), at(one, "cy"), at(one, "r")
                across, down = (x - radius, x + radius), (y - radius, y + radius)
            else:
                assert (kind, at(one, "rx")) == ("rect", mark.corner)
                x, y = at(one, "x"), at(one, "y")
                across, down = (x, x + at(one, "width")), (y, y + at(one, "height"))
        read = (min(across) - half, min(down) - half, max(across) + half, max(down) + half)
        assert read == pytest.approx(edges(mark))


@given(some=st.lists(marks, max_size=4), x=sizes, y=sizes)
def test_picture_moves_mirrors_and_scales_with_its_marks(
    some: list[Mark], x: float, y: float
) -> None:
    """Its plane grows with it, its words stay."""
    picture = Picture(30.0, 20.0, tuple(some), "a title", "a description")
    moved, mirrored, scaled = picture.moved(x, y), picture.mirrored(), picture.scaled(2.0)
    assert (moved.width, moved.height) == (30.0 + x, 20.0 + y)
    assert (mirrored.width, mirrored.height) == (30.0, 20.0)
    assert (scaled.width, scaled.height) == (60.0, 40.0)
    for after in (moved, mirrored, scaled):
        assert (after.title, after.description) == ("a title", "a description")
    assert list(moved.marks) == [mark.moved(x, y) for mark in some]
    assert list(mirrored.marks) == [mark.mirrored(30.0) for mark in some]
    assert list(scaled.marks) == [mark.scaled(2.0) for mark in some]


def test_a_line_drawn_backwards_is_the_same_line() -> None:
    """So that a picture mirrored twice has the same bytes."""
    for x, y in product((1.0, 5.0), repeat=2):
        forth = Line(3.0, 3.0, x, y, 1.0, "#000000")
        assert forth.svg() == Line(x, y, 3.0, 3.0, 1.0, "#000000").svg()


def test_document_tells_its_size_and_its_ground() -> None:
    """One and a half px a unit, or the width that is asked for; the ground covers the plane."""
    picture = Picture(40.0, 20.5, (), "a title", "what is seen")
    root = parsed(picture.svg(page="#16181C"))
    assert (root.attrib["width"], root.attrib["height"]) == ("60", "30.75")
    assert (root.attrib["viewBox"], root.attrib["role"]) == ("0 0 40 20.5", "img")
    # Fonts that need no file of ours, and none where there is another (CSS: a generic family).
    assert root.attrib["font-family"].endswith("sans-serif")
    title, told, ground = root
    assert (title.text, told.text) == ("a title", "what is seen")
    assert ground.attrib == {"width": "40", "height": "20.5", "fill": "#16181C"}
    wide = parsed(picture.svg(page="#16181C", width=400.0))
    assert (wide.attrib["width"], wide.attrib["height"]) == ("400", "205")
    assert wide.attrib["viewBox"] == "0 0 40 20.5"


def test_group_is_a_picture_in_a_picture() -> None:
    """It has its place, its role and its own words."""
    picture = Picture(40.0, 20.0, (Disc(1, 2, 3, "#000000", "#000000"),), "a title", "seen")
    text = picture.group(12.5, 7.25)
    root = parsed(f'<svg xmlns="http://www.w3.org/2000/svg">{text}</svg>')
    (group,) = elements(root, "g")
    assert group.attrib == {"transform": "translate(12.5 7.25)", "role": "img"}
    assert [one.tag for one in group] == [f"{SVG}title", f"{SVG}desc", f"{SVG}circle"]
    assert text.endswith("</g>\n")


def test_document_shows_pictures_in_a_picture() -> None:
    """They come after its own marks, so that they lie over them, in their order."""
    ground = Picture(210.0, 297.0, (Line(0, 9, 210, 9, 1, "#000000"),), "a page", "seen")
    one = Picture(40.0, 20.0, (Disc(1, 2, 3, "#000000", "#000000"),), "a part")
    parts = (one.group(10.0, 20.0), one.group(60.0, 20.0))
    root = parsed(
        document(ground, shown="210mm 297mm", role="group", page="#FFFFFF", parts=iter(parts))
    )
    assert root.attrib["role"] == "group"
    assert (root.attrib["width"], root.attrib["height"]) == ("210mm", "297mm")
    assert root.attrib["viewBox"] == "0 0 210 297"
    assert [one.tag.removeprefix(SVG) for one in root][3:] == ["line", "g", "g"]
    assert [one.attrib["transform"] for one in elements(root, "g")] == [
        "translate(10 20)",
        "translate(60 20)",
    ]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (10.0, "10"), (100.0, "100"), (0.126, "0.13"), (-0.004, "0"), (-1.5, "-1.5")],
)
def test_numbers_are_short(value: float, text: str) -> None:
    """To a hundredth, without zeros that say nothing."""
    assert number(value) == text


def test_texts_keep_within_their_room() -> None:
    """Large where there is room, else as wide as the room; wide letters need more of it."""
    assert size_within("C", 100.0, 12.0) == 12.0
    for text in ("Cmaj7#11", "F#m7b5", "WWWW"):
        assert size_within(text, 10.0, 12.0) * width_in_ems(text) == pytest.approx(10.0)
    assert width_in_ems("") == 0.0
    assert width_in_ems("il") < width_in_ems("xx") < width_in_ems("XX") < width_in_ems("WW")
    assert width_in_ems("\u266d") > width_in_ems("b")
    # A sign alone is no larger than a usual one would be, however narrow.
    assert size_within("i", 5.0, 12.0) == size_within("x", 5.0, 12.0)


def test_extents_meet_and_hold() -> None:
    """The measure of these tests itself: beside is not over."""
    one = Extent(0, 0, 2, 2)
    assert one.meets(Extent(1, 1, 3, 3))
    assert not one.meets(Extent(2, 0, 3, 2))
    assert one.holds(Extent(0, 1, 2, 2))
    assert not one.holds(Extent(0, 1, 2.1, 2))
