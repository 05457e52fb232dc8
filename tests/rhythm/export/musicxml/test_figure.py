"""Written rhythms, one by one: how a bar is divided (common practice)."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, pairwise

import pytest

from gripwright import Meter
from gripwright_rhythm.export.musicxml.figure import Stretch, figures_of
from gripwright_rhythm.export.musicxml.grid import Grid

_SHORT = {
    "whole": "1",
    "half": "2",
    "quarter": "4",
    "eighth": "8",
    "16th": "16",
    "32nd": "32",
    "128th": "128",
}


def written(meter: str, lengths: str, lead_in: int = 0) -> str:
    """Return the figures of quarters such as ``"1 r1/2 5/2"``: rests with r, ties with a tilde."""
    words = lengths.split()
    quarters = [Fraction(word.removeprefix("r")) for word in words]
    divisions = 5040
    places = [int(place * divisions) for place in accumulate(quarters, initial=Fraction(0))]
    stretches = [
        Stretch(start, end, word.startswith("r"))
        for (start, end), word in zip(pairwise(places), words, strict=True)
    ]
    grid = Grid(Meter.parse(meter), lead_in * divisions, places[-1], divisions)
    found = []
    for figure in figures_of(grid, stretches):
        value, stretch = figure.value, stretches[figure.index]
        text = "r" if stretch.rest else ""
        text += "bar" if value is None else _SHORT[value.type] + "." * value.dots
        if value is not None and value.actual > 1:
            text += f"({value.actual}:{value.normal})"
        found.append(text + "~" * (not stretch.rest and figure.end < stretch.end))
    return " ".join(found)


@pytest.mark.parametrize(
    ("meter", "lengths", "figures"),
    [
        pytest.param("4/4", "4", "1", id="a whole bar"),
        pytest.param("4/4", "r4", "rbar", id="a silent bar"),
        pytest.param("3/4", "3", "2.", id="a whole bar of three"),
        pytest.param("5/4", "5", "1~ 4", id="no value lasts five quarters"),
        pytest.param("3+2/4", "5", "2.~ 2", id="a bar in groups"),
        pytest.param("4/4", "3/2 5/2", "4. 8~ 2", id="the dotted-quarter cell"),
        pytest.param("4/4", "r1/2 1 1/2 r2", "r8 8~ 8 8 r2", id="off the beat, the beat is seen"),
        pytest.param("4/4", "r1 2 r1", "r4 4~ 4 r4", id="the middle of four is seen"),
        pytest.param("4/4", "3 r1", "2. r4", id="from the first beat nothing is hidden"),
        pytest.param("4/4", "1 r3", "4 r4 r2", id="rests show the middle"),
        pytest.param("3/4", "1 r2", "4 r4 r4", id="rests show each of three beats"),
        pytest.param("4/4", "r3/2 5/2", "r4 r8 8~ 2", id="no dotted rests in simple metres"),
        pytest.param("6/8", "3/2 r3/2", "4. r4.", id="but in compound ones"),
        pytest.param("6/8", "r1/2 1 3/2", "r8 4 4.", id="inside a dotted beat"),
        pytest.param("4/4", "1/4 1/2 1/4 3", "16 8 16 4~ 2", id="inside a beat"),
        pytest.param("4/4", "1/3 1/3 1/3 3", "8(3:2) 8(3:2) 8(3:2) 4~ 2", id="a triplet"),
        pytest.param("4/4", "2/3 10/3", "4(3:2) 8(3:2)~ 4~ 2", id="a triplet that holds"),
        pytest.param(
            "4/4", "1/2 1/6 1/6 1/6 3", "8 16(3:2) 16(3:2) 16(3:2) 4~ 2", id="half a beat"
        ),
        pytest.param("4/4", "2/5 18/5", "8(5:4) 8.(5:4)~ 4~ 2", id="a quintuplet"),
        pytest.param("4/4", "1/7 r6/7 3", "16(7:4) r4.(7:4) 4~ 2", id="a septuplet"),
        pytest.param("4/4", "1/210 839/210", "128 8~ 4~ 2", id="finer than any tuplet"),
    ],
)
def test_a_bar_is_written(meter: str, lengths: str, figures: str) -> None:
    """Values, dots, tuplets and ties of a voice."""
    assert written(meter, lengths) == figures


def test_a_pickup_is_divided_by_the_bar_that_it_ends() -> None:
    """A dotted quarter before the bar shows the last beat of the bar."""
    assert written("4/4", "1 1/2", lead_in=0) == "4 8"
    grid = Grid(Meter(4, 4), 5, 3, 2)
    assert [
        one.value and one.value.type for one in figures_of(grid, [Stretch(0, 3, rest=False)])
    ] == [
        "eighth",
        "quarter",
    ]
