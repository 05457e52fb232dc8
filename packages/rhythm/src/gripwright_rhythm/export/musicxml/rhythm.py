"""Rhythm of a voice: its segments as written notes, alike for alike bars."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from gripwright_rhythm.export.musicxml.beam import beams_of
from gripwright_rhythm.export.musicxml.figure import Figure, Stretch, figures_of
from gripwright_rhythm.export.musicxml.grid import Grid
from gripwright_rhythm.export.musicxml.track import Segment

Beams = tuple[str, ...]

_Look = tuple[tuple[int, int, bool], ...]


@attrs.frozen
class RhythmWriter:
    """Writes rhythms, each of them once: most bars of a drill have the same few.

    Example:
        >>> from gripwright import Meter
        >>> grid = Grid(Meter(2, 4), 0, 4, 2)
        >>> for figure, beams in RhythmWriter().write(grid, [Segment(0, 3), Segment(3, 4)]):
        ...     print(figure.value.type, beams)
        quarter ()
        eighth ()
        eighth ()
    """

    _written: dict[tuple[Grid, _Look], tuple[tuple[Figure, Beams], ...]] = attrs.field(
        factory=dict, init=False, eq=False, repr=False
    )

    def write(self, grid: Grid, segments: Sequence[Segment]) -> tuple[tuple[Figure, Beams], ...]:
        """The figures of a voice in a bar, each with its beams.

        Args:
            grid: The grid of the bar.
            segments: What the voice does in it.
        """
        look = tuple((one.start, one.end, one.sound is None) for one in segments)
        found = self._written.get((grid, look))
        if found is None:
            figures = figures_of(grid, [Stretch(*one) for one in look])
            sounds = [segments[figure.index].sound is not None for figure in figures]
            found = tuple(zip(figures, beams_of(grid, figures, sounds), strict=True))
            self._written[grid, look] = found
        return found
