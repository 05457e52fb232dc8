"""What sounds: the tones that a search admits, and the sets of them that make a voicing.

Tones are bits of a mask, bit n for the pitch class n semitones above the root.
"""

from __future__ import annotations

import functools
import operator
from collections.abc import Iterable

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.conditions import Conditions
from gripwright.neck.instrument import MOST_STRINGS
from gripwright.neck.recipe import Recipe
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

_FRAME_NUMBERS = frozenset({1, 2, 3, 4, 7})
_FRAME_SIXTH = "6"
_USUAL_LEAST = 3

Stacks = dict[int, NDArray[np.uint64]]
"""Stacks by their lowest tone above the root, as bit masks of semitones above it."""

TONES_IN_MASK = np.array([mask.bit_count() for mask in range(1 << SEMITONES_IN_OCTAVE)], np.int8)
"""Number of different tones of each mask."""


@attrs.frozen(eq=False)
class Tones:
    """The tones of a search, and which sets of them are voicings.

    Args:
        names: The degree that each pitch class above the root sounds, or None.
        admitted: Mask of the tones that may sound.
        bass: The pitch class above the root that must be lowest, or None.
        foreign: Mask of the tone that may sound in the bass only; 0 for none.
        fits: Whether so many strings sounding such a mask may make a voicing, by
            (mask, strings), (4096, 17) boolean.
        stacks: Stacks of the recipes by the tone above the root that is lowest: sets of bit
            masks of semitones above that lowest tone; None where any stack will do.
        stacks_above_bass: The same for stacks that stand above a foreign bass.
    """

    names: tuple[Degree | None, ...]
    admitted: int
    bass: int | None
    foreign: int
    fits: NDArray[np.bool_]
    stacks: Stacks | None
    stacks_above_bass: Stacks


def mask_of(degrees: Iterable[Degree]) -> int:
    """The mask of some degrees.

    Example:
        >>> bin(mask_of([Degree("1"), Degree("5")]))
        '0b10000001'
    """
    mask = 0
    for degree in degrees:
        mask |= 1 << degree.pitch_class
    return mask


def tones_for(chord: Chord, recipes: tuple[Recipe, ...], conditions: Conditions) -> Tones:
    """The tones that a chord, the recipes of a strategy and the conditions admit.

    Args:
        chord: The chord.
        recipes: The strategy's recipes; one of no degrees asks for no order.
        conditions: The conditions of the search.
    """
    essentials = _essentials(chord)
    stacked = tuple(r for r in recipes if _voices(r, chord, essentials, conditions))
    bass = None
    if chord.bass is not None:
        bass = (chord.bass.pitch_class - chord.root.pitch_class) % SEMITONES_IN_OCTAVE
    foreign = 1 << bass if bass is not None and chord.foreign_bass else 0
    if not all(recipe.degrees for recipe in stacked):
        return Tones(
            names=chord.names,
            admitted=mask_of(chord.degrees) | foreign,
            bass=bass,
            foreign=foreign,
            fits=_fits_freely(chord, foreign, conditions),
            stacks=None,
            stacks_above_bass={},
        )
    above = tuple(recipe for recipe in stacked if foreign and not recipe.mask & foreign)
    whole = tuple(recipe for recipe in stacked if not foreign or recipe.mask & foreign)
    fits = _fits_recipes(whole, 0, conditions) | _fits_recipes(above, foreign, conditions)
    return Tones(
        names=_names(chord, stacked),
        admitted=functools.reduce(operator.or_, (recipe.mask for recipe in stacked), foreign),
        bass=bass,
        foreign=foreign,
        fits=fits,
        stacks=_stacks(whole),
        stacks_above_bass=_stacks(above),
    )


def _essentials(chord: Chord) -> dict[str, list[int]]:
    """For each chord that a recipe may voice, masks of which some tone each must sound."""
    groups = [mask_of(group) for group in chord.essential]
    frame = mask_of(
        degree
        for degree in chord.degrees
        if degree.number in _FRAME_NUMBERS or degree == _FRAME_SIXTH
    )
    return {
        "as_written": groups,
        "tensions": groups,
        "frame": [group for group in groups if group & frame],
        "scale": [],
    }


def _voices(
    recipe: Recipe, chord: Chord, essentials: dict[str, list[int]], conditions: Conditions
) -> bool:
    """Whether a recipe makes voicings of the chord that it says it voices."""
    if not recipe.degrees:
        return True
    if conditions.as_written and recipe.mask & ~mask_of(chord.degrees):
        return False
    voices = "as_written" if conditions.as_written else recipe.voices
    return all(recipe.mask & group for group in essentials[voices])


def _least(asked: int | None, tones: int) -> int:
    return min(_USUAL_LEAST, tones) if asked is None else asked


def _rooted(conditions: Conditions) -> NDArray[np.bool_]:
    """Masks that the root policy allows, (4096,)."""
    root: NDArray[np.bool_] = np.arange(len(TONES_IN_MASK)) & 1 == 1
    if conditions.root == "required":
        return root
    return ~root if conditions.root == "none" else np.ones_like(root)


def _fits_freely(chord: Chord, foreign: int, conditions: Conditions) -> NDArray[np.bool_]:
    masks = np.arange(len(TONES_IN_MASK))
    allowed = _rooted(conditions) & (masks & foreign == foreign)
    for group in chord.essential:
        allowed &= masks & mask_of(group) != 0
    tones = int(TONES_IN_MASK[mask_of(chord.degrees) | foreign])
    allowed &= _least(conditions.min_tones, tones) <= TONES_IN_MASK
    counts = np.arange(MOST_STRINGS + 1)
    enough = (counts >= _least(conditions.min_notes, tones)) & (counts <= conditions.most_notes)
    fits: NDArray[np.bool_] = allowed[:, None] & enough[None, :]
    if conditions.no_doubles:
        fits &= TONES_IN_MASK[:, None] == counts[None, :]
    return fits


def _fits_recipes(
    recipes: tuple[Recipe, ...], foreign: int, conditions: Conditions
) -> NDArray[np.bool_]:
    allowed = _rooted(conditions)
    fits = np.zeros((len(TONES_IN_MASK), MOST_STRINGS + 1), bool)
    for recipe in recipes:
        mask = recipe.mask | foreign
        strings = len(recipe.degrees) + (foreign != 0)
        tones = int(TONES_IN_MASK[mask])
        if (
            allowed[mask]
            and _least(conditions.min_tones, tones) <= tones
            and _least(conditions.min_notes, tones) <= strings <= conditions.most_notes
            and not (conditions.no_doubles and tones < strings)
        ):
            fits[mask, strings] = True
    return fits


def _stacks(recipes: tuple[Recipe, ...]) -> Stacks:
    stacks: dict[int, set[int]] = {}
    for recipe in recipes:
        if recipe.offsets[-1] < 64:  # noqa: PLR2004 - bits of a mask; no neck is wider
            stacks.setdefault(recipe.degrees[0].pitch_class, set()).add(recipe.pattern)
    return {
        tone: np.array(sorted(patterns), np.uint64) for tone, patterns in sorted(stacks.items())
    }


def _names(chord: Chord, recipes: tuple[Recipe, ...]) -> tuple[Degree | None, ...]:
    """The chord's own names first, then those that recipes give."""
    names = list(chord.names)
    for degree in (degree for recipe in recipes for degree in recipe.degrees):
        if names[degree.pitch_class] is None:
            names[degree.pitch_class] = degree
    return tuple(names)
