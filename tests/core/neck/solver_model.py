"""The definition of "playable" stated as constraints, for a general constraint solver.

python-constraint2 (BSD) knows nothing of chords. One variable stands for each string and holds the
frets at which the string sounds a tone of the chord, or mutes it; a pair of strings is bound by
reach; one function over all strings states the rest. The set of its solutions must be the set that
the search finds. The presses are counted here in another way than in the enumerator: from the
treble side, with bit masks.
"""

from collections.abc import Callable, Iterable
from itertools import combinations

import attrs
from constraint import Problem

from tests.core.neck.enumerator import MUTED, TOLERANCE_MM, Neck, Tones

Rule = Callable[..., bool]


@attrs.frozen
class Model:
    """A chord on a neck under a hand, ready to be stated as constraints."""

    tones: Tones
    neck: Neck
    fingers: int = 4
    reach_mm: float = 115.0

    def problem(self) -> Problem:
        """Return the constraints, ready to be solved; variable i is string i from the bass."""
        problem = Problem()
        strings = range(len(self.neck.opens))
        for string in strings:
            problem.addVariable(string, self.domain(string))
        for one, other in combinations(strings, 2):
            problem.addConstraint(self.within_reach(one, other), (one, other))
        problem.addConstraint(self.rest(), tuple(strings))
        return problem

    def solve(self) -> set[tuple[int, ...]]:
        """Return every solution as a tuple of frets, bass side first."""
        strings = range(len(self.neck.opens))
        solutions = self.problem().getSolutions()
        return {tuple(solution[string] for string in strings) for solution in solutions}

    def domain(self, string: int) -> list[int]:
        """Return what a string may do: be muted, or sound a tone or the bass of the chord."""
        wanted = {*self.tones.names, self.tones.bass}
        frets = (0, *self.neck.presses_of(string))
        return [MUTED, *(f for f in frets if self.neck.sounding(string, f) % 12 in wanted)]

    def within_reach(self, one: int, other: int) -> Rule:
        """State that two strings, where both are fretted, lie within the reach of the hand."""
        ours = [self.neck.place_mm(one, fret) for fret in range(self.neck.frets + 1)]
        theirs = [self.neck.place_mm(other, fret) for fret in range(self.neck.frets + 1)]
        limit = self.reach_mm + TOLERANCE_MM

        def rule(here: int, there: int) -> bool:
            return here <= 0 or there <= 0 or abs(ours[here] - theirs[there]) <= limit

        return rule

    def rest(self) -> Rule:
        """State what concerns all strings at once: the chord, the presses and their spread."""
        strings = range(len(self.neck.opens))
        pitches = [
            [self.neck.sounding(string, fret) for fret in range(self.neck.frets + 1)]
            for string in strings
        ]
        groups = [_mask(group) for group in self.tones.essential]
        bass = self.tones.bass
        foreign = 0 if self.tones.foreign_bass is None else 1 << self.tones.foreign_bass
        least = min(3, self.tones.count)
        playable = self.playable()

        def rule(*frets: int) -> bool:
            sounding = [pitches[s][fret] for s, fret in enumerate(frets) if fret >= 0]
            if len(sounding) < least:
                return False
            classes = _mask(pitch % 12 for pitch in sounding)
            if classes.bit_count() < least or not all(classes & group for group in groups):
                return False
            if bass is not None:
                low = min(sounding)
                if low % 12 != bass:
                    return False
                if foreign and _mask(p % 12 for p in sounding if p > low) & foreign:
                    return False
            return playable(frets)

        return rule

    def playable(self) -> Callable[[tuple[int, ...]], bool]:
        """State that the hand has fingers enough, and that they spread no wider than they can."""
        limit = self.reach_mm * 2 / 3 + TOLERANCE_MM
        places = [
            [self.neck.place_mm(string, fret) for fret in range(self.neck.frets + 1)]
            for string in range(len(self.neck.opens))
        ]
        fingers = self.fingers

        def rule(frets: tuple[int, ...]) -> bool:
            held = fingertips(frets)
            if len(held) != fingers:
                return len(held) < fingers
            at = [places[string][fret] for fret, string in held]
            return all(abs(at[i + 1] - at[i]) <= limit for i in range(len(at) - 1))

        return rule


def fingertips(frets: tuple[int, ...]) -> list[tuple[int, int]]:
    """Return the (fret, bass-most string) of each press, in fret order and then from the bass."""
    held: list[tuple[int, int]] = []
    for fret in {fret for fret in frets if fret > 0}:
        here = _mask(i for i, other in enumerate(frets) if other == fret)
        through = _mask(i for i, other in enumerate(frets) if other >= fret)
        rings = _mask(i for i, other in enumerate(frets) if 0 <= other < fret)
        while here:
            # The stretch of strings that a finger from the treble side can cover, downwards from
            # the treble-most string that is still to be held.
            top = here.bit_length() - 1
            gaps = ~through & ((1 << top) - 1)
            stretch = here & ~((1 << gaps.bit_length()) - 1)
            here &= ~stretch
            if stretch.bit_count() == 1:
                held.append((fret, top))
            elif rings >> top and top - _lowest(stretch) >= 2:
                held.extend((fret, string) for string in _pairs(stretch))
            else:
                held.append((fret, _lowest(stretch)))
    return sorted(held)


def _pairs(strings: int) -> list[int]:
    """Return the lower string of each neighbouring pair, or the single string, from the bass."""
    firsts = []
    while strings:
        first = _lowest(strings)
        firsts.append(first)
        strings &= ~(3 << first)
    return firsts


def _lowest(mask: int) -> int:
    """Return the place of the lowest bit that is set."""
    return (mask & -mask).bit_length() - 1


def _mask(numbers: Iterable[int]) -> int:
    """Return the numbers as one word of bits."""
    mask = 0
    for number in numbers:
        mask |= 1 << number
    return mask
