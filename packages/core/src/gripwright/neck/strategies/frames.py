"""Families of the frame of a chord and of its triad (common practice)."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from itertools import accumulate, combinations, product
from typing import Final

import attrs

from gripwright.neck.recipe import Recipe
from gripwright.neck.strategies.selection import (
    Tones,
    is_triad,
    rotations,
    selections,
    seventh,
    third,
)
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree

ROOT: Final = Degree("1")
_TRIAD: Final = 3
_LONGEST_STACK: Final = 6


@attrs.frozen
class Whole:
    """Every voicing, in whatever order its tones are stacked.

    Example:
        >>> [recipe.degrees for recipe in Whole().recipes(Chord.parse("C"))]
        [()]
    """

    name: str = "any"
    summary: str = "Every playable voicing, its tones in any order"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:  # noqa: ARG002 - asks nothing of it
        """One recipe that asks for no order."""
        yield Recipe(())


@attrs.frozen
class Shell:
    """Root, third and seventh, the root lowest.

    Example:
        >>> [recipe.degrees for recipe in Shell().recipes(Chord.parse("G7"))]
        [('1', '3', 'b7'), ('1', 'b7', '3')]
    """

    name: str = "shell"
    summary: str = "Root, third and seventh (or sixth), the root lowest"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Two stacks of a chord that has a seventh or a sixth."""
        low, high = third(chord), seventh(chord)
        if low and high and ROOT in chord.degrees:
            yield Recipe((ROOT, low, high), "frame")
            yield Recipe((ROOT, high, low), "frame")


@attrs.frozen
class GuideTones:
    """Third and seventh alone.

    Example:
        >>> [recipe.degrees for recipe in GuideTones().recipes(Chord.parse("G7"))]
        [('3', 'b7'), ('b7', '3')]
    """

    name: str = "guide-tones"
    summary: str = "Third and seventh (or sixth) alone"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Two stacks of a chord that has a seventh or a sixth."""
        low, high = third(chord), seventh(chord)
        if low and high:
            yield Recipe((low, high), "frame")
            yield Recipe((high, low), "frame")


@attrs.frozen
class Triads:
    """Three tones in close position, each inversion.

    Example:
        >>> [recipe.degrees for recipe in Triads().recipes(Chord.parse("C"))]
        [('1', '3', '5'), ('3', '5', '1'), ('5', '1', '3')]
    """

    name: str = "triads"
    summary: str = "Triads in close position, each inversion"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """The close triads that are voicings of the chord."""
        for tones in selections(chord, _TRIAD):
            if is_triad(tones):
                yield from map(Recipe, rotations(tones))


@attrs.frozen
class Spread:
    """A triad with its middle tone an octave higher.

    Example:
        >>> [recipe.degrees for recipe in Spread().recipes(Chord.parse("C"))][0]
        ('1', '5', '3')
    """

    name: str = "spread"
    summary: str = "Triads with the middle tone an octave higher, each inversion"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """The spread triads that are voicings of the chord."""
        for close in Triads().recipes(chord):
            low, middle, high = close.degrees
            yield Recipe((low, high, middle))


@attrs.frozen
class TriadOverBass:
    """A triad above a bass that is none of its tones.

    Example:
        >>> stacks = [r.degrees for r in TriadOverBass().recipes(Chord.parse("G9sus4"))]
        >>> ("1", "b7", "9", "4", "b7") in stacks
        True
    """

    name: str = "triad-over-bass"
    summary: str = "A close triad above a bass that is none of its tones"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each triad of the chord's tones above the root, its lowest tone doubled or not."""
        below: tuple[Degree, ...] = () if chord.foreign_bass else (ROOT,)
        if chord.bass is not None and not chord.foreign_bass:
            below = tuple(
                degree
                for degree, note in zip(chord.degrees, chord.notes, strict=True)
                if note.pitch_class == chord.bass.pitch_class
            )[:1]
        taken = {degree.pitch_class for degree in below}
        above = [degree for degree in chord.degrees if degree.pitch_class not in taken]
        for choice in combinations(above, _TRIAD):
            tones = tuple(sorted(choice, key=lambda degree: degree.pitch_class))
            if is_triad(tones):
                for rotated in rotations(tones):
                    yield Recipe((*below, *rotated))
                    yield Recipe((*below, *rotated, rotated[0]))


@attrs.frozen
class OctaveDoubled:
    """Three or four tones, at least one of them in more than one octave.

    Example:
        >>> stacks = [r.degrees for r in OctaveDoubled().recipes(Chord.parse("F"))]
        >>> ("1", "5", "1", "3", "5", "1") in stacks
        True
    """

    name: str = "octave-doubled"
    summary: str = "Three to six strings with at least one tone in more than one octave"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each stack that climbs by the next tone or the one after it, and repeats some."""
        for size in (2, 3, 4):
            for tones in selections(chord, size):
                yield from _climbing(tones)


@functools.lru_cache(maxsize=512)
def _climbing(tones: Tones) -> tuple[Recipe, ...]:
    """Stacks of up to six voices through all of some tones; kept, for there are many."""
    size = len(tones)
    stacks = []
    for voices in range(size + 1, _LONGEST_STACK + 1):
        for start, *steps in product(range(size), *[(1, 2)[: size - 1]] * (voices - 1)):
            places = accumulate(steps, initial=start)
            stack = tuple(tones[place % size] for place in places)
            if len(set(stack)) == size:
                stacks.append(Recipe(stack))
    return tuple(stacks)


FRAMES: Final = (
    Whole(),
    Shell(),
    GuideTones(),
    Triads(),
    Spread(),
    TriadOverBass(),
    OctaveDoubled(),
)
