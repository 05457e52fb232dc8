"""Shapes: the frets of a grip, in text and as numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Shape
from gripwright.errors import NotationError


def test_a_shape_is_read_and_written() -> None:
    """Muted is x, open is 0, strings from the bass side to the treble side."""
    shape = Shape.parse("x-3-2-0-1-0")
    assert shape.frets == (-1, 3, 2, 0, 1, 0)
    assert str(shape) == "x-3-2-0-1-0"


@given(st.lists(st.integers(-1, 24), min_size=2, max_size=10).map(tuple))
def test_reading_returns_what_was_written(frets: tuple[int, ...]) -> None:
    """Text and frets say the same, from two strings on: "12" alone is read as two frets."""
    assert Shape.parse(str(Shape(frets))) == Shape(frets)
    assert Shape.parse(str(Shape(frets))).frets == frets


def test_hyphens_may_be_left_out_of_single_digits() -> None:
    """Players also write a shape closely, where no fret has two digits."""
    assert Shape.parse("x35453") == Shape((-1, 3, 5, 4, 5, 3))
    with pytest.raises(NotationError) as caught:
        Shape.parse("x35y53")
    assert caught.value.position == 3
    assert caught.value.what == "shape"
    assert caught.value.expected == "x or a fret"


@given(st.text(alphabet="x0123-X +", max_size=12))
def test_any_text_is_a_shape_or_an_error_with_its_place(text: str) -> None:
    """Nothing else is raised, and the place lies in the text or at its end."""
    try:
        shape = Shape.parse(text)
    except NotationError as error:
        assert error.text == text
        assert 0 <= error.position <= len(text)
        assert error.expected
    else:
        assert all(-1 <= fret < 100 for fret in shape.frets)
        assert len(shape.frets) == len(text.replace("-", "")) or "-" in text


@pytest.mark.parametrize(
    ("text", "position", "expected"),
    [
        ("x-3-y-4-5-x", 4, "x or a fret"),
        ("", 0, "x or a fret"),
        ("x-3-", 4, "x or a fret"),
        ("x--3", 2, "x or a fret"),
        ("-1-3", 0, "x or a fret"),
        ("x-3 5", 3, "a hyphen or the end"),
        ("x-3-5.", 5, "a hyphen or the end"),
        ("x-3-123", 6, "a hyphen or the end"),
    ],
)
def test_an_unreadable_shape_is_refused_at_its_place(
    text: str, position: int, expected: str
) -> None:
    """The error tells where the text stops being a shape, and what could stand there."""
    with pytest.raises(NotationError) as caught:
        Shape.parse(text)
    assert caught.value.what == "shape"
    assert caught.value.position == position
    assert caught.value.expected == expected


def test_equal_shapes_are_one() -> None:
    """A shape is a value."""
    assert Shape((-1, 3, 5)) == Shape.parse("x-3-5")
    assert len({Shape((-1, 3, 5)), Shape.parse("x-3-5")}) == 1
