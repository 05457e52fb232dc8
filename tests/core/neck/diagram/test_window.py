"""Which frets a diagram shows (common practice)."""

import attrs
import pytest

from gripwright import Chord, Voicing
from gripwright.neck.diagram import Window, box_frets, window_of
from tests.core.neck.diagram.drawn import GUITAR


def held(*frets: int) -> Voicing:
    """A voicing with some frets, whatever it sounds."""
    return Voicing(Chord.parse("C"), GUITAR, frets)


@pytest.mark.parametrize(
    ("frets", "needed", "window"),
    [
        ((-1, 3, 2, 0, 1, 0), 4, Window(1, 4)),
        ((-1, -1, -1, 4, -1, -1), 4, Window(1, 4)),
        ((-1, -1, -1, 5, -1, -1), 4, Window(5, 4)),
        ((-1, -1, 2, 5, -1, -1), 4, Window(2, 4)),
        ((-1, -1, 1, 5, -1, -1), 5, Window(1, 5)),
        ((-1, -1, 2, 6, -1, -1), 5, Window(2, 5)),
        ((0, 0, 0, 0, 0, 0), 4, Window(1, 4)),
        ((-1, -1, -1, -1, -1, 22), 4, Window(19, 4)),
    ],
)
def test_window_shows_every_press_and_four_frets_at_least(
    frets: tuple[int, ...], needed: int, window: Window
) -> None:
    """At the nut where that will do, else from the lowest press; never past the last fret."""
    voicing = held(*frets)
    assert box_frets(voicing) == needed
    assert window_of(voicing) == window


def test_window_taller_than_the_neck_starts_at_the_nut() -> None:
    """There is no fret before the first."""
    short = attrs.evolve(GUITAR, frets=5)
    voicing = attrs.evolve(held(-1, -1, -1, -1, -1, 5), instrument=short)
    assert window_of(voicing, 8) == Window(1, 8)
    assert window_of(voicing, 4) == Window(2, 4)
