"""Laws of written rhythm: what is written lasts what sounds."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from gripwright import Meter
from gripwright_rhythm.export.musicxml.beam import beams_of
from gripwright_rhythm.export.musicxml.figure import Figure, Stretch, figures_of
from gripwright_rhythm.export.musicxml.grid import Grid

METERS = [
    Meter.parse(text) for text in ("4/4", "3/4", "6/8", "12/8", "5/4", "3+2/8", "2/2", "7/16")
]


@st.composite
def voices(draw: st.DrawFn, parts: list[int], meters: list[Meter]) -> tuple[Grid, list[Stretch]]:
    """Return a bar and what a voice does in it, on a grid of one of these parts of a unit."""
    meter = draw(st.sampled_from(meters))
    divisions = draw(st.sampled_from(parts)) * meter.unit // 2
    length = int(meter.length * divisions)
    lead_in = draw(st.sampled_from([0, 0, length // meter.count]))
    length -= lead_in
    cuts = draw(st.sets(st.integers(1, length - 1), max_size=6))
    places = sorted({0, length, *cuts})
    stretches = [Stretch(start, end, draw(st.booleans())) for start, end in pairwise(places)]
    return Grid(meter, lead_in, length, divisions), stretches


ANY = voices([2, 4, 6, 10, 14, 24, 48, 202, 2048], METERS)
READABLE = voices([2, 4, 6, 10], [meter for meter in METERS if meter.unit <= 8])


def lasts(figure: Figure, grid: Grid) -> Fraction:
    """Return what a figure lasts, in parts of a whole note."""
    return Fraction(figure.end - figure.start, 4 * grid.divisions)


@given(ANY)
def test_figures_fill_the_bar_without_a_gap(voice: tuple[Grid, list[Stretch]]) -> None:
    """Each starts where the one before ends, and lies in the stretch that it is part of."""
    grid, stretches = voice
    place = 0
    for figure in figures_of(grid, stretches):
        assert figure.start == place < figure.end
        assert stretches[figure.index].start <= figure.start
        assert figure.end <= stretches[figure.index].end
        place = figure.end
    assert place == grid.length


@given(READABLE)
def test_values_last_what_they_say(voice: tuple[Grid, list[Stretch]]) -> None:
    """Type, dots and tuplet of each make exactly its duration."""
    grid, stretches = voice
    for figure in figures_of(grid, stretches):
        assert figure.value is None or figure.value.length == lasts(figure, grid)


@given(ANY)
def test_values_that_cannot_last_that_are_the_nearest_below(
    voice: tuple[Grid, list[Stretch]],
) -> None:
    """What no tuplet can show has a plain value, no longer than it unless it is the shortest."""
    grid, stretches = voice
    for figure in figures_of(grid, stretches):
        if figure.value is not None and figure.value.length != lasts(figure, grid):
            assert (figure.value.dots, figure.value.actual) == (0, 1)
            shortest = figure.value.type == "128th"
            assert shortest or figure.value.length < lasts(figure, grid) < 2 * figure.value.length


@given(ANY)
def test_tuplets_open_and_close(voice: tuple[Grid, list[Stretch]]) -> None:
    """Every start has its stop, none inside another, and all between have one ratio."""
    grid, stretches = voice
    inside: tuple[int, int] | None = None
    for figure in figures_of(grid, stretches):
        ratio = (figure.value.actual, figure.value.normal) if figure.value else (1, 1)
        if figure.edge == "start":
            assert inside is None
            inside = ratio
        assert inside in {None, ratio}
        if figure.edge == "stop":
            assert inside is not None
            inside = None
    assert inside is None


@given(READABLE)
def test_beams_open_and_close(voice: tuple[Grid, list[Stretch]]) -> None:
    """At every level; none over a rest or a longer note, none over a pulse."""
    grid, stretches = voice
    figures = figures_of(grid, stretches)
    beams = beams_of(grid, figures, [not stretches[one.index].rest for one in figures])
    opened: dict[int, int] = {}
    for figure, names in zip(figures, beams, strict=True):
        pulse = grid.pulse_of(figure.start)
        for level in opened:
            assert level < len(names)
            assert names[level] in {"continue", "end"}
        for level, name in enumerate(names):
            if name == "begin":
                opened[level] = pulse
            elif name in {"continue", "end"}:
                assert opened[level] == pulse
                if name == "end":
                    del opened[level]
    assert not opened
