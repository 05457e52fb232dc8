"""Motion of pitch classes: a published value, brute force, and what any such distance obeys."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment  # type: ignore[import-untyped]

from gripwright import Chord, ConditionError
from gripwright.leading import pitch_class_motion

TONES = st.lists(st.integers(0, 11), min_size=1, max_size=4)


def apart(one: int, other: int) -> int:
    """Return the semitones between pitch classes, the nearer way round."""
    return min((one - other) % 12, (other - one) % 12)


def fewest(ones: list[int], others: list[int], *, split: bool) -> int:
    """Return the least motion over all sets of pairs, looked at one by one."""
    if len(ones) < len(others):
        ones, others = others, ones
    ways = product(range(len(others)), repeat=len(ones))
    if not split:
        return min(
            sum(apart(one, others[i]) for one, i in zip(ones, way, strict=True))
            for way in ways
            if set(way) == set(range(len(others)))
        )
    # Each tone goes somewhere, and each tone that nothing has come to comes from somewhere.
    return min(
        sum(apart(one, others[i]) for one, i in zip(ones, way, strict=True))
        + sum(
            min(apart(one, other) for one in ones) for i, other in enumerate(others) if i not in way
        )
        for way in ways
    )


def test_cmaj7_to_emaj7_is_as_published() -> None:
    """3 where a voice splits, 4 where none may.

    Tymoczko, "The geometry of musical chords", Science 313, 2006, supporting online material.
    """
    assert pitch_class_motion((0, 4, 7, 11), (3, 4, 8, 11), split=True) == 3
    assert pitch_class_motion((0, 4, 7, 11), (3, 4, 8, 11)) == 4
    one, other = Chord.parse("Cmaj7"), Chord.parse("Emaj7")
    assert (pitch_class_motion(one, other, split=True), pitch_class_motion(one, other)) == (3, 4)


@pytest.mark.parametrize(
    ("one", "other", "motion"),
    [("G7", "Cmaj7", 3), ("C", "Am", 2), ("C6", "Am7", 0), ("G7", "Db7", 2), ("C/D", "D", 6)],
)
def test_chords_move_by_their_tones(one: str, other: str, motion: int) -> None:
    """Counted by hand; a foreign bass is a voice like any other."""
    assert pitch_class_motion(Chord.parse(one), Chord.parse(other)) == motion


@given(ones=TONES, others=TONES, split=st.booleans())
def test_motion_is_the_least_of_all_pairings(
    ones: list[int], others: list[int], *, split: bool
) -> None:
    """Going round in step finds what looking at every set of pairs finds."""
    assert pitch_class_motion(ones, others, split=split) == fewest(ones, others, split=split)


@given(
    st.integers(1, 9).flatmap(
        lambda n: st.tuples(*[st.lists(st.integers(0, 127), min_size=n, max_size=n)] * 2)
    )
)
def test_equal_numbers_of_voices_are_assigned_as_scipy_assigns_them(
    voices: tuple[list[int], list[int]],
) -> None:
    """The same as scipy's `linear_sum_assignment` over distances modulo the octave."""
    ones, others = voices
    costs = np.array([[apart(one, other) for other in others] for one in ones])
    rows, columns = linear_sum_assignment(costs)
    assert pitch_class_motion(ones, others) == costs[rows, columns].sum()


@given(ones=TONES, others=TONES, up=st.integers(-24, 24), split=st.booleans())
def test_motion_is_symmetric_and_moves_with_both_chords(
    ones: list[int], others: list[int], up: int, *, split: bool
) -> None:
    """There and back are alike, and a transposition of both changes nothing."""
    motion = pitch_class_motion(ones, others, split=split)
    assert pitch_class_motion(others, ones, split=split) == motion
    moved = [tone + up for tone in ones], (tone + up for tone in others)
    assert pitch_class_motion(*moved, split=split) == motion


@given(ones=TONES, others=TONES)
def test_splitting_never_costs_and_costs_nothing_between_the_same_tones(
    ones: list[int], others: list[int]
) -> None:
    """More freedom is never dearer; nothing moves exactly where the tones are the same."""
    split = pitch_class_motion(ones, others, split=True)
    assert split <= pitch_class_motion(ones, others)
    assert (split == 0) == (set(ones) == set(others))


def test_a_chord_without_voices_is_refused() -> None:
    """There is nothing to move, and the argument is named."""
    with pytest.raises(ConditionError, match="other"):
        pitch_class_motion((0, 4), ())
