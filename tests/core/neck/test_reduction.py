"""Reductions: what a chord without a voicing gives up to have one."""

from itertools import combinations
from typing import Any

import pytest
from hypothesis import example, given, settings

from gripwright import Chord, Degree, Hand, Instrument, find_voicings, load_registry
from gripwright.laws.drawing import chords, hands, instruments
from gripwright.neck.reduction import Reduction, reductions
from gripwright.theory.canonical import canonical_quality
from gripwright.theory.quality import minimal
from tests.core.neck.enumerator import Tones, neck_of, tones_of, voicings
from tests.core.neck.reference import instrument
from tests.core.neck.searches import cut_short

UKULELE = instrument("ukulele")
BASS = Instrument.from_text("E2 A2 D3", frets=7, scale_mm=648.0, id="three")

# From the least missed to the most: fifths and roots, extensions, sevenths and thirds.
PLACES = {5: 0, 1: 0, 13: 1, 11: 1, 9: 1, 6: 2, 4: 2, 2: 2, 7: 3, 3: 3}


def without(chord: Chord, given_up: tuple[Degree, ...]) -> Tones:
    """Return the tones of a chord that has lost some degrees, in the enumerator's words."""
    whole = tones_of(chord)
    kept = [degree for degree in chord.degrees if degree not in given_up]
    names: dict[int, str] = {}
    for degree in kept:
        names.setdefault((whole.root + degree.semitones) % 12, str(degree))
    groups = [[degree for degree in group if degree in kept] for group in chord.essential]
    return Tones(
        root=whole.root,
        names=names,
        essential=tuple(
            frozenset((whole.root + degree.semitones) % 12 for degree in group)
            for group in groups
            if group
        ),
        bass=whole.bass,
    )


def essential(chord: Chord) -> tuple[Degree, ...]:
    """Return every degree of some essential group."""
    return tuple(dict.fromkeys(degree for group in chord.essential for degree in group))


def has_a_name(chord: Chord, given_up: tuple[Degree, ...]) -> bool:
    """Tell whether a symbol can say what is left of a chord."""
    degrees = tuple(degree for degree in chord.degrees if degree not in given_up)
    groups = [[tone for tone in group if tone in degrees] for group in chord.essential]
    try:
        return bool(canonical_quality(degrees, minimal(filter(None, groups), degrees)))
    except LookupError:
        return False


def has_voicings(chord: Chord, given_up: tuple[Degree, ...], neck: Instrument, hand: Hand) -> bool:
    """Tell literally whether a chord without some degrees can be played."""
    tones = without(chord, given_up)
    return bool(voicings(tones, neck_of(neck), fingers=hand.fingers, reach=hand.reach_mm))


@settings(max_examples=20)
@given(chord=chords(), neck=instruments(), hand=hands())
@example(chord=Chord.parse("C13b9#11"), neck=instrument("ukulele", frets=7), hand=Hand())
@example(chord=Chord.parse("C13b9#11"), neck=BASS, hand=Hand())
@example(chord=Chord.parse("Cdim7"), neck=BASS, hand=Hand(fingers=1))
@example(chord=Chord.parse("C7alt"), neck=BASS, hand=Hand())
@example(chord=Chord.parse("Cm7#9"), neck=BASS, hand=Hand(fingers=1, reach_mm=10.0))
def test_each_lacks_what_it_gives_up_and_no_nearer_one_exists(
    chord: Chord, neck: Instrument, hand: Hand
) -> None:
    """A reduction lacks what it names, can be played, and no symbol says a nearer one."""
    neck = cut_short(neck, chord)
    if len(find_voicings(chord, neck, hand)):
        return
    found = reductions(chord, neck, hand, most=4)
    assert len(found) <= 4
    assert len({reduction.gives_up for reduction in found}) == len(found)
    for reduction in found:
        assert reduction.gives_up
        assert set(reduction.gives_up) <= set(essential(chord))
        assert reduction.chord.degrees == tuple(
            degree for degree in chord.degrees if degree not in reduction.gives_up
        )
        assert (reduction.chord.root, reduction.chord.bass) == (chord.root, chord.bass)
        assert reduction.count == len(find_voicings(reduction.chord, neck, hand)) > 0
        kept = [set(group) - set(reduction.gives_up) for group in chord.essential]
        assert all(
            any(set(group) <= wanted for group in reduction.chord.essential)
            for wanted in kept
            if wanted
        ), "a tone is no longer essential that was not given up"
    sizes = {len(reduction.gives_up) for reduction in found}
    assert len(sizes) <= 1
    nearer = range(1, min(sizes)) if sizes else range(1, 4)
    for number in nearer:
        for given_up in combinations(essential(chord), number):
            if has_a_name(chord, given_up):
                assert not has_voicings(chord, given_up, neck, hand), given_up


def test_a_seven_note_chord_on_four_strings() -> None:
    """C13b9#11 wants five tones; the ukulele has four strings, and one extension must go."""
    chord = Chord.parse("C13b9#11")
    assert len(chord.degrees) == 7
    assert not len(find_voicings(chord, UKULELE))
    found = reductions(chord, UKULELE, Hand())
    assert {reduction.gives_up for reduction in found} == {("13",), ("#11",), ("b9",)}
    for reduction in found:
        assert str(reduction.gives_up[0]) in reduction.sentence
        assert reduction.chord.symbol in reduction.sentence
        assert f"{reduction.count:,}" in reduction.sentence


def test_extensions_go_before_sevenths_and_thirds() -> None:
    """The order in which tones are given up is the players'."""
    found = reductions(Chord.parse("C13b9#11"), UKULELE, Hand(), most=9)
    places = [max(PLACES[degree.number] for degree in reduction.gives_up) for reduction in found]
    assert places == sorted(places)
    assert places[0] == 1


def test_a_reduction_reads_back() -> None:
    """The symbol of a reduced chord is a chord symbol, and means the reduced chord."""
    for symbol in ("C13b9#11", "F#13b9#11", "C13b9#11/E"):
        found = reductions(Chord.parse(symbol), UKULELE, Hand(), most=9)
        assert found
        for reduction in found:
            assert Chord.parse(reduction.chord.symbol) == reduction.chord


def test_two_are_given_up_where_one_is_not_enough() -> None:
    """Three strings hold three of five essential tones."""
    found = reductions(Chord.parse("C13b9#11"), BASS, Hand(reach_mm=150.0), most=9)
    assert {len(reduction.gives_up) for reduction in found} == {2}


def test_conditions_and_strategy_count() -> None:
    """Only what the search itself would find is offered."""
    chord = Chord.parse("C13b9#11")
    drop = load_registry().strategies["drop-2"]
    assert not len(find_voicings(chord, instrument("guitar"), strategy=drop))
    found = reductions(chord, instrument("guitar"), Hand(), drop, top_degree="b9")
    assert found
    for reduction in found:
        assert "b9" not in reduction.gives_up
        table = find_voicings(reduction.chord, instrument("guitar"), strategy=drop, top_degree="b9")
        assert len(table) == reduction.count > 0


def test_no_more_are_offered_than_asked_for() -> None:
    """One where one is wanted, and the nearest of all."""
    chord = Chord.parse("C13b9#11")
    assert reductions(chord, UKULELE, Hand(), most=1) == reductions(chord, UKULELE, Hand())[:1]


def test_a_hand_that_holds_nothing_has_no_reduction() -> None:
    """Where three tones fewer do not help, none is offered."""
    one = Instrument.from_text("E2", frets=3, scale_mm=648.0, id="one")
    assert reductions(Chord.parse("C13b9#11"), one, Hand()) == ()
    # Four fewer would leave C7, whose third and seventh two strings hold.
    two = Instrument.from_text("D3 G3", frets=14, scale_mm=648.0, id="two")
    least: dict[str, Any] = {"min_notes": 1, "min_tones": 1}
    assert reductions(Chord.parse("C7b9#9#11b13"), two, Hand(), **least) == ()
    assert len(find_voicings(Chord.parse("C7"), two, **least)) == 2


def test_something_is_given_up_even_of_a_chord_that_has_voicings() -> None:
    """A reduction is never the chord itself."""
    found = reductions(Chord.parse("C7"), UKULELE, Hand())
    assert found
    assert all(reduction.gives_up for reduction in found)


def test_what_was_said_of_the_chord_is_not_said_of_its_reduction() -> None:
    """A warning concerns the text that was read."""
    chord = Chord.parse("C13b9#11no4")
    assert chord.warnings == ("there is no 4 to leave out",)
    assert {reduction.chord.warnings for reduction in reductions(chord, UKULELE, Hand())} == {()}


def test_voicings_are_counted_up_to_the_bound() -> None:
    """A reduction with more is offered with as many."""
    found = reductions(Chord.parse("C13b9#11"), UKULELE, Hand(), row_bound=1)
    assert [reduction.count for reduction in found] == [1, 1, 1]


@pytest.mark.parametrize(
    ("count", "said"), [(1, "1 voicing"), (12, "12 voicings"), (1200, "1,200")]
)
def test_the_sentence_counts(count: int, said: str) -> None:
    """One voicing is singular, and thousands are grouped."""
    reduction = Reduction(Chord.parse("C13b9"), (Degree("#11"), Degree("5")), count)
    assert said in reduction.sentence
    assert "the #11 and the 5" in reduction.sentence
