"""Layout: choruses that look alike are written once, with repeats and endings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeVar

import attrs

from gripwright import ScoreBar

Bar = TypeVar("Bar")

_HALVES: Final = 2


@attrs.frozen
class Ending:
    """A bracket over bars that not every pass plays.

    Args:
        numbers: The passes that play them, such as ``"1, 2, 3"``.
        starts: Whether it starts at this bar.
        stops: Whether it stops with this bar.
        last: Whether it is that of the last pass.
    """

    numbers: str
    starts: bool
    stops: bool
    last: bool = False


@attrs.frozen
class Place:
    """A bar as it stands on paper.

    Args:
        index: Its index among the bars of the sheet.
        passes: How often what starts here with a repeat is played; 1 where no repeat starts.
        times: How often what a repeat ends here is played; 1 where no repeat ends.
        ending: The bracket over it, or None.
    """

    index: int
    passes: int = 1
    times: int = 1
    ending: Ending | None = None


def choruses_in(bars: Sequence[ScoreBar]) -> list[list[int]]:
    """The bars of each chorus, by their indices; alone what no other chorus can look like.

    The count-in and the ending bar stand alone, and so does a pickup that later choruses leave
    out.
    """
    runs: list[list[int]] = []
    before: tuple[int, bool] | None = None
    for index, bar in enumerate(bars):
        now = bar.chorus, bar.ending
        if now != before:
            runs.append([])
        runs[-1].append(index)
        before = now
    forms = [run for run in runs if bars[run[0]].chorus > 0 and not bars[run[0]].ending]
    if len(forms) > 1 and bars[forms[0][0]].lead_in and not bars[forms[1][0]].lead_in:
        place = runs.index(forms[0])
        runs[place : place + 1] = [forms[0][:1], forms[0][1:]]
    return [run for run in runs if run]


def places_of(bars: Sequence[Bar], choruses: Sequence[Sequence[int]]) -> Iterator[Place]:
    """Write each run of choruses that look alike once.

    A chorus that follows such a run, or one other, and differs from it in no more than its last
    half is its last ending.

    Args:
        bars: The bars; those that are equal look alike.
        choruses: Of each chorus the indices of its bars.

    Example:
        >>> for place in places_of("abcabcabd", [[0, 1, 2], [3, 4, 5], [6, 7, 8]]):
        ...     print(place.index, place.passes, place.times, place.ending and place.ending.numbers)
        0 3 1 None
        1 1 1 None
        2 1 3 1, 2
        8 1 1 3
    """
    looks = [tuple(bars[index] for index in chorus) for chorus in choruses]
    number = 0
    while number < len(choruses):
        past = number + 1
        while past < len(choruses) and looks[past] == looks[number]:
            past += 1
        chorus, times, shared = choruses[number], past - number, 0
        if past < len(choruses) and (past + 1 == len(choruses) or looks[past + 1] != looks[past]):
            shared = _shared(looks[number], looks[past])
        if shared:
            yield from _passes(chorus, times + 1, shared)
            yield from _last_ending(choruses[past], times + 1, shared)
            past += 1
        else:
            yield from _passes(chorus, times, len(chorus))
        number = past


def _shared(one: Sequence[object], other: Sequence[object]) -> int:
    """Bars that two choruses share from their start; 0 where endings would not be worth it."""
    most = min(len(one), len(other))
    same = next((place for place in range(most) if one[place] != other[place]), most)
    # Each ending must hold something, and the shared bars outweigh it.
    shared = min(same, most - 1)
    return shared if shared * _HALVES >= max(len(one), len(other)) else 0


def _passes(chorus: Sequence[int], times: int, shared: int) -> Iterator[Place]:
    """A chorus that is played several times, with a bracket over what the last pass leaves out."""
    last = len(chorus) - 1
    numbers = ", ".join(map(str, range(1, times)))
    for number, index in enumerate(chorus):
        yield Place(
            index,
            passes=times if number == 0 else 1,
            times=times if number == last else 1,
            ending=Ending(numbers, number == shared, number == last) if number >= shared else None,
        )


def _last_ending(chorus: Sequence[int], passed: int, shared: int) -> Iterator[Place]:
    last = len(chorus) - 1
    for number in range(shared, len(chorus)):
        ending = Ending(str(passed), number == shared, number == last, last=True)
        yield Place(chorus[number], ending=ending)
