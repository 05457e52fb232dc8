"""The laws of voicing strategies: recipes that voice the chord, alike in every key."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from typing import TYPE_CHECKING, Final

from hypothesis import strategies as st

from gripwright.errors import ConditionError
from gripwright.laws.drawing import chords, hands, notes, small_intervals
from gripwright.laws.law import Draws, Law, LawBrokenError, demand
from gripwright.neck import Hand, Instrument, Recipe
from gripwright.neck.search import find_voicings
from gripwright.plugins.kinds import shown
from gripwright.theory import QUALITIES, Chord, Interval, Note

if TYPE_CHECKING:
    from gripwright.neck import VoicingStrategy

MOST_RECIPES: Final = 10_000
"""Recipes that a strategy may have for one chord: more is a strategy without end."""

_FRAME: Final = frozenset({1, 2, 3, 4, 7})
_FRAME_SIXTH: Final = "6"
_HIGHEST_PLAIN: Final = 7
_NECKS: Final = ("E2 A2 D3 G3 B3 E4", "G4 C4 E4 A4", "D3 G3 B3 D4")
_SHORT: Final = 7


def gives_recipes_for_any_chord(strategy: VoicingStrategy, *, chord: Chord) -> None:
    """For any chord a strategy gives recipes, or none: it raises nothing and comes to an end."""
    recipes_of(strategy, chord)


def recipes_repeat(strategy: VoicingStrategy, *, chord: Chord, between: Chord) -> None:
    """Asked again, a strategy gives the same recipes in the same order."""
    first = recipes_of(strategy, chord)
    demand(recipes_of(strategy, chord) == first, "asked twice it gives other recipes")
    recipes_of(strategy, between)
    demand(
        recipes_of(strategy, chord) == first,
        f"asked for {between} in between it gives other recipes",
    )


def recipes_follow_the_key(strategy: VoicingStrategy, *, chord: Chord, interval: Interval) -> None:
    """The same chord in another key gets the same recipes: degrees know no key."""
    try:
        moved = chord.transposed(interval)
    except ConditionError:
        # The root would need more accidentals than any root has.
        return
    here, there = recipes_of(strategy, chord), recipes_of(strategy, moved)
    demand(
        here == there,
        lambda: f"{chord} has {_counted(here)} and {moved} {_counted(there)}{_unlike(here, there)}",
    )


def recipes_keep_to_their_chord(strategy: VoicingStrategy, *, chord: Chord) -> None:
    """A recipe of the chord as written, or of its frame, stacks nothing that it has not."""
    own = {degree.pitch_class for degree in chord.degrees}
    if chord.bass is not None:
        own.add((chord.bass.pitch_class - chord.root.pitch_class) % 12)
    for recipe in recipes_of(strategy, chord):
        if recipe.voices in {"as_written", "frame"}:
            strange = [degree for degree in recipe.degrees if degree.pitch_class not in own]
            demand(
                not strange,
                f"{_stack(recipe)} says that it voices {recipe.voices.replace('_', ' ')},"
                f" and {' and '.join(strange)} is not in the chord",
            )


def recipes_voice_plain_chords(strategy: VoicingStrategy, *, chord: Chord) -> None:
    """Of its recipes for a triad, sixth or seventh chord one at least has every essential tone.

    Chords of more tones may have none: what lacks an essential tone is never found. So may a
    chord that needs more tones than the largest recipe has.
    """
    recipes = recipes_of(strategy, chord)
    room = max((len(recipe.degrees) for recipe in recipes), default=0)
    if room < len(chord.essential) or any(_voices(recipe, chord) for recipe in recipes):
        return
    fullest = min(recipes, key=lambda recipe: len(_missing(recipe, chord)))
    lacking = " and ".join("/".join(group) for group in _missing(fullest, chord))
    demand(
        condition=False, fault=f"every recipe lacks an essential tone: {_stack(fullest)}, {lacking}"
    )


def voicings_are_playable_ones(
    strategy: VoicingStrategy, *, chord: Chord, tuning: str, hand: Hand
) -> None:
    """What it finds can be held; as written, it is among all that can be played."""
    neck = Instrument.from_text(tuning, frets=_SHORT)
    recipes = recipes_of(strategy, chord)
    table = find_voicings(chord, neck, hand, strategy)
    for voicing in table[:20]:
        demand(
            voicing.presses <= hand.fingers and voicing.reach_mm <= hand.reach_mm + 1e-6,
            f"{voicing.shape} takes {voicing.presses} presses and {voicing.reach_mm:.1f} mm",
        )
    if all(recipe.voices == "as_written" for recipe in recipes):
        every = find_voicings(chord, neck, hand, min_notes=2, min_tones=2)
        known = set(map(tuple, every.frets.tolist()))
        for voicing in table:
            demand(
                voicing.frets in known,
                f"{voicing.shape} is no voicing of {chord} as written:"
                f" it adds {' '.join(voicing.added) or 'nothing'}",
            )


def serves_some_chord(strategy: VoicingStrategy) -> None:
    """There is a quality of chord that it has a recipe for."""
    root = Note.parse("C")
    demand(
        any(recipes_of(strategy, Chord(root, quality)) for quality in QUALITIES.values()),
        f"it has no recipe for any of the {len(QUALITIES)} qualities",
    )


def recipes_of(strategy: VoicingStrategy, chord: Chord) -> list[Recipe]:
    """The recipes of a strategy for a chord.

    Args:
        strategy: The strategy.
        chord: The chord.

    Raises:
        LawBrokenError: It gives something else, or more than 10,000.

    Example:
        >>> from gripwright.neck.strategies import BUILTIN_STRATEGIES
        >>> shell = {strategy.name: strategy for strategy in BUILTIN_STRATEGIES}["shell"]
        >>> [_stack(recipe) for recipe in recipes_of(shell, Chord.parse("Cmaj7"))]
        ['1 3 7', '1 7 3']
    """
    answer: object = strategy.recipes(chord)
    demand(isinstance(answer, Iterable), f"it gives {shown(answer)}, and no recipes")
    assert isinstance(answer, Iterable)  # noqa: S101 - for the type checker: the line above
    recipes = list(islice(answer, MOST_RECIPES + 1))
    demand(len(recipes) <= MOST_RECIPES, f"it gives more than {MOST_RECIPES:,} recipes")
    for recipe in recipes:
        if not isinstance(recipe, Recipe):
            raise LawBrokenError(fault=f"it gives {shown(recipe)}, which is no Recipe")
    return recipes


def _voices(recipe: Recipe, chord: Chord) -> bool:
    """Whether a recipe sounds every essential tone of the chord that it says it voices."""
    return not recipe.degrees or not _missing(recipe, chord)


def _missing(recipe: Recipe, chord: Chord) -> list[tuple[str, ...]]:
    sounding = {degree.pitch_class for degree in recipe.degrees}
    groups = () if recipe.voices == "scale" else chord.essential
    if recipe.voices == "frame":
        groups = tuple(
            group
            for group in groups
            if any(degree.number in _FRAME or degree == _FRAME_SIXTH for degree in group)
        )
    return [group for group in groups if not sounding & {degree.pitch_class for degree in group}]


def _stack(recipe: Recipe) -> str:
    return " ".join(recipe.degrees)


def _counted(recipes: list[Recipe]) -> str:
    return f"{len(recipes)} recipe{'' if len(recipes) == 1 else 's'}"


def _unlike(here: list[Recipe], there: list[Recipe]) -> str:
    """The first recipe that differs, in words."""
    for one, other in zip(here, there, strict=False):
        if one != other:
            return f", first {_stack(one)} and {_stack(other)}"
    return ""


def _chords(_strategy: VoicingStrategy) -> Draws:
    return {"chord": chords()}


def _plain_chords(_strategy: VoicingStrategy) -> Draws:
    plain = [
        quality
        for quality in QUALITIES.values()
        if max(degree.number for degree in quality.degrees) <= _HIGHEST_PLAIN
    ]
    return {"chord": st.builds(Chord, notes(most_accidentals=1), st.sampled_from(plain))}


def _two(_strategy: VoicingStrategy) -> Draws:
    return {"chord": chords(), "between": chords()}


def _moved(_strategy: VoicingStrategy) -> Draws:
    return {"chord": chords(), "interval": small_intervals()}


def _searches(_strategy: VoicingStrategy) -> Draws:
    return {"chord": chords(), "tuning": st.sampled_from(_NECKS), "hand": hands()}


LAWS: Final = (
    Law.of("strategy", gives_recipes_for_any_chord, _chords),
    Law.of("strategy", recipes_repeat, _two),
    Law.of("strategy", recipes_follow_the_key, _moved),
    Law.of("strategy", recipes_keep_to_their_chord, _chords),
    Law.of("strategy", recipes_voice_plain_chords, _plain_chords),
    Law.of("strategy", voicings_are_playable_ones, _searches, share=0.4),
    Law.of("strategy", serves_some_chord),
)
"""Every law of voicing strategies."""
