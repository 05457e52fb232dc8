"""The marks of sounding tones and of muted strings."""

import pytest

from gripwright.neck.diagram import THEMES, Block, Disc, Line, cross, tone_mark
from tests.core.neck.diagram.extents import extent


def test_a_circle_is_as_large_as_its_radius_says() -> None:
    """Its outline lies within."""
    dot = tone_mark(10.0, 20.0, 6.0, THEMES["light"].tone, square=False)
    assert isinstance(dot, Disc)
    painted = extent(dot)
    assert (painted.left, painted.top, painted.right, painted.bottom) == (4.0, 14.0, 16.0, 26.0)


def test_a_square_is_about_as_large_as_the_circle_beside_it() -> None:
    """It stands around the same middle, and neither stands out by its size."""
    square = tone_mark(10.0, 20.0, 6.0, THEMES["light"].root, square=True)
    assert isinstance(square, Block)
    painted = extent(square)
    assert painted.middle == (10.0, 20.0)
    assert (
        painted.right - painted.left == painted.bottom - painted.top == pytest.approx(12, abs=0.5)
    )


def test_a_cross_is_two_strokes_of_ink_through_one_middle() -> None:
    """The strokes lean to either side, alike, and take no more room than a dot."""
    theme = THEMES["dark"]
    strokes = [mark for mark in cross(10.0, 20.0, theme) if isinstance(mark, Line)]
    down, up = strokes
    for stroke in strokes:
        assert ((stroke.x1 + stroke.x2) / 2, (stroke.y1 + stroke.y2) / 2) == (10.0, 20.0)
        assert stroke.colour == theme.ink
        assert abs(stroke.x2 - stroke.x1) == abs(stroke.y2 - stroke.y1) == 8.0
    assert (down.y2 - down.y1) * (up.y2 - up.y1) < 0
