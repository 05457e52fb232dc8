"""Gaps: coarse before fine, only what can be filled, and closed by what fills them."""

from collections import Counter
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import QUALITIES, Chord, Degree, Hand, find_voicings
from gripwright.vocabulary import (
    SYLLABUS,
    Facts,
    Gap,
    categories,
    gaps,
    grip_for,
    grips_for,
    string_groups,
)
from tests.core.neck.reference import instrument
from tests.core.vocabulary.players import GUITAR, VOCABULARIES, known

INNER = string_groups(6)[0]


def fill(gap: Gap) -> Facts:
    """Return what is known of the first grip that fills a gap."""
    voicing = grips_for(gap, GUITAR)[0]
    return Facts.of(grip_for(Chord(voicing.chord.root, gap.quality), GUITAR, voicing.frets))


def test_an_empty_vocabulary_lacks_every_kind_of_chord() -> None:
    """One gap for each kind of the syllabus, in its order, and none finer."""
    found = list(gaps([], GUITAR))
    assert [gap.quality for gap in found] == list(SYLLABUS)
    assert {(gap.group, gap.top) for gap in found} == {(None, None)}


def test_a_gap_is_named_in_words() -> None:
    """Half-diminished on the inner strings with its own tones on top, but never the 11."""
    shapes = ["x-3-4-3-4-x", "x-6-8-5-7-x", "x-9-10-8-11-x", "x-13-13-11-13-x"]
    facts = known(*(("Cm7b5", shape) for shape in shapes))
    assert {fact.top_degree for fact in facts} == {"b3", "b5", "b7", "1"}
    here = [gap for gap in gaps(facts, GUITAR) if gap.quality.name == "m7b5"]
    sentences = [gap.sentence for gap in here]
    assert "no half-diminished with the 11 on top on the inner strings" in sentences
    assert "no half-diminished on the top strings" in sentences
    assert "no half-diminished" not in sentences
    assert not [gap for gap in here if gap.group == INNER and gap.top in {"b3", "b5", "b7", "1"}]


@settings(max_examples=8)
@given(facts=VOCABULARIES, place=st.integers(0, 12))
def test_filling_a_gap_closes_it(facts: tuple[Facts, ...], place: int) -> None:
    """With the first grip that fills it, the gap is no longer there."""
    gap = next(islice(gaps(facts, GUITAR), place, None))
    after = set(gaps((*facts, fill(gap)), GUITAR))
    assert gap not in after


def test_coarse_gaps_stand_for_the_fine_ones_below() -> None:
    """Of one kind of chord on one group there is the group's gap or those of its tops."""
    facts = known(("Cmaj7", "x-3-5-4-5-x"), ("C7", "x-3-5-3-5-x"))
    kinds = Counter(
        (gap.quality.name, gap.group and gap.group.words) for gap in gaps(facts, GUITAR)
    )
    found = list(gaps(facts, GUITAR))
    coarse = {
        (gap.quality.name, gap.group) for gap in found if gap.top is None and gap.bass is None
    }
    for gap in found:
        if gap.top is not None or gap.bass is not None:
            assert (gap.quality.name, gap.group) not in coarse
    assert kinds["maj7", "the top strings"] == 1


def test_inversions_that_are_missing_are_gaps() -> None:
    """With one grip of a kind on a group, its three other inversions; with all four, none."""
    shapes = ["x-3-5-4-5-x", "x-7-9-5-8-x", "x-10-10-9-12-x", "x-14-14-12-13-x"]
    facts = known(*(("Cmaj7", shape) for shape in shapes))
    assert [fact.inversion for fact in facts] == ["root", "1st", "2nd", "3rd"]
    for count, missing in ((1, ["3", "5", "7"]), (2, ["5", "7"]), (4, [])):
        here = [
            gap
            for gap in gaps(facts[:count], GUITAR)
            if gap.quality.name == "maj7" and gap.group == INNER and gap.bass is not None
        ]
        assert [gap.bass for gap in here] == missing
        for gap in here:
            bass = gap.bass
            assert {one.bass_degree for one in grips_for(gap, GUITAR)} == {bass}
            assert gap.sentence == f"no major seventh with the {bass} in the bass on {INNER.words}"


@pytest.mark.parametrize("top", ["b3", "11", "9", "b13"])
def test_grips_of_a_gap_are_all_that_fill_it(top: str) -> None:
    """As of all voicings of the chord with that tone, by looking at each."""
    gap = Gap(QUALITIES["m7b5"], INNER, Degree(top), 0)
    found = {voicing.frets for voicing in grips_for(gap, GUITAR)}
    widened = {"b3": "m7b5", "11": "m7b5add11", "9": "m7b5add9", "b13": "m7b5addb13"}[top]
    every = find_voicings(Chord.parse(f"C{widened}"), GUITAR, strings=INNER.strings, min_tones=1)
    wanted = set()
    essential = {"b3", "b5", "b7"}
    for voicing in every:
        degrees = voicing.degrees
        if (
            0 not in voicing.frets
            and voicing.top_degree == top
            and degrees.count(Degree(top)) == 1
            and essential <= set(degrees)
            and len(set(degrees)) == len(degrees)
        ):
            wanted.add(voicing.frets)
    assert found == wanted


def test_what_a_hand_cannot_hold_is_no_gap() -> None:
    """A small hand is asked for less, and each thing asked for it can hold."""
    small = Hand(fingers=2, reach_mm=30)
    everyone = {gap.sentence for gap in gaps([], GUITAR)}
    fewer = list(gaps([], GUITAR, hand=small))
    assert {gap.sentence for gap in fewer} < everyone
    for gap in fewer:
        assert max(voicing.reach_mm for voicing in grips_for(gap, GUITAR, hand=small)) <= 30


def test_the_kinds_of_a_tune_come_sooner() -> None:
    """Also one that the syllabus does not have."""
    first = next(gaps([], GUITAR, sooner=("m7b5",)))
    assert first.quality.name == "m7b5"
    assert "m13" not in {quality.name for quality in SYLLABUS}
    assert "m13" in {gap.quality.name for gap in gaps([], GUITAR, sooner=("m13",))}


def test_other_instruments_have_their_own_gaps() -> None:
    """Four strings are one group, and some chords have no grip there."""
    ukulele = instrument("ukulele")
    facts = [Facts.of(grip_for(Chord.parse("Cmaj7"), ukulele, (4, 4, 3, 3)))]
    mine = [gap.sentence for gap in gaps(facts, ukulele) if gap.quality.name == "maj7"]
    assert mine
    assert all("on all strings" in sentence for sentence in mine)


@given(facts=VOCABULARIES)
def test_categories_count_every_grip_once(facts: tuple[Facts, ...]) -> None:
    """The counts of a category add up to its grips, and the categories' to all."""
    found = categories(facts)
    assert sum(one.count for one in found) == len(facts)
    for one in found:
        mine = [fact for fact in facts if fact.category == one.name]
        assert one.count == len(mine)
        assert dict(one.tops) == Counter(fact.top_degree for fact in mine)
        assert dict(one.string_sets) == Counter(fact.string_set for fact in mine)
        assert dict(one.inversions) == Counter(fact.inversion for fact in mine)
        assert dict(one.families) == Counter(f for fact in mine for f in fact.families)
        assert str(one.count) in one.sentence


def test_categories_stand_in_the_order_of_qualities() -> None:
    """Those that the table lacks come last."""
    grips = (("Dm7b5", "x-5-6-5-6-x"), ("F/G", "3-x-3-2-1-1"), ("C", "x-3-2-0-1-0"))
    assert [one.name for one in categories(known(*grips))] == ["", "/+9", "m7b5"]
