"""Which sets of tones a search admits, worked out by hand from what the chord cannot lack."""

import pytest

from gripwright import Chord, Degree, Recipe
from gripwright.neck.conditions import Conditions
from gripwright.neck.instrument import MOST_STRINGS
from gripwright.neck.tones import TONES_IN_MASK, Tones, mask_of, tones_for

ANY = Recipe(())


def mask(degrees: str) -> int:
    """Return the mask of degrees as text."""
    return mask_of(map(Degree, degrees.split()))


def tones(symbol: str, *recipes: Recipe, **conditions: object) -> Tones:
    """Return the tones of a chord under conditions, in any order where no recipe is given."""
    asked = Conditions(**conditions)  # type: ignore[arg-type]
    return tones_for(Chord.parse(symbol), recipes or (ANY,), asked)


def fitting(found: Tones) -> set[tuple[int, int]]:
    """Return the masks that fit, each with the strings that sound it."""
    return {
        (int(where), int(strings)) for where, strings in zip(*found.fits.nonzero(), strict=True)
    }


@pytest.mark.parametrize(
    ("symbol", "conditions", "degrees", "strings", "fits"),
    [
        # Third and seventh are essential, and three tones on three strings the least.
        ("Cmaj7", {}, "1 3 5 7", 4, True),
        ("Cmaj7", {}, "3 5 7", 3, True),
        ("Cmaj7", {}, "1 3 7", MOST_STRINGS, True),
        ("Cmaj7", {}, "1 5 7", 3, False),
        ("Cmaj7", {}, "1 3 5", 3, False),
        ("Cmaj7", {}, "3 7", 2, False),
        ("Cmaj7", {}, "3 7", 3, False),
        ("Cmaj7", {"min_tones": 2}, "3 7", 3, True),
        ("Cmaj7", {"min_tones": 2}, "3 7", 2, False),
        ("Cmaj7", {"min_notes": 2}, "3 7", 2, False),
        ("Cmaj7", {"min_tones": 2, "min_notes": 2}, "3 7", 2, True),
        ("Cmaj7", {"min_notes": 5}, "1 3 5 7", 4, False),
        ("Cmaj7", {"max_notes": 4}, "1 3 5 7", 4, True),
        ("Cmaj7", {"max_notes": 4}, "1 3 5 7", 5, False),
        ("Cmaj7", {"no_doubles": True}, "1 3 5 7", 4, True),
        ("Cmaj7", {"no_doubles": True}, "1 3 5 7", 5, False),
        ("Cmaj7", {"root": "required"}, "1 3 7", 3, True),
        ("Cmaj7", {"root": "required"}, "3 5 7", 3, False),
        ("Cmaj7", {"root": "none"}, "3 5 7", 3, True),
        ("Cmaj7", {"root": "none"}, "1 3 7", 3, False),
        # A power chord has no more than two tones.
        ("C5", {}, "1 5", 2, True),
        # One fifth of two is enough.
        ("C7alt", {}, "3 b7 b5 b9", 4, True),
        ("C7alt", {}, "3 b7 #5 b9", 4, True),
        ("C7alt", {}, "3 b7 b9", 3, False),
        # A foreign bass sounds always.
        ("C/D", {}, "1 3 5 9", 4, True),
        ("C/D", {}, "1 3 5", 3, False),
        ("C/D", {"root": "none"}, "3 5 9", 3, False),
        ("C7/D", {"root": "none"}, "3 b7 9", 3, True),
        ("C7/D", {"root": "none"}, "1 3 b7 9", 4, False),
    ],
)
def test_sets_of_tones_are_voicings(
    symbol: str, conditions: dict[str, object], degrees: str, strings: int, *, fits: bool
) -> None:
    """In any order: what must sound, how many tones, and on how many strings."""
    found = tones(symbol, **conditions)
    assert found.fits.shape == (len(TONES_IN_MASK), MOST_STRINGS + 1)
    assert found.fits[mask(degrees), strings] == fits


def test_without_recipes_the_tones_of_the_chord_are_admitted_in_any_order() -> None:
    """No stack is asked for, neither alone nor above the bass."""
    found = tones("C/D")
    assert found.admitted == mask("1 9 3 5")
    assert (found.bass, found.foreign) == (2, mask("9"))
    assert (found.stacks, found.stacks_above_bass) == (None, {})
    plain = tones("C/E")
    assert plain.admitted == mask("1 3 5")
    assert (plain.bass, plain.foreign) == (4, 0)
    assert (tones("C").bass, tones("C").foreign) == (None, 0)


def test_one_recipe_without_order_frees_all() -> None:
    """What any order gives holds what the stacks give."""
    found = tones("Cmaj7", Recipe(("1", "5", "7", "3")), ANY)
    assert found.stacks is None
    assert fitting(found) == fitting(tones("Cmaj7"))


def test_a_stack_sounds_as_many_strings_as_it_has_tones() -> None:
    """Drop 2 of Cmaj7 on its root, and on its third."""
    found = tones("Cmaj7", Recipe(("1", "5", "7", "3")), Recipe(("3", "7", "1", "5")))
    assert found.fits.shape == (len(TONES_IN_MASK), MOST_STRINGS + 1)
    assert fitting(found) == {(mask("1 3 5 7"), 4)}
    assert found.admitted == mask("1 3 5 7")
    assert found.stacks is not None
    assert {low: list(stacks) for low, stacks in found.stacks.items()} == {
        0: [1 | 1 << 7 | 1 << 11 | 1 << 16],
        4: [1 | 1 << 7 | 1 << 8 | 1 << 15],
    }
    assert {stacks.dtype.name for stacks in found.stacks.values()} == {"uint64"}
    assert found.stacks_above_bass == {}


def test_a_rootless_stack_admits_no_root() -> None:
    """3 5 7 9 of Cmaj9."""
    assert tones("Cmaj9", Recipe(("3", "5", "7", "9"))).admitted == mask("3 5 7 9")


def test_a_stack_stands_above_a_foreign_bass_unless_it_has_it() -> None:
    """Over C/D a triad takes one string more; a stack with the 9 in it brings the bass along."""
    triad = Recipe(("1", "3", "5"))
    assert fitting(tones("C/D", triad)) == {(mask("1 9 3 5"), 4)}
    found = tones("C/D", triad, Recipe(("9", "3", "5", "1")))
    assert fitting(found) == {(mask("1 9 3 5"), 4)}
    assert found.stacks is not None
    assert {low: list(stacks) for low, stacks in found.stacks.items()} == {
        2: [1 | 1 << 2 | 1 << 5 | 1 << 10]
    }
    above = {low: list(stacks) for low, stacks in found.stacks_above_bass.items()}
    assert above == {0: [1 | 1 << 4 | 1 << 7]}
    assert found.admitted == mask("1 9 3 5")
    assert (found.bass, found.foreign) == (2, mask("9"))


@pytest.mark.parametrize(
    ("recipe", "conditions", "fits"),
    [
        (("1", "3", "1"), {}, True),
        (("1", "3", "1"), {"min_tones": 2}, True),
        (("1", "3", "1"), {"min_tones": 2, "no_doubles": True}, False),
        (("1", "3", "5"), {"no_doubles": True}, True),
        (("1", "3"), {}, True),
        (("1", "3"), {"min_notes": 3}, False),
        (("1", "3"), {"min_tones": 3}, False),
        (("1", "3", "5"), {"max_notes": 3}, True),
        (("1", "3", "5"), {"max_notes": 2}, False),
        (("3", "5"), {"root": "required"}, False),
        (("3", "5"), {"root": "none"}, True),
    ],
)
def test_conditions_choose_among_stacks(
    recipe: tuple[str, ...], conditions: dict[str, object], *, fits: bool
) -> None:
    """A stack of two tones need not have three, unless they are asked."""
    assert bool(fitting(tones("C", Recipe(recipe, "scale"), **conditions))) == fits


@pytest.mark.parametrize(
    ("symbol", "recipe", "as_it_says", "as_written"),
    [
        # The frame: third or what stands for it, seventh or sixth; no tension belongs to it.
        ("C13", Recipe(("3", "b7", "1"), "frame"), True, False),
        ("C13", Recipe(("3", "5", "1"), "frame"), False, False),
        ("C13", Recipe(("3", "b7", "13"), "frame"), True, True),
        ("C6", Recipe(("1", "3", "5"), "frame"), False, False),
        ("C6/9", Recipe(("1", "3", "6"), "frame"), True, False),
        ("C7sus4", Recipe(("1", "5", "b7"), "frame"), False, False),
        ("C7sus4", Recipe(("1", "4", "b7"), "frame"), True, True),
        # Tensions may be added to all that is essential, and a scale may be sounded freely.
        ("C7", Recipe(("3", "b7", "9"), "tensions"), True, False),
        ("C7", Recipe(("5", "b7", "9"), "tensions"), False, False),
        ("C7", Recipe(("1", "5", "9"), "scale"), True, False),
        ("C7", Recipe(("1", "5", "b7"), "scale"), True, False),
        ("C7", Recipe(("1", "3", "b7"), "scale"), True, True),
        ("C7", Recipe(("1", "3", "5")), False, False),
    ],
)
def test_a_recipe_voices_the_chord_that_it_names(
    symbol: str, recipe: Recipe, *, as_it_says: bool, as_written: bool
) -> None:
    """As it stands, or with nothing added and every essential group where that is asked."""
    assert bool(fitting(tones(symbol, recipe))) == as_it_says
    assert bool(fitting(tones(symbol, recipe, as_written=True))) == as_written


def test_a_tone_has_the_name_of_the_chord_before_that_of_a_recipe() -> None:
    """The same sound is #9 in C7#9, and b3 where only the recipe has it."""
    stack = Recipe(("3", "b7", "b3"), "scale")
    assert tones("C7#9", stack).names[3] == "#9"
    assert tones("C7", stack).names[3] == "b3"
    assert tones("C7", stack).names[7] == "5"
    assert tones("C7", stack).names[2] is None


@pytest.mark.parametrize(
    ("recipe", "kept"),
    [
        (Recipe(("1", "b3"), gaps=(63,)), True),
        (Recipe(("1", "3"), gaps=(64,)), False),
        (Recipe(("1", "5", "4"), gaps=(7, 58)), False),
        (Recipe(("3",)), True),
    ],
)
def test_stacks_wider_than_any_neck_are_left_out(recipe: Recipe, *, kept: bool) -> None:
    """More than five octaves and a minor third."""
    voiced = Recipe(recipe.degrees, "scale", recipe.gaps)
    assert bool(tones("C", voiced, min_tones=1, min_notes=1).stacks) == kept
