"""Bars as they are written, each with all that holds in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, Generic, TypeVar

import attrs

from gripwright.meter import Hit, Meter
from gripwright.tune.bar import Bar, Slot
from gripwright.tune.key import Key
from gripwright.tune.section import Section, Settings

S = TypeVar("S")

COMMON_TIME: Final = Meter(4, 4)
"""The metre of a chart that names none."""

_NOTHING: Final = Fraction(0)


@attrs.frozen
class WrittenBar(Generic[S]):
    r"""A bar of a chart in its context.

    Args:
        index: Its place among the bars of the chart, counted from 0.
        section: The index of its section.
        opens: Whether it is the first bar of its section.
        name: The name of the section, if any.
        bar: The bar itself, with its signs.
        slots: Its chords; of ``%``, those of the bar before.
        hits: Its hits; of ``%``, those of the bar before.
        meter: The metre in it.
        settings: Key, tempo and feel in it, and the metre of its section.
        lead_in: Quarters that the first bar lacks at its start, where it is a pickup; else 0.
        length: Quarters in the bar.

    Example:
        >>> from gripwright import Chart
        >>> bar = Chart.parse("pickup: 1\n| G7 | Cmaj7 | % |").written[2]
        >>> [str(slot.symbol) for slot in bar.slots], bar.length
        (['Cmaj7'], Fraction(4, 1))
    """

    index: int
    section: int
    opens: bool
    name: str | None
    bar: Bar[S]
    slots: tuple[Slot[S], ...]
    hits: tuple[Hit, ...] | None
    meter: Meter
    settings: Settings
    lead_in: Fraction
    length: Fraction

    @property
    def coda(self) -> bool:
        """Whether the coda starts here: by the sign, or as a section of that name."""
        return self.bar.coda or (
            self.opens and self.name is not None and self.name.lower() == "coda"
        )

    @property
    def key(self) -> Key | None:
        """The key in it, if the chart says."""
        return self.settings.key

    @property
    def tempo_bpm(self) -> int | None:
        """Beats a minute in it, if the chart says."""
        return self.settings.tempo_bpm

    @property
    def feel(self) -> str | None:
        """The feel in it, if the chart says."""
        return self.settings.feel


def write_out(
    sections: Sequence[Section[S]], settings: Settings, pickup: Fraction
) -> Iterator[WrittenBar[S]]:
    """Put every bar of a chart into its context.

    Args:
        sections: The sections.
        settings: What holds where a section says nothing.
        pickup: Quarters in the first bar, where it is shorter than its metre; else 0.

    Returns:
        The bars in their order.
    """
    index = 0
    before: tuple[tuple[Slot[S], ...], tuple[Hit, ...] | None] = (), None
    for number, section in enumerate(sections):
        here = section.settings.over(settings)
        usual = here.meter or COMMON_TIME
        full = usual.length
        for place, bar in enumerate(section.bars):
            meter = bar.meter or usual
            length = full if bar.meter is None else meter.length
            if not bar.same:
                before = bar.slots, bar.hits
            starts_late = index == 0 and pickup
            yield WrittenBar(
                index,
                number,
                place == 0,
                section.name,
                bar,
                *before,
                meter,
                here,
                length - pickup if starts_late else _NOTHING,
                pickup if starts_late else length,
            )
            index += 1
