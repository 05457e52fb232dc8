"""Laws that every strategy of the library keeps, on drawn chords, necks and hands."""

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from gripwright import Chord, Hand, Instrument, Interval, VoicingStrategy, find_voicings
from gripwright.errors import ConditionError
from gripwright.laws.drawing import chords, hands, instruments
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from tests.core.neck.reference import instrument
from tests.core.neck.searches import cut_short
from tests.core.neck.strategies.stacking import (
    cut_to,
    literal_voicings,
    places,
    stacked,
    tones_of_recipes,
    voices_its_chord,
)

STRATEGIES = {strategy.name: strategy for strategy in BUILTIN_STRATEGIES}
STACKING = tuple(strategy for strategy in BUILTIN_STRATEGIES if strategy.name != "any")
AS_WRITTEN = (
    *("close", "drop-2", "drop-3", "drop-2-4", "drop-2-3", "double-drop"),
    *("triads", "spread", "triad-over-bass", "octave-doubled"),
)
COMPLETE = (*AS_WRITTEN[:8], "shell", "guide-tones")
"""Families whose every voicing the strategy of that name finds."""

FEW = settings(max_examples=10)
SOME = settings(max_examples=15)

GUITAR, UKULELE = instrument("guitar"), instrument("ukulele", frets=12)
SHARED = tuple(map(Chord.parse, ("Cm7#9", "C7b5#11", "Cm(add#9)")))
"""Chords of which two degrees share a pitch class; it satisfies both essential groups."""

by_name = pytest.mark.parametrize("strategy", STACKING, ids=lambda strategy: strategy.name)


def shapes(frets: list[list[int]]) -> list[tuple[int, ...]]:
    """Return frets, row by row."""
    return [tuple(row) for row in frets]


def foreign_to_recipes(chord: Chord, strategy: VoicingStrategy) -> bool:
    """Tell whether no recipe itself sounds the foreign bass of a chord."""
    if chord.bass is None:
        return False
    place = (chord.bass.pitch_class - chord.root.pitch_class) % 12
    return chord.foreign_bass and not any(
        place in places(recipe.degrees) for recipe in strategy.recipes(chord)
    )


@by_name
@FEW
@given(chord=chords(), neck=instruments(), hand=hands())
@example(chord=Chord.parse("C/D"), neck=UKULELE, hand=Hand())
def test_a_strategy_finds_its_stacks_and_nothing_else(
    strategy: VoicingStrategy, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """The shapes are those that follow a recipe literally and can be held, no more, no less."""
    assume(not chord.foreign_bass or foreign_to_recipes(chord, strategy))
    recipes = list(strategy.recipes(chord))
    neck = cut_to(neck, tones_of_recipes(recipes, chord))
    found = find_voicings(chord, neck, hand, strategy)
    assert shapes(found.frets.tolist()) == literal_voicings(chord, recipes, neck, hand)


@by_name
@SOME
@given(chord=chords(slashed=True), neck=instruments(), hand=hands())
@example(chord=Chord.parse("C/D"), neck=GUITAR, hand=Hand())
@example(chord=Chord.parse("G7/F"), neck=GUITAR, hand=Hand())
def test_a_slash_bass_is_the_lowest_pitch(
    strategy: VoicingStrategy, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """Whatever a strategy stacks stands on the bass, which is the recipe's own or one note more."""
    assert chord.bass is not None
    root = chord.root.pitch_class
    stacks = {
        ((root + recipe.degrees[0].semitones) % 12, stacked(recipe))
        for recipe in strategy.recipes(chord)
        if voices_its_chord(recipe, chord)
    }
    for voicing in find_voicings(chord, neck, hand, strategy)[:200]:
        heard = sorted(voicing.midi)
        assert heard[0] % 12 == chord.bass.pitch_class
        whole = heard[0] % 12, tuple(midi - heard[0] for midi in heard)
        above = heard[1] % 12, tuple(midi - heard[1] for midi in heard[1:])
        assert whole in stacks or (chord.foreign_bass and above in stacks)


@pytest.mark.parametrize("name", AS_WRITTEN)
@SOME
@given(chord=chords(), neck=instruments(), hand=hands())
def test_a_strategy_of_the_chord_as_written_is_a_subset_of_any(
    name: str, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """Nothing is added, and what is found is found without the strategy too."""
    neck = cut_short(neck, chord)
    assert all(recipe.voices == "as_written" for recipe in STRATEGIES[name].recipes(chord))
    table = find_voicings(chord, neck, hand, STRATEGIES[name])
    every = find_voicings(chord, neck, hand, min_notes=2, min_tones=2)
    assert set(shapes(table.frets.tolist())) <= set(shapes(every.frets.tolist()))
    assert all(voicing.added == () for voicing in table[:50])


@by_name
@SOME
@given(chord=chords(), neck=instruments(), hand=hands())
@example(chord=Chord.parse("C"), neck=GUITAR, hand=Hand())
@example(chord=Chord.parse("G13"), neck=GUITAR, hand=Hand())
@example(chord=Chord.parse("C6"), neck=GUITAR, hand=Hand())
@example(chord=Chord.parse("C7sus4"), neck=GUITAR, hand=Hand())
@example(chord=Chord.parse("Dm7/G"), neck=GUITAR, hand=Hand())
def test_what_a_strategy_finds_is_classified_under_its_name(
    strategy: VoicingStrategy, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """Generation goes with classification."""
    table = find_voicings(chord, neck, hand, strategy)
    assert table.families()[strategy.name].all()


@pytest.mark.parametrize("name", COMPLETE)
@SOME
@given(chord=chords(), neck=instruments(), hand=hands())
@example(chord=SHARED[0], neck=GUITAR, hand=Hand())
@example(chord=SHARED[1], neck=GUITAR, hand=Hand())
@example(chord=SHARED[2], neck=GUITAR, hand=Hand())
def test_what_is_classified_under_a_name_is_found_by_its_strategy(
    name: str, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """Classification goes with generation, for the families that are one order of tones."""
    assume(not chord.foreign_bass)
    every = find_voicings(chord, neck, hand, min_notes=2, min_tones=2)
    found = find_voicings(chord, neck, hand, STRATEGIES[name])
    classified = every[every.families()[name]]
    assert set(shapes(classified.frets.tolist())) <= set(shapes(found.frets.tolist()))


@by_name
@SOME
@given(chord=chords(), neck=instruments(), hand=hands())
def test_a_strategy_needs_no_other_reading_of_its_shapes(
    strategy: VoicingStrategy, chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """A shape belongs to the same families whichever search found it."""
    neck = cut_short(neck, chord)
    table = find_voicings(chord, neck, hand, strategy)
    every = find_voicings(chord, neck, hand, min_notes=2, min_tones=2)
    free = every.families()
    at = {frets: row for row, frets in enumerate(shapes(every.frets.tolist()))}
    found = table.families()
    for row, frets in enumerate(shapes(table.frets.tolist())):
        if frets in at:
            same = [name for name in found if found[name][row] == free[name][at[frets]]]
            assert same == list(found)


@pytest.mark.parametrize("strategy", BUILTIN_STRATEGIES, ids=lambda strategy: strategy.name)
@SOME
@given(chord=chords(), data=st.data())
def test_recipes_repeat_themselves_in_every_key(
    strategy: VoicingStrategy, chord: Chord, data: st.DataObject
) -> None:
    """Equal chords get equal recipes in the same order, and so do chords that are transposed."""
    interval = data.draw(st.sampled_from(["P1", "m2", "M2", "m3", "M3", "P4", "A4", "P5"]))
    try:
        moved = chord.transposed(Interval.parse(interval))
    except ConditionError:
        assume(False)  # noqa: FBT003 - Hypothesis takes it so
    recipes = list(strategy.recipes(chord))
    assert list(strategy.recipes(moved)) == recipes


@pytest.mark.parametrize("strategy", BUILTIN_STRATEGIES, ids=lambda strategy: strategy.name)
@SOME
@given(chord=chords())
def test_recipes_stack_literally(strategy: VoicingStrategy, chord: Chord) -> None:
    """The offsets of a recipe are those of climbing to each next tone a semitone at a time."""
    for recipe in strategy.recipes(chord):
        if recipe.degrees:
            assert recipe.offsets == stacked(recipe)


@by_name
@SOME
@given(chord=chords())
def test_a_tone_of_the_symbol_keeps_its_name(strategy: VoicingStrategy, chord: Chord) -> None:
    """A recipe calls no tone by another degree where the symbol has one for it."""
    written: dict[int, str] = {}
    for degree in chord.degrees:
        written.setdefault(degree.semitones % 12, str(degree))
    for voicing in find_voicings(chord, UKULELE, Hand(reach_mm=130.0), strategy)[:40]:
        for degree in voicing.degrees:
            assert written.get(degree.semitones % 12, str(degree)) == degree


@by_name
@SOME
@given(chord=chords(), hand=hands())
def test_added_and_left_out_tell_what_differs_from_the_symbol(
    strategy: VoicingStrategy, chord: Chord, hand: Hand
) -> None:
    """Added and left out are the two differences between what sounds and what is written."""
    own = places(chord.degrees)
    bass = set()
    if chord.bass is not None:
        bass = {(chord.bass.pitch_class - chord.root.pitch_class) % 12}
    for voicing in find_voicings(chord, UKULELE, hand, strategy)[:40]:
        heard = {(midi - chord.root.pitch_class) % 12 for midi in voicing.midi}
        assert places(voicing.added) == heard - own - bass
        assert places(voicing.left_out) == own - heard
        assert set(voicing.left_out) <= set(chord.degrees)
