"""The new grip: it fills a gap, the hand holds it, and it is near to what is known."""

from itertools import pairwise

import pytest
from hypothesis import given, settings

from gripwright import Chord, Hand, Instrument, Pitch, Voicing
from gripwright.vocabulary import (
    Facts,
    NewGripWeights,
    Profile,
    choose_new_grip,
    context_of,
    fits_hand,
    gaps,
    on_root,
    question,
)
from gripwright.vocabulary.new_grip import _Shapes, root_below
from tests.core.vocabulary.players import GUITAR, PLAYER, VOCABULARIES, grip, known


@settings(max_examples=8)
@given(facts=VOCABULARIES)
def test_the_new_grip_fills_the_gap_that_it_names(facts: tuple[Facts, ...]) -> None:
    """It is not known yet, says its chord, can be held, and its gap is a gap."""
    new = choose_new_grip(facts, PLAYER)
    assert new is not None
    own = Facts.of(new.grip)
    assert own.id not in {fact.id for fact in facts}
    assert question(new.grip) is None
    assert fits_hand(new.grip, PLAYER.hand)
    assert new.gap in set(gaps(facts, GUITAR))
    assert new.gap not in set(gaps((*facts, own), GUITAR))
    assert own.movable
    assert new.sing.midi == max(new.grip.midi)


def test_the_same_vocabulary_brings_the_same_grip() -> None:
    """Whatever the order in which its grips are told."""
    facts = known(("Cmaj7", "x-3-5-4-5-x"), ("C7", "x-3-5-3-5-x"), ("Cm7", "x-3-5-3-4-x"))
    assert choose_new_grip(facts, PLAYER) == choose_new_grip(facts[::-1], PLAYER)


def test_the_tune_at_hand_says_what_comes_next() -> None:
    """The kind of chord that it has, on the root that it has it on, between its own neighbours."""
    tune = tuple(map(Chord.parse, ("Gm7", "C7", "Fmaj7", "Em7b5", "A7b9", "Dm6")))
    facts = known(("Cmaj7", "x-3-5-4-5-x"), ("C7", "x-3-5-3-5-x"), ("Cm7", "x-3-5-3-4-x"))
    new = choose_new_grip(facts, PLAYER, tune=tune)
    assert new is not None
    assert new.grip.chord in tune
    assert new.context.in_tune
    place = tune.index(new.grip.chord)
    assert new.context.before.chord == tune[place - 1]
    assert new.context.after.chord == tune[(place + 1) % len(tune)]
    assert f"the tune has {new.grip.chord}" in new.reasons


def test_a_band_with_a_bass_asks_for_grips_without_the_root() -> None:
    """Where four strings can do without it; a ninth chord of five tones can."""
    facts = known(
        *(("Cmaj7", "x-3-5-4-5-x"), ("C7", "x-3-5-3-5-x"), ("Cm7", "x-3-5-3-4-x")),
        *(("C", "x-x-10-9-8-x"), ("Cm", "x-x-10-8-8-x"), ("Cm7b5", "x-3-4-3-4-x")),
        *(("C6", "x-3-5-2-5-x"), ("Cm6", "x-3-1-2-1-x"), ("Cdim7", "x-3-4-2-4-x")),
    )
    tune = (Chord.parse("C9"),)
    alone = choose_new_grip(facts, PLAYER, tune=tune)
    company = choose_new_grip(facts, Profile(GUITAR, band="bass"), tune=tune)
    assert alone is not None
    assert company is not None
    assert "1" in alone.grip.degrees
    assert "1" not in company.grip.degrees
    assert company.root.note == company.grip.chord.root


def test_a_small_hand_gets_what_it_can_hold() -> None:
    """Week after week, in the place where it is met and round the fourths."""
    profile = Profile(GUITAR, Hand(reach_mm=60))
    facts: list[Facts] = []
    for _ in range(8):
        new = choose_new_grip(facts, profile)
        assert new is not None
        assert all(fits_hand(place, profile.hand) for place in (new.grip, *new.cycle))
        facts.append(Facts.of(new.grip))
    assert len({fact.id for fact in facts}) == 8


def test_nothing_lacking_brings_no_grip() -> None:
    """A hand of one finger on one string holds no chord at all."""
    one = Instrument.from_text("E2", frets=12)
    assert choose_new_grip([], Profile(one)) is None


def test_weights_say_what_counts() -> None:
    """With changes alone, the nearest to a known shape comes; with the gap alone, the first gap."""
    facts = known(("Cmaj7", "x-3-5-4-5-x"))
    nearest = choose_new_grip(facts, PLAYER, weights=NewGripWeights(0, 0, 1, 0))
    first = choose_new_grip(facts, PLAYER, weights=NewGripWeights(1, 0, 0, 0))
    assert nearest is not None
    assert first is not None
    assert nearest.changes == 0
    assert first.gap == next(gaps(facts, GUITAR))


def changes(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    """Return the fingers that move, by trying every place of one shape over the other."""
    best = len(one)
    for shift in range(-30, 31):
        moved = [fret + shift if fret > 0 else fret for fret in one]
        pairs = zip(moved, one, other, strict=True)
        best = min(best, sum(not (m == o and (f > 0) == (o > 0)) for m, f, o in pairs))
    return best


@given(facts=VOCABULARIES.filter(bool), row=VOCABULARIES.filter(bool))
def test_nearness_is_counted_as_by_hand(facts: tuple[Facts, ...], row: tuple[Facts, ...]) -> None:
    """The fewest fingers that move from any known shape, laid over it at every place."""
    shapes = _Shapes.of(facts)
    for fact in row[:3]:
        like, found = shapes.nearest(fact.frets)
        counted = {known_fact.id: changes(known_fact.frets, fact.frets) for known_fact in facts}
        assert found == min(counted.values())
        assert like is not None
        assert counted[like] == found


def test_shapes_on_other_strings_have_nothing_in_common() -> None:
    """Neither a fretted string nor a muted one: every string is a change."""
    shapes = _Shapes.of(known(("G5", "3-5-5-x-x-x")))
    assert shapes.nearest((-1, -1, -1, 5, 5, 5)) == ("guitar:8-10-10-x-x-x=C5", 6)
    assert shapes.nearest((-1, 3, 5, 5, -1, -1))[1] == 3


@pytest.mark.parametrize(
    ("symbol", "shape", "wanted"),
    [
        # II V I, and the minor II V I (common practice).
        ("Dm7", "x-5-7-5-6-x", ("Cmaj7", "G7")),
        ("G7", "3-x-3-4-3-x", ("Dm7", "Cmaj7")),
        ("Bm7b5", "x-2-3-2-3-x", ("Am6", "E7b9")),
        ("C#dim7", "x-4-5-3-5-x", ("Cmaj7", "Dm7")),
        ("Cmaj7", "x-3-5-4-5-x", ("G7", "Am7")),
        ("G7alt", "3-x-3-4-4-4", ("Dm7b5", "Cm6")),
    ],
)
def test_usual_neighbours(symbol: str, shape: str, wanted: tuple[str, str]) -> None:
    """The chord before and the chord after, where there is no tune."""
    around = context_of(grip(symbol, shape), facts=(), hand=Hand())
    assert (str(around.before.chord), str(around.after.chord)) == wanted
    assert around.known == (False, False)


def test_neighbours_are_known_grips_where_there_are() -> None:
    """Of all places of all known grips of the chord, the one that moves least."""
    facts = known(
        *(("C7", "x-3-5-3-5-x"), ("C7", "8-x-8-9-8-x"), ("C7", "x-x-10-12-11-12")),
        *(("C7", "x-x-8-9-8-10"), ("C7", "x-3-2-3-1-0")),
    )
    here = grip("Dm7", "x-5-7-5-6-x")
    around = context_of(here, facts=facts, hand=Hand())
    assert around.known == (False, True)
    every = [
        place for fact in facts for place in on_root(fact.voicing(GUITAR), Chord.parse("G7").root)
    ]

    def distance(place: Voicing) -> float:
        frets = [fret for fret in place.frets if fret > 0]
        middle = (min(frets) + max(frets)) / 2
        motion = sum(
            abs(one - other)
            for one, other in zip(sorted(place.midi), sorted(here.midi), strict=True)
        )
        return motion + abs(middle - 6)

    four = [place for place in every if len(place.midi) == 4]
    assert distance(around.after) == min(map(distance, four))


def test_the_root_to_hear_lies_below_and_can_be_played() -> None:
    """At most an octave below the lowest note, and not below E1."""
    for symbol, shape in (("C", "x-3-2-0-1-0"), ("D7", "x-x-0-2-1-2"), ("E", "0-2-2-1-0-0")):
        voicing = grip(symbol, shape)
        root = root_below(voicing)
        assert root.note == voicing.chord.root
        assert 0 <= min(voicing.midi) - root.midi < 12
    bass = Instrument.from_text("B0 E1 A1 D2 G2", frets=20, scale_mm=864)
    assert root_below(grip("Db5", "2-4-x-x-x", bass)).midi >= Pitch.parse("E1").midi


def test_a_vocabulary_grows_from_nothing() -> None:
    """Twenty days bring twenty grips, the kinds of chord of the syllabus first."""
    facts: list[Facts] = []
    for _ in range(20):
        new = choose_new_grip(facts, PLAYER)
        assert new is not None
        facts.append(Facts.of(new.grip))
    kinds = [fact.category for fact in facts]
    assert len({fact.id for fact in facts}) == 20
    assert set(kinds[:5]) == {"maj7", "7", "m7", "", "m"}
    assert all(earlier != later for earlier, later in pairwise(fact.id for fact in facts))
