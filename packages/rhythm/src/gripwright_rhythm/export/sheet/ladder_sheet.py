"""The ladder of practice on paper: each rung as strips of time, and every place of the bar."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.meter import Meter
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.overview import Example, OverviewRow, overview_pages
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.ladder import place_rows, rungs_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright_rhythm.export.sheet.page import Page
    from gripwright_rhythm.ladder import Part, Rung

_SHOWN: Final = 2
_PLACES: Final = 2
_NOTE: Final = (
    "Go on to the next rung after two choruses without a missed change and with steady time."
    " In most rungs there are more drills than two: the first that differ are shown."
)


def ladder_pages(
    meter: Meter | None = None, *, paper: str = "a4", theme: str = "print"
) -> tuple[Page, ...]:
    """Draw the ladder, and under it every place of the bar, long and short: two pages at most.

    Args:
        meter: The metre; 4/4 if not given.
        paper: A name of `PAPERS`.
        theme: A name of `gripwright.diagram.THEMES`.

    Raises:
        UnknownNameError: There is no such paper or theme.
        ConditionError: The metre is one that no rung is for.

    Example:
        >>> 1 <= len(ladder_pages(Meter(4, 4), paper="letter")) <= 2
        True
    """
    meter = Meter() if meter is None else meter
    return overview_pages(
        [*_rungs(meter), *_places(meter)],
        meter,
        title=f"The ladder of practice in {meter}",
        note=_NOTE,
        paper=PAPERS[paper],
        colours=Colours.of(theme),
    )


def rung_pages(
    rung: Rung, parts: Sequence[Part], meter: Meter, *, paper: str = "a4", theme: str = "print"
) -> tuple[Page, ...]:
    """Draw the drills of one rung.

    Args:
        rung: The rung.
        parts: Its drills in the metre, in order.
        meter: The metre.
        paper: A name of `PAPERS`.
        theme: A name of `gripwright.diagram.THEMES`.

    Raises:
        UnknownNameError: There is no such paper or theme.

    Example:
        >>> from gripwright_rhythm.ladder import rung
        >>> len(rung_pages(rung(12), rung(12).parts(Meter()), Meter()))
        1
    """
    rows = [
        OverviewRow(str(number), part.sentence, (Example(part.pattern, part.click),))
        for number, part in enumerate(parts, 1)
    ]
    return overview_pages(
        rows,
        meter,
        title=f"Rung {rung.number} of the ladder in {meter}",
        note=rung.sentence,
        paper=PAPERS[paper],
        colours=Colours.of(theme),
    )


def _rungs(meter: Meter) -> Iterator[OverviewRow]:
    for rung in rungs_in(meter):
        shown = _examples(rung, meter)
        examples = tuple(Example(part.pattern, part.click, part.sentence) for part in shown)
        yield OverviewRow(str(rung.number), rung.sentence, examples)


def _examples(rung: Rung, meter: Meter) -> Sequence[Part]:
    """The first drill of a rung, and the first after it that is played otherwise."""
    parts = rung.parts(meter)
    others = [part for part in parts if part.pattern != parts[0].pattern] or parts[1:]
    return (parts[0], *others[: _SHOWN - 1])


def _places(meter: Meter) -> Iterator[OverviewRow]:
    """Every place of the bar, long and short: two places to a row."""
    rows = place_rows(meter)
    for index in range(0, len(rows), _PLACES):
        pair = rows[index : index + _PLACES]
        words = " and ".join(row.place.words for row in pair)
        rungs = sorted({row.rung for row in pair if row.rung is not None})
        taken_up = (
            f" ({'rungs' if len(rungs) > 1 else 'rung'} {' and '.join(map(str, rungs))})"
            if rungs
            else ""
        )
        examples = [
            Example(pattern, None, f"{row.place.words}, {length}")
            for row in pair
            for pattern, length in ((row.long, "long"), (row.short, "short"))
        ]
        yield OverviewRow(
            "\u2022", f"Places of the bar: {words}, long and short{taken_up}.", tuple(examples)
        )
