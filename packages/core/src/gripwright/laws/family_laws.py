"""The laws of rhythm families: bars filled exactly, metres known, names that differ."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice, pairwise
from typing import TYPE_CHECKING, Final

from hypothesis import strategies as st

from gripwright.errors import ConditionError
from gripwright.laws.drawing import meters
from gripwright.laws.law import Draws, Law, LawBrokenError, demand
from gripwright.meter import Meter, RhythmPattern
from gripwright.plugins.kinds import shown

if TYPE_CHECKING:
    from fractions import Fraction

    from gripwright.meter import RhythmFamily

MOST_PATTERNS: Final = 10_000
"""Patterns that a family may have in one metre: more is a family without end."""


def lists_metres_that_it_knows(family: RhythmFamily) -> None:
    """It lists a metre at least; each that it lists is known and has a pattern."""
    listed = list(islice(family.meters, MOST_PATTERNS))
    demand(listed, "it lists no metre")
    for meter in listed:
        demand(isinstance(meter, Meter), f"it lists {shown(meter)}, which is no Meter")
        demand(meter in family.meters, f"it lists {meter} and does not know it")
        demand(patterns_of(family, meter, 0), f"it lists {meter} and has no pattern in it")


def gives_patterns_for_any_seed(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """In a metre that it knows it gives patterns, whatever the seed, and comes to an end."""
    if meter in family.meters:
        patterns_of(family, meter, seed)


def patterns_fill_their_bars(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """What sounds and what is silent adds up to the bars exactly, in every chorus."""
    if meter not in family.meters:
        return
    for pattern in patterns_of(family, meter, seed):
        for chorus in (pattern, *pattern.later):
            cells = chorus.cells
            whole = chorus.bars * meter.length
            if not cells or cells[0].onset != 0:
                raise LawBrokenError(fault=f"{_named(chorus)} does not start with its first bar")
            for one, other in pairwise(cells):
                end = one.onset + one.length
                if end != other.onset:
                    wrong = "sounds on into" if end > other.onset else "leaves a gap before"
                    raise LawBrokenError(
                        fault=f"{_named(chorus)} {wrong} what starts {_quarters(other.onset)} in"
                    )
            outside = [one.onset for one in chorus.attacks if not 0 <= one.onset < whole]
            if outside:
                raise LawBrokenError(
                    fault=f"{_named(chorus)} has an attack {_quarters(outside[0])} in,"
                    f" and its bars last {whole}"
                )
            total = cells[-1].onset + cells[-1].length
            if total != whole:
                raise LawBrokenError(
                    fault=f"{_named(chorus)} lasts {_quarters(total)}, and its bars last {whole}"
                )


def patterns_are_in_the_metre_asked_for(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """Each pattern can be played in the metre that was asked for."""
    if meter not in family.meters:
        return
    for pattern in patterns_of(family, meter, seed):
        if not meter.matches(pattern.meter):
            raise LawBrokenError(fault=f"{_named(pattern)} is in {pattern.meter}")


def refuses_metres_that_it_does_not_know(family: RhythmFamily, *, meter: Meter) -> None:
    """Asked for a metre that it does not know, it says so by a ConditionError."""
    if meter in family.meters:
        return
    try:
        answer = list(islice(family.patterns(meter, seed=0), MOST_PATTERNS))
    except ConditionError:
        return
    given = "1 pattern" if len(answer) == 1 else f"{len(answer)} patterns"
    demand(condition=False, fault=f"it does not know {meter} and gives {given}")


def patterns_repeat(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """Equal metres and seeds give equal patterns: nothing else counts."""
    if meter not in family.meters:
        return
    first = patterns_of(family, meter, seed)
    patterns_of(family, meter, seed + 1)
    copy = Meter(meter.count, meter.unit, meter.groups)
    second = patterns_of(family, copy, seed)
    demand(first == second, lambda: f"asked twice it gives {_texts(first)} and {_texts(second)}")


def names_differ_within_a_metre(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """In one metre no two patterns have one name."""
    if meter not in family.meters:
        return
    names = [pattern.name for pattern in patterns_of(family, meter, seed)]
    twice = sorted({name for name in names if names.count(name) > 1})[:3]
    demand(not twice, f"two patterns are called {' and '.join(map(repr, twice))}")


def texts_read_back(family: RhythmFamily, *, meter: Meter, seed: int) -> None:
    """A pattern can be written by hand as it is shown."""
    if meter not in family.meters:
        return
    for pattern in patterns_of(family, meter, seed):
        back = RhythmPattern.parse(str(pattern), pattern.meter)
        if (back.attacks, back.bars) != (pattern.attacks, pattern.bars):
            raise LawBrokenError(fault=f"{_named(pattern)} reads back as {back}")


def patterns_of(family: RhythmFamily, meter: Meter, seed: int) -> list[RhythmPattern]:
    """The patterns of a family in a metre.

    Args:
        family: The family.
        meter: A metre that it knows.
        seed: Chooses among patterns where the family varies them.

    Raises:
        LawBrokenError: It gives something else, or more than 10,000.

    Example:
        >>> from gripwright.meter import WrittenFamily
        >>> family = WrittenFamily("one", "One.", [RhythmPattern.parse("1", name="one")])
        >>> [str(pattern) for pattern in patterns_of(family, Meter(), 0)]
        ['1']
    """
    answer: object = family.patterns(meter, seed=seed)
    demand(isinstance(answer, Iterable), f"it gives {shown(answer)}, and no patterns")
    assert isinstance(answer, Iterable)  # noqa: S101 - for the type checker: the line above
    patterns = list(islice(answer, MOST_PATTERNS + 1))
    demand(len(patterns) <= MOST_PATTERNS, f"it gives more than {MOST_PATTERNS:,} patterns")
    for pattern in patterns:
        if not isinstance(pattern, RhythmPattern):
            raise LawBrokenError(fault=f"it gives {shown(pattern)}, no RhythmPattern")
    return patterns


def _named(pattern: RhythmPattern) -> str:
    try:
        return f'{pattern.name} "{pattern}"'
    except Exception:  # noqa: BLE001 - a pattern that is wrong may have no text
        return pattern.name


def _quarters(count: Fraction) -> str:
    return f"{count} {'quarter' if count == 1 else 'quarters'}"


def _texts(patterns: list[RhythmPattern]) -> str:
    texts = ", ".join(f'"{pattern}"' for pattern in patterns[:3])
    return f"{texts} ..." if len(patterns) > 3 else texts or "nothing"  # noqa: PLR2004 - those shown


def _meters(family: RhythmFamily) -> Draws:
    listed = [meter for meter in islice(family.meters, 100) if isinstance(meter, Meter)]
    every = meters(most_units=12)
    # Listed ones weigh more: of the others a family may know none, and then they try nothing.
    return {
        "meter": st.one_of(*[st.sampled_from(listed) for _ in range(3)], every) if listed else every
    }


def _any_meter(_family: RhythmFamily) -> Draws:
    return {"meter": meters(most_units=12)}


def _seeded(family: RhythmFamily) -> Draws:
    return {**_meters(family), "seed": st.integers(-(2**31), 2**31)}


LAWS: Final = (
    Law.of("rhythm family", lists_metres_that_it_knows),
    Law.of("rhythm family", gives_patterns_for_any_seed, _seeded),
    Law.of("rhythm family", patterns_fill_their_bars, _seeded),
    Law.of("rhythm family", patterns_are_in_the_metre_asked_for, _seeded),
    Law.of("rhythm family", refuses_metres_that_it_does_not_know, _any_meter),
    Law.of("rhythm family", patterns_repeat, _seeded),
    Law.of("rhythm family", names_differ_within_a_metre, _seeded),
    Law.of("rhythm family", texts_read_back, _seeded),
)
"""Every law of rhythm families."""
