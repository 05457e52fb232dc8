"""Beams: notes shorter than a quarter are joined within a pulse."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from gripwright_rhythm.export.musicxml.figure import Figure
from gripwright_rhythm.export.musicxml.grid import Grid


def beams_of(
    grid: Grid, figures: Sequence[Figure], sounds: Sequence[bool]
) -> tuple[tuple[str, ...], ...]:
    """The beams of each figure.

    Args:
        grid: The grid of the bar.
        figures: The notes and rests of a voice in the bar.
        sounds: Of each, whether it is a note.

    Returns:
        For each figure its beams from the first level on, as MusicXML names them.

    Example:
        >>> from gripwright.meter import Meter
        >>> from gripwright_rhythm.export.musicxml.figure import Stretch, figures_of
        >>> grid = Grid(Meter(2, 4), 0, 8, 4)
        >>> voice = [Stretch(0, 2, False), Stretch(2, 3, False), Stretch(3, 8, False)]
        >>> figures = figures_of(grid, voice)
        >>> beams_of(grid, figures, [True] * 4)
        (('begin',), ('continue', 'begin'), ('end', 'end'), ())
    """

    def joined(number: int) -> tuple[int, int]:
        value = figures[number].value
        flags = value.flags if value is not None and sounds[number] else 0
        # A number of its own where there is nothing to join.
        return (grid.pulse_of(figures[number].start), -1 if flags else number)

    beams: list[tuple[str, ...]] = []
    for (_, alone), numbers in groupby(range(len(figures)), key=joined):
        group = [figures[number] for number in numbers]
        if alone >= 0 or len(group) == 1:
            beams += [()] * len(group)
        else:
            flags = [figure.value.flags for figure in group if figure.value is not None]
            beams += [tuple(_levels(flags, index)) for index in range(len(flags))]
    return tuple(beams)


def _levels(flags: list[int], index: int) -> Iterator[str]:
    before = flags[index - 1] if index else 0
    after = flags[index + 1] if index + 1 < len(flags) else 0
    for level in range(1, flags[index] + 1):
        if before >= level and after >= level:
            yield "continue"
        elif after >= level:
            yield "begin"
        elif before >= level:
            yield "end"
        else:
            yield "backward hook" if index else "forward hook"
