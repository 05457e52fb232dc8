"""How the minutes of a day are shared out among what there is to do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate
from math import ceil
from typing import Final, Generic, TypeVar

import attrs

from gripwright.errors import ConditionError
from gripwright.vocabulary.caution import BREAK, LONGEST_STRETCH, SHORT_BREAK

FEWEST_MINUTES: Final = 5
MOST_MINUTES: Final = 240
SECONDS_A_REVIEW: Final = 40
"""What one review takes, with the look at the neck and the grade (our own estimate)."""

_SHARES: Final = {"review": 35, "new grip": 25, "tune": 25, "ladder": 15}
_WARM_UP_SHARE: Final = 10
_LONGEST_WARM_UP: Final = 5
_NEEDS_A_BREAK: Final = 15
_SPARE_GOES_TO: Final = ("tune", "ladder", "new grip", "warm-up")

_T = TypeVar("_T")


@attrs.frozen
class TimeTable:
    """Minutes of a day by what is done in them, without the breaks.

    Args:
        minutes: Minutes of each kind of block, in the order of the day; none is 0.
        reviews: How many of the reviews that are due have their time.
        paused: Whether new grips pause, for the reviews need their time.
        breaks: Minutes of breaks.
    """

    minutes: Mapping[str, int]
    reviews: int
    paused: bool
    breaks: int


@attrs.frozen
class Spell(Generic[_T]):
    """Some minutes of a day.

    Args:
        what: What is done, None for a break.
        minutes: How long.
        again: Whether it goes on with what a break has cut.
    """

    what: _T | None
    minutes: int
    again: bool = False


def shared_out(minutes: int, *, due: int, new: bool, tune: bool, rung: bool) -> TimeTable:
    """Share out the minutes of a day.

    The warm-up takes a tenth, up to five minutes; of the rest reviews have up to 35 parts, the
    new grip 25, the tune 25 and the ladder 15, as far as there is something to do. Reviews take
    no more than they need. Where they need more than their part, new grips pause and the
    reviews have their time too; those that still find no time wait for another day. Breaks are
    part of the minutes: five after each 25 minutes of playing, one within a shorter session of a
    quarter of an hour or more. (The numbers are our own proposals.)

    Args:
        minutes: Minutes of the session, 5 to 240.
        due: Reviews that are due.
        new: Whether there is a new grip to learn.
        tune: Whether there is a tune at hand.
        rung: Whether there is a rung of the ladder.

    Raises:
        ConditionError: The minutes are out of range.

    Example:
        >>> table = shared_out(20, due=6, new=True, tune=True, rung=True)
        >>> dict(table.minutes), table.reviews, table.paused
        ({'warm-up': 2, 'review': 4, 'new grip': 5, 'tune': 5, 'ladder': 3}, 6, False)
        >>> shared_out(20, due=200, new=True, tune=True, rung=True).paused
        True
    """
    whole = isinstance(minutes, int) and not isinstance(minutes, bool)
    if not whole or not FEWEST_MINUTES <= minutes <= MOST_MINUTES:
        raise ConditionError(
            name="minutes", value=minutes, expected=f"{FEWEST_MINUTES} to {MOST_MINUTES} minutes"
        )
    breaks = _breaks(minutes)
    playing = minutes - breaks
    warm_up = min(max(1, round(playing * _WARM_UP_SHARE / 100)), _LONGEST_WARM_UP)
    there = {"review": due > 0, "new grip": new, "tune": tune, "ladder": rung}
    kinds = [kind for kind in _SHARES if there[kind]]
    parts = _parts(playing - warm_up, {kind: _SHARES[kind] for kind in kinds})
    needed = ceil(Fraction(due * SECONDS_A_REVIEW, 60))
    paused = new and needed > parts.get("review", 0)
    if paused:
        kinds.remove("new grip")
        parts["review"] += parts.pop("new grip")
    spare = playing - warm_up - sum(parts.values())
    if "review" in parts:
        spare += max(0, parts["review"] - needed)
        parts["review"] = min(parts["review"], needed)
    parts = {"warm-up": warm_up, **parts}
    parts[next(kind for kind in _SPARE_GOES_TO if kind in parts)] += spare
    return TimeTable(
        minutes={kind: part for kind, part in parts.items() if part},
        reviews=min(due, parts.get("review", 0) * 60 // SECONDS_A_REVIEW),
        paused=paused,
        breaks=breaks,
    )


def with_breaks(blocks: Sequence[tuple[_T, int]], breaks: int) -> Iterator[Spell[_T]]:
    """Blocks with the breaks among them.

    A single break comes between two blocks where that leaves no stretch too long; else the
    playing is cut into equal stretches.

    Args:
        blocks: What is done, and for how many minutes, in order.
        breaks: Minutes of breaks in all, as `shared_out` has them.

    Example:
        >>> day = with_breaks([("reviews", 8), ("tune", 11)], 1)
        >>> [(spell.what, spell.minutes) for spell in day]
        [('reviews', 8), (None, 1), ('tune', 11)]
        >>> day = with_breaks([("reviews", 15), ("tune", 25)], 5)
        >>> [(spell.what, spell.minutes) for spell in day]
        [('reviews', 15), (None, 5), ('tune', 25)]
        >>> [(spell.what, spell.minutes, spell.again) for spell in with_breaks([("tune", 40)], 5)]
        [('tune', 20, False), (None, 5, False), ('tune', 20, True)]
    """
    playing = sum(minutes for _, minutes in blocks)
    if breaks <= BREAK:
        ends = list(accumulate(minutes for _, minutes in blocks))[:-1]
        longest = [max(end, playing - end) for end in ends]
        whole = [Spell(what, minutes) for what, minutes in blocks]
        if breaks == 0:
            yield from whole
            return
        if longest and min(longest) <= LONGEST_STRETCH:
            place = longest.index(min(longest)) + 1
            yield from (*whole[:place], Spell(None, breaks), *whole[place:])
            return
    count = ceil(Fraction(breaks, BREAK))
    yield from _cut(blocks, ceil(Fraction(playing, count + 1)), breaks // count)


def _cut(blocks: Sequence[tuple[_T, int]], longest: int, rest: int) -> Iterator[Spell[_T]]:
    """Stretches of equal length, with a rest of so many minutes between them."""
    stretch = 0
    for what, minutes in blocks:
        left, again = minutes, False
        while left:
            if stretch == longest:
                yield Spell(None, rest)
                stretch = 0
            part = min(left, longest - stretch)
            yield Spell(what, part, again)
            left, stretch, again = left - part, stretch + part, True


def _breaks(minutes: int) -> int:
    if minutes <= LONGEST_STRETCH + SHORT_BREAK:
        return SHORT_BREAK if minutes >= _NEEDS_A_BREAK else 0
    return BREAK * ceil(Fraction(minutes - LONGEST_STRETCH, LONGEST_STRETCH + BREAK))


def _parts(minutes: int, shares: Mapping[str, int]) -> dict[str, int]:
    """Whole minutes in proportion to shares, at least one each where there are enough."""
    total = sum(shares.values())
    parts = {kind: minutes * share // total for kind, share in shares.items()}
    for kind in sorted(parts, key=lambda kind: parts[kind])[: minutes - sum(parts.values())]:
        parts[kind] += 1
    for kind in [kind for kind, part in parts.items() if part == 0]:
        largest = max(parts, key=lambda other: parts[other])
        if parts[largest] > 1:
            parts[largest] -= 1
            parts[kind] = 1
    return parts
