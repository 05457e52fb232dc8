"""Passages: choruses that are alike are drawn once, with what is different in some of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from gripwright_rhythm.export.sheet.drawn_bar import BarReader, DrawnBar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from gripwright import Score

_PICKUP: Final = -1
# Bars that may differ between choruses which are drawn once: beyond these a player would read
# more exceptions than rules.
_MOST_OTHERS: Final = 4
_BARS_AN_OTHER: Final = 4


@attrs.frozen
class Other:
    """A bar as some choruses have it.

    Args:
        bar: The bar, in the first of them.
        like: The bar in whose place it stands.
        choruses: The numbers of the choruses.
        place: Its number in the chorus, from 1; 0 for the pickup.
    """

    bar: DrawnBar
    like: DrawnBar
    choruses: tuple[int, ...]
    place: int


@attrs.frozen
class Passage:
    """Choruses that are drawn as one.

    Args:
        choruses: Their numbers.
        lead_ins: The end of the count-in, where a chord starts in it; else empty.
        bars: The bars of the first of them.
        others: Bars that are different in some of them.
        ending: The bar after the form, or None.
    """

    choruses: tuple[int, ...]
    lead_ins: tuple[DrawnBar, ...]
    bars: tuple[DrawnBar, ...]
    others: tuple[Other, ...]
    ending: DrawnBar | None


Bars = dict[int, DrawnBar]
"""The bars of a chorus by their places: 0 for the first, -1 for a pickup."""


def passages_of(score: Score) -> tuple[Passage, ...]:
    """What a sheet draws of a score: every chorus, those that are alike once.

    Args:
        score: The score.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> [passage.choruses for passage in passages_of(sample_score())]
        [(1,)]
    """
    reader = BarReader(score)
    choruses: dict[int, Bars] = {}
    ending = None
    # A score of a count-in alone is drawn as it is.
    least = min(1, max(bar.chorus for bar in score.bars))
    for bar in score.bars:
        if bar.ending:
            ending = reader.bar(bar)
        elif bar.chorus >= least:
            bars = choruses.setdefault(bar.chorus, {})
            place = _PICKUP if bar.lead_in else len(bars) - (_PICKUP in bars)
            bars[place] = reader.bar(bar)
    runs = list(_runs(choruses))
    return tuple(
        Passage(
            choruses=tuple(run),
            lead_ins=() if index else reader.lead_ins(),
            bars=tuple(choruses[run[0]].values()),
            others=tuple(_others(choruses, run)),
            ending=ending if index == len(runs) - 1 else None,
        )
        for index, run in enumerate(runs)
    )


def _runs(choruses: Mapping[int, Bars]) -> Iterator[list[int]]:
    """Choruses one after the other that differ in few bars."""
    run: list[int] = []
    differing: set[tuple[int, object]] = set()
    for number, bars in choruses.items():
        if run:
            base = choruses[run[0]]
            found = {(place, bars[place].signature) for place in _differences(base, bars)}
            most = max(1, min(_MOST_OTHERS, len(base) // _BARS_AN_OTHER))
            # A later chorus may be without the pickup of the first, but not the other way round.
            fits = bars.keys() in (base.keys(), base.keys() - {_PICKUP})
            if fits and len(differing | found) <= most:
                differing |= found
                run.append(number)
                continue
            yield run
        run, differing = [number], set()
    if run:
        yield run


def _differences(base: Bars, bars: Bars) -> Iterator[int]:
    for place, bar in bars.items():
        if place not in base or bar.signature != base[place].signature:
            yield place


def _others(choruses: Mapping[int, Bars], run: Sequence[int]) -> Iterable[Other]:
    base = choruses[run[0]]
    found: dict[tuple[int, object], list[int]] = {}
    for number in run[1:]:
        for place in _differences(base, choruses[number]):
            key = (place, choruses[number][place].signature)
            found.setdefault(key, []).append(number)
    for (place, _), numbers in sorted(found.items(), key=lambda one: (one[1], one[0][0])):
        bar = choruses[numbers[0]][place]
        yield Other(bar, base[place], tuple(numbers), place + 1)
