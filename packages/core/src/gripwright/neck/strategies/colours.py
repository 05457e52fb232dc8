"""Families with tensions, and families of the chord's scale (common practice)."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Final

import attrs

from gripwright.neck.recipe import Recipe
from gripwright.neck.strategies.drops import ORDERS
from gripwright.neck.strategies.selection import rotations, seventh, third
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.scale import scale_degrees

FIFTHS: Final = tuple(map(Degree, ("b5", "#5", "#11", "b13", "13", "5")))
NINTHS: Final = tuple(map(Degree, ("b9", "#9", "9")))
UPPER_TRIADS: Final = {
    "II": tuple(map(Degree, ("9", "#11", "13"))),
    "bV": tuple(map(Degree, ("#11", "b7", "b9"))),
    "bVI": tuple(map(Degree, ("b13", "1", "#9"))),
    "VI": tuple(map(Degree, ("13", "b9", "3"))),
}
"""Triads above third and seventh of a dominant, by their root."""

_FOURTHS: Final = frozenset({5, 6})
_SECONDS: Final = frozenset({1, 2})
_DOMINANT: Final = frozenset({"3", "b7"})


@attrs.frozen
class Rootless:
    """Third, fifth, seventh and ninth, or seventh, ninth, third and fifth; close or drop 2.

    On dominants 13 may stand for the fifth. Fifth and ninth are the symbol's own where it
    alters them.

    Example:
        >>> [r.degrees for r in Rootless().recipes(Chord.parse("G13"))][0]
        ('3', '13', 'b7', '9')
    """

    name: str = "rootless"
    summary: str = "3-5-7-9 or 7-9-3-5 without the root, close or drop 2; 13 for 5 on dominants"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Both types of a chord with third and seventh, for each fifth and ninth it may have."""
        low, high = third(chord), seventh(chord)
        if low is None or high is None:
            return
        for ninth in _own(chord, NINTHS) or (Degree("9"),):
            for fifth in _fifths(chord, dominant={low, high} >= _DOMINANT):
                close = (low, fifth, high, ninth)
                if len({degree.pitch_class for degree in close}) < len(close):
                    continue
                for start in (0, 2):
                    rotated = close[start:] + close[:start]
                    yield Recipe(rotated, "tensions")
                    yield Recipe(tuple(rotated[i] for i in ORDERS["drop-2"]), "tensions")


def _own(chord: Chord, names: tuple[Degree, ...]) -> tuple[Degree, ...]:
    return tuple(degree for degree in names if degree in chord.degrees)


def _fifths(chord: Chord, *, dominant: bool) -> tuple[Degree, ...]:
    own = _own(chord, FIFTHS)
    altered = tuple(degree for degree in own if degree != "5")
    if altered:
        return altered
    return (*own, Degree("13")) if dominant else own


@attrs.frozen
class UpperStructure:
    """Third and seventh of a dominant with a triad of tensions above them.

    Example:
        >>> stacks = [r.degrees for r in UpperStructure().recipes(Chord.parse("G13#11"))]
        >>> ("b7", "3", "#11", "13", "9") in stacks
        True
    """

    name: str = "upper-structure"
    summary: str = "Third and seventh of a dominant below a triad of its tensions"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each triad whose tones the chord has or may take, in each inversion."""
        if not set(chord.degrees) >= _DOMINANT:
            return
        frame = (Degree("b7"), Degree("3"))
        taken = {degree.pitch_class for degree in chord.degrees}
        for triad in UPPER_TRIADS.values():
            if not all(tone.pitch_class in taken or tone in chord.tensions for tone in triad):
                continue
            close = tuple(sorted(triad, key=lambda degree: degree.pitch_class))
            for upper in rotations(close):
                new = tuple(tone for tone in upper if tone not in frame)
                for stack in dict.fromkeys((upper, new)):
                    yield Recipe((*frame, *stack), "tensions")
                    yield Recipe((*reversed(frame), *stack), "tensions")


@attrs.frozen
class Quartal:
    """Successive fourths of the chord's scale, three notes or more.

    Example:
        >>> stacks = [r.degrees for r in Quartal().recipes(Chord.parse("Dm11"))]
        >>> ("1", "11", "b7", "b3") in stacks
        True
    """

    name: str = "quartal"
    summary: str = "Three to six successive fourths of the chord's scale"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each run of fourths without the tones that hide the chord."""
        tones = {degree.pitch_class: degree for degree in _scale(chord)}
        for start in tones:
            yield from _runs_of_fourths(tones, (start,))


def _runs_of_fourths(tones: dict[int, Degree], run: tuple[int, ...]) -> Iterator[Recipe]:
    if len(run) > 2:  # noqa: PLR2004 - three notes make two fourths
        yield Recipe(tuple(tones[tone] for tone in run), "scale")
    if len(run) < 6:  # noqa: PLR2004 - six strings
        for fourth in sorted(_FOURTHS):
            tone = (run[-1] + fourth) % SEMITONES_IN_OCTAVE
            if tone in tones and tone not in run:
                yield from _runs_of_fourths(tones, (*run, tone))


@attrs.frozen
class Cluster:
    """Three or four tones of the chord's scale within an octave, close with seconds.

    Example:
        >>> stacks = [r.degrees for r in Cluster().recipes(Chord.parse("Cmaj7"))]
        >>> ("7", "1", "9") in stacks
        True
    """

    name: str = "cluster"
    summary: str = "Three or four tones of the chord's scale, at least half their steps seconds"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each choice that has the third or the seventh of the chord, in each inversion."""
        guides = frozenset((third(chord), seventh(chord)))
        yield from _close_with_seconds(_scale(chord), guides)


@functools.lru_cache(maxsize=512)
def _close_with_seconds(
    scale: tuple[Degree, ...], guides: frozenset[Degree | None]
) -> tuple[Recipe, ...]:
    """Close stacks of three or four tones that have a guide; kept, for they take a while."""
    stacks = []
    for size in (3, 4):
        for choice in combinations(scale, size):
            if guides.isdisjoint(choice):
                continue
            for stack in rotations(choice):
                recipe = Recipe(stack, "scale")
                gaps = [high - low for low, high in pairwise(recipe.offsets)]
                seconds = sum(gap in _SECONDS for gap in gaps)
                if 2 * seconds >= len(gaps):
                    stacks.append(recipe)
    return tuple(stacks)


def _scale(chord: Chord) -> tuple[Degree, ...]:
    """The chord's scale without the tones that hide the chord."""
    avoided = {degree.pitch_class for degree in chord.quality.avoid}
    return tuple(d for d in scale_degrees(chord.quality) if d.pitch_class not in avoided)


COLOURS: Final = (Rootless(), UpperStructure(), Quartal(), Cluster())
