"""Windows: the frets of the neck that a diagram shows."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.neck.voicing import Voicing

LEAST_FRETS: Final = 4
"""Frets that a diagram shows at least (common practice)."""


@attrs.frozen
class Window:
    """Consecutive frets of a neck.

    Args:
        first: The first fret shown; 1 lies at the nut.
        count: How many are shown.

    Example:
        >>> list(Window(5, 4).frets), Window(5, 4).at_nut
        ([5, 6, 7, 8], False)
    """

    first: int
    count: int

    @property
    def frets(self) -> range:
        """The frets, from the nut on."""
        return range(self.first, self.first + self.count)

    @property
    def at_nut(self) -> bool:
        """Whether the nut is shown."""
        return self.first == 1


def box_frets(voicing: Voicing) -> int:
    """The frets that the box of a voicing needs: those it spans, and four at least.

    Args:
        voicing: The voicing.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
        >>> box_frets(find_voicings(Chord.parse("C"), ukulele)[0])
        4
    """
    fretted = [fret for fret in voicing.frets if fret > 0]
    return max(LEAST_FRETS, max(fretted) - min(fretted) + 1) if fretted else LEAST_FRETS


def window_of(voicing: Voicing, frets: int | None = None) -> Window:
    """The window through which a voicing is drawn.

    It starts at the nut where the highest fretted note lies within the frets that the voicing
    needs, else at the lowest fretted note.

    Args:
        voicing: The voicing.
        frets: Frets to show, so that several diagrams have one height; what `box_frets` says
            where it is None or less than that.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar)
        >>> window_of(next(one for one in table if one.shape == "x-10-10-9-12-x"))
        Window(first=9, count=4)
    """
    needed = box_frets(voicing)
    count = max(frets or 0, needed)
    fretted = [fret for fret in voicing.frets if fret > 0]
    # By the frets it needs, not by those it is given: a neighbour's height moves no grip.
    if not fretted or max(fretted) <= needed:
        return Window(1, count)
    # A window made taller than it needs to be must not run off the end of the neck.
    return Window(max(1, min(*fretted, voicing.instrument.frets - count + 1)), count)
