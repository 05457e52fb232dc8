"""Approach grips: the target's shape where it can move, the nearest voicing where it cannot."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gripwright import Chord, ConditionError, Hand, Voicing, find_voicings, ranking
from gripwright.leading import Approach, approaches, voice_motion
from gripwright.leading.approach import KINDS, ApproachKind
from tests.core.neck.reference import frets_of, instrument
from tests.core.neck.searches import Search, searches

GUITAR = instrument("guitar")
PARALLEL = {"above": (1,), "below": (-1,), "double-above": (2, 1), "double-below": (-2, -1)}
ABOVE_ROOT = {"dominant": 7, "tritone": 1, "diminished": -1}


def grip(symbol: str, shape: str) -> Voicing:
    """Return a grip of the guitar."""
    return Voicing(Chord.parse(symbol), GUITAR, frets_of(shape))


def one(target: Voicing, kind: ApproachKind, hand: Hand | None = None) -> Approach:
    """Return the one approach of a kind."""
    (approach,) = approaches(target, kind, hand=hand or Hand())
    return approach


def symbols(target: Voicing, kind: ApproachKind) -> list[str]:
    """Return the symbols of an approach."""
    return [chord.symbol for chord in one(target, kind).chords]


@pytest.mark.parametrize(
    ("kind", "shapes"),
    [
        ("above", ["x-4-6-5-6-x"]),
        ("below", ["x-2-4-3-4-x"]),
        ("double-above", ["x-5-7-6-7-x", "x-4-6-5-6-x"]),
        ("double-below", ["x-1-3-2-3-x", "x-2-4-3-4-x"]),
    ],
)
def test_a_closed_grip_is_approached_by_its_own_shape(
    kind: ApproachKind, shapes: list[str]
) -> None:
    """The trade's definition: target shape one fret on, or +2 +1, or -2 -1 (common practice)."""
    approach = one(grip("Cmaj7", "x-3-5-4-5-x"), kind)
    assert [grip.shape for grip in approach.grips] == shapes
    assert approach.parallel


@pytest.mark.parametrize(
    ("target", "kind", "expected"),
    [
        # In C: V7/ii = A7, subV7/ii = Eb7, subV7/V = Ab7, I #Idim7 ii (common practice).
        (("Dm7", "x-x-7-7-6-8"), "dominant", ["A7"]),
        (("Dm7", "x-x-7-7-6-8"), "tritone", ["Eb7"]),
        (("G7", "x-x-5-7-6-7"), "tritone", ["Ab7"]),
        (("Dm7", "x-x-7-7-6-8"), "diminished", ["C#dim7"]),
        (("Cmaj7", "x-3-5-4-5-x"), "double-below", ["Bbmaj7", "Bmaj7"]),
        (("Dm7", "x-5-7-5-6-x"), "above", ["Ebm7"]),
        (("Am7", "5-x-5-5-5-x"), "below", ["G#m7"]),
        (("Ebmaj7", "x-6-8-7-8-x"), "above", ["Emaj7"]),
        (("Fm7b5", "x-8-9-8-9-x"), "above", ["F#m7b5"]),
        (("C/E", "0-3-2-0-1-0"), "above", ["Db/F"]),
    ],
)
def test_approach_chords_are_named_as_players_write_them(
    target: tuple[str, str], kind: ApproachKind, expected: list[str]
) -> None:
    """Flats from above, sharps from below, naturals on white keys, few accidentals."""
    assert symbols(grip(*target), kind) == expected


def test_an_open_grip_is_approached_by_the_nearest_voicing() -> None:
    """Open strings do not move: above open C stands a playable Db without the open shape."""
    target = grip("C", "x-3-2-0-1-0")
    for kind in ("above", "below"):
        approach = one(target, kind)
        assert not approach.parallel
        assert approach.motion == voice_motion(approach.grips[0].midi, target.midi)
        table = find_voicings(approach.chords[0], GUITAR)
        assert approach.grips[0].frets in set(map(tuple, table.frets.tolist()))


def test_a_shape_does_not_run_onto_the_nut_or_off_the_neck() -> None:
    """A string at the first fret is not lowered to an open one; the last fret is the last."""
    assert not one(grip("F", "1-3-3-2-1-1"), "below").parallel
    lower = one(grip("F#", "2-4-4-3-2-2"), "double-below").grips
    assert [grip.shape == "1-3-3-2-1-1" for grip in lower] == [False, True]
    last = GUITAR.frets
    high = find_voicings(Chord.parse("Eb7"), GUITAR, lowest_fret=last - 3, highest_fret=last)
    at_the_end = [voicing for voicing in high if max(voicing.frets) == last]
    assert at_the_end
    for voicing in at_the_end:
        for approach in approaches(voicing, ("above", "double-above")):
            assert all(max(grip.frets) <= last for grip in approach.grips)


def test_a_hand_that_holds_the_target_need_not_hold_it_a_fret_lower() -> None:
    """Frets widen towards the nut: with the reach just for the target, its shape goes up only."""
    target = grip("Cmaj7", "x-3-5-4-5-x")
    hand = Hand(reach_mm=target.reach_mm)
    assert one(target, "above", hand).parallel
    below = one(target, "below", hand)
    assert not below.parallel
    assert below.grips[0].reach_mm <= target.reach_mm + 1e-9


def test_fretted_grips_are_approached_without_open_strings() -> None:
    """An open string rings on when the hand lifts (common practice), near as it might be."""
    low = find_voicings(Chord.parse("Cmaj7"), GUITAR, no_open=True, highest_fret=5)
    nearest_is_open = []
    for target in low.order_by(ranking.teaching)[:20]:
        approach = one(target, "dominant")
        assert 0 not in approach.grips[0].frets
        every = find_voicings(approach.chords[0], GUITAR).order_by(ranking.near(target))
        nearest_is_open.append(0 in every[0].frets)
    assert any(nearest_is_open)


def test_two_notes_are_approached_by_two() -> None:
    """Guide tones G7 are reached from those of D7 and Ab7, a fret away, as fifths and tritones go.

    Dominants a tritone apart share third and seventh (common practice).
    """
    target = grip("G7", "x-x-3-4-x-x")
    for kind in ("dominant", "tritone"):
        assert one(target, kind).grips[0].shape == "x-x-4-5-x-x"


def test_an_unknown_kind_is_refused() -> None:
    """The error names the kinds there are."""
    with pytest.raises(ConditionError, match="double-below"):
        approaches(grip("C", "x-3-2-0-1-0"), "sideways")  # type: ignore[arg-type]


@settings(max_examples=25)
@given(search=searches(bare=True), kind=st.sampled_from(KINDS), data=st.data())
def test_every_approach_is_playable_on_the_root_that_its_kind_says(
    search: Search, kind: ApproachKind, data: st.DataObject
) -> None:
    """On any neck: each grip is among the voicings of its chord, and parallel ones are parallel."""
    table = search.find()
    assume(len(table))
    target = table[data.draw(st.integers(0, len(table) - 1))]
    ways = PARALLEL.get(kind) or (ABOVE_ROOT[kind],)
    for approach in approaches(target, kind, hand=search.hand):
        roots = [
            chord.root.pitch_class - target.chord.root.pitch_class for chord in approach.chords
        ]
        assert [root % 12 for root in roots] == [way % 12 for way in ways]
        for grip in approach.grips:
            least = min(3, len(target.midi))
            voicings = find_voicings(
                grip.chord, search.instrument, search.hand, min_notes=least, min_tones=1
            )
            assert (voicings.frets == np.array(grip.frets)).all(axis=1).any()
            if approach.parallel:
                pairs = zip(grip.midi, target.midi, strict=True)
                assert len({here - there for here, there in pairs}) == 1
