"""Charts behind a capo: what sounds, and what is gripped."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.tune.chart import Chart
from gripwright.tune.transpose import interval_for, transposed

HIGHEST_CAPO: Final = 11
"""The highest fret of a capo whose chart is other than one without it."""


@attrs.frozen
class CapoSymbol:
    """A chord of a chart behind a capo.

    Args:
        bar: The bar as written, counted from 0.
        sounding: The chord that sounds.
        played: The chord whose grip is played.
    """

    bar: int
    sounding: Chord
    played: Chord


@attrs.frozen
class CapoChart:
    r"""A chart as it sounds and as it is gripped behind a capo.

    Args:
        sounding: The chart as it sounds.
        played: The same bars with the names of the grips.
        capo: The fret of the capo.

    Example:
        >>> chart = capo_chart(Chart.parse("key: Ab\n| Ab Fm7 | Eb7/G |"), 1)
        >>> print(chart.played)
        key: G
        | G Em7 | D7/F# |
        >>> [(str(one.sounding), str(one.played)) for one in chart.symbols][-1]
        ('Eb7/G', 'D7/F#')
    """

    sounding: Chart[Chord]
    played: Chart[Chord]
    capo: int

    @property
    def symbols(self) -> tuple[CapoSymbol, ...]:
        """Every chord as written, in order, with both names; N.C. and ``%`` are left out."""
        bars = zip(self.sounding.bars, self.played.bars, strict=True)
        return tuple(
            CapoSymbol(index, one.symbol, two.symbol)
            for index, (sounding, played) in enumerate(bars)
            for one, two in zip(sounding.slots, played.slots, strict=True)
            if one.symbol is not None and two.symbol is not None
        )


def capo_chart(chart: Chart[Chord], capo: int) -> CapoChart:
    """A chart for a player who puts a capo on.

    Args:
        chart: The chart as it shall sound.
        capo: The fret of the capo, 0 to 11.

    Returns:
        The chart, and the grips' names: all chords lower by the capo, spelled for the key in
        which they are then gripped.

    Raises:
        ConditionError: The capo is out of range.

    Example:
        >>> str(capo_chart(Chart.parse("| Bbm Gb |"), 6).played)
        '| Em C |'
    """
    if isinstance(capo, bool) or not isinstance(capo, int) or not 0 <= capo <= HIGHEST_CAPO:
        raise ConditionError(name="capo", value=capo, expected=f"a fret from 0 to {HIGHEST_CAPO}")
    return CapoChart(chart, transposed(chart, interval_for(chart, -capo)), capo)
