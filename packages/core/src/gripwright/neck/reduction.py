"""Reductions: what a chord without a voicing can give up to have one."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from itertools import combinations
from typing import Any, Final

import attrs

from gripwright.errors import RowBoundError
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.theory.canonical import canonical_quality
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.quality import QUALITIES, minimal

_KEPT_LONGEST: Final = (5, 1, 13, 11, 9, 6, 4, 2, 7, 3)
"""Numbers in the order in which they are given up: common practice for the first, ours after."""


@attrs.frozen
class Reduction:
    """A chord with fewer tones that has voicings.

    Args:
        chord: The reduced chord.
        gives_up: Essential degrees that it no longer has.
        count: How many voicings it has.
    """

    chord: Chord
    gives_up: tuple[Degree, ...]
    count: int

    @property
    def sentence(self) -> str:
        """The same for a reader.

        Example:
            >>> print(Reduction(Chord.parse("C13b9"), (Degree("#11"),), 12).sentence)
            C13b9 gives up the #11: 12 voicings
        """
        tones = " and ".join(f"the {degree}" for degree in self.gives_up)
        voicings = "1 voicing" if self.count == 1 else f"{self.count:,} voicings"
        return f"{self.chord} gives up {tones}: {voicings}"


def reductions(
    chord: Chord,
    instrument: Instrument,
    hand: Hand,
    strategy: VoicingStrategy | None = None,
    *,
    most: int = 3,
    **conditions: Any,
) -> tuple[Reduction, ...]:
    """The nearest reductions of a chord that have voicings.

    One essential tone is given up, then two, then three, until some reduction has a voicing:
    fifths and roots before extensions, and those before sevenths and thirds.

    Args:
        chord: A chord without voicings.
        instrument: The instrument.
        hand: The hand.
        strategy: The strategy of the search.
        most: Reductions at most.
        **conditions: The conditions of the search.

    Example:
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> for found in reductions(Chord.parse("C13b9#11"), ukulele, Hand()):
        ...     print(found.chord, *found.gives_up)
        C7b9#11 13
        C13b9 #11
        C7#11add13 b9
    """
    for number in range(1, 4):
        found: list[Reduction] = []
        for reduced, given_up in _without(chord, number):
            try:
                count = len(find_voicings(reduced, instrument, hand, strategy, **conditions))
            except RowBoundError as error:
                count = error.bound
            if count:
                found.append(Reduction(reduced, given_up, count))
            if len(found) == most:
                break
        if found:
            return tuple(found)
    return ()


def _without(chord: Chord, number: int) -> Iterator[tuple[Chord, tuple[Degree, ...]]]:
    """The chord without so many of its essential degrees, the least missed first."""
    essential = [degree for group in chord.essential for degree in group]
    ranked = sorted(essential, key=lambda degree: _KEPT_LONGEST.index(degree.number))
    for given_up in combinations(ranked, number):
        degrees = tuple(degree for degree in chord.degrees if degree not in given_up)
        groups = [group for group in chord.essential if set(group).isdisjoint(given_up)]
        known = [quality for quality in QUALITIES.values() if quality.degrees == degrees]
        with contextlib.suppress(LookupError):
            known.append(canonical_quality(degrees, minimal(groups, degrees)))
        for quality in known[:1]:
            yield attrs.evolve(chord, quality=quality, warnings=()), given_up
