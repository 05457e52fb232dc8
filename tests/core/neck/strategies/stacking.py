"""Recipes followed literally, one shape at a time, against which the search by strategy is held.

A recipe is stacked pitch by pitch, and a shape belongs to it where its pitches, sorted, are that
stack. Which chord a recipe voices is read from the definitions: as written and with tensions,
every essential group must sound; of its frame, the groups of root, third or its substitute, and
seventh or sixth; of its scale, none.
"""

from collections.abc import Iterable, Sequence
from math import prod

import attrs

from gripwright import Chord, Degree, Hand, Instrument, Recipe
from tests.core.neck.enumerator import Neck, Tones, is_playable, neck_of, shapes, tones_of

FRAME = frozenset({"1", "b3", "3", "4", "2", "7", "b7", "bb7", "6"})
_MOST_SHAPES = 25_000


def stacked(recipe: Recipe) -> tuple[int, ...]:
    """Return semitones above the lowest tone, climbing one semitone at a time to each next one."""
    heights = [0]
    for index in range(1, len(recipe.degrees)):
        if recipe.gaps:
            heights.append(heights[-1] + recipe.gaps[index - 1])
            continue
        wanted = (recipe.degrees[index].semitones - recipe.degrees[0].semitones) % 12
        height = heights[-1] + 1
        while height % 12 != wanted:
            height += 1
        heights.append(height)
    return tuple(heights)


def places(degrees: Iterable[Degree]) -> set[int]:
    """Return the pitch classes of degrees above the root."""
    return {degree.semitones % 12 for degree in degrees}


def groups_of(recipe: Recipe, chord: Chord) -> list[tuple[Degree, ...]]:
    """Return the essential groups of the chord that a recipe says it voices."""
    if recipe.voices == "scale":
        return []
    if recipe.voices == "frame":
        return [group for group in chord.essential if FRAME & set(group)]
    return list(chord.essential)


def voices_its_chord(recipe: Recipe, chord: Chord) -> bool:
    """Tell whether every essential group of the chord that a recipe voices sounds in it."""
    sounding = places(recipe.degrees)
    return all(sounding & places(group) for group in groups_of(recipe, chord))


def tones_of_recipes(recipes: Iterable[Recipe], chord: Chord) -> Tones:
    """Return the tones that some recipes sound, none of them essential."""
    written = tones_of(chord)
    names = dict(written.names)
    heard: dict[int, str] = {}
    for recipe in recipes:
        for degree in recipe.degrees:
            place = (written.root + degree.semitones) % 12
            heard[place] = names.setdefault(place, str(degree))
    return Tones(root=written.root, names=heard, essential=(), bass=written.bass)


def literal_voicings(
    chord: Chord, recipes: Sequence[Recipe], instrument: Instrument, hand: Hand
) -> list[tuple[int, ...]]:
    """Return every playable shape whose pitches are a stack of one of the recipes."""
    kept = [recipe for recipe in recipes if voices_its_chord(recipe, chord)]
    stacks = {(recipe.degrees[0].semitones % 12, stacked(recipe)) for recipe in kept}
    tones, neck = tones_of_recipes(kept, chord), neck_of(instrument)
    return [
        frets
        for frets in shapes(tones, neck, hand.reach_mm)
        if is_stack(frets, neck, chord, stacks)
        and is_playable(neck, frets, fingers=hand.fingers, reach=hand.reach_mm)
    ]


def is_stack(
    frets: Sequence[int], neck: Neck, chord: Chord, stacks: set[tuple[int, tuple[int, ...]]]
) -> bool:
    """Tell whether what sounds, above a foreign bass if there is one, is one of some stacks."""
    pitches = sorted(neck.sounding(string, fret) for string, fret in enumerate(frets) if fret >= 0)
    tones = tones_of(chord)
    if not pitches or tones.bass not in {None, pitches[0] % 12}:
        return False
    voices = pitches if tones.foreign_bass is None else pitches[1:]
    if not voices or len(set(pitches)) < len(pitches):
        return False
    heights = tuple(pitch - voices[0] for pitch in voices)
    return ((voices[0] - tones.root) % 12, heights) in stacks


def cut_to(instrument: Instrument, tones: Tones) -> Instrument:
    """Return the instrument with so few frets that every shape of some tones can be looked at."""
    wanted = {*tones.names, tones.bass}
    firsts = [string.first_fret for string in instrument.strings]

    def count(frets: int) -> int:
        neck = neck_of(attrs.evolve(instrument, frets=frets))
        return prod(
            1 + sum(neck.sounding(i, fret) % 12 in wanted for fret in (0, *neck.presses_of(i)))
            for i in range(len(firsts))
        )

    frets = instrument.frets
    while frets > max(*firsts, 2) + 1 and count(frets) > _MOST_SHAPES:
        frets -= 1
    return attrs.evolve(instrument, frets=frets)
