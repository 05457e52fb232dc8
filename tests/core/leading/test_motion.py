"""Voice motion against a general matching and against every matching that does not cross.

Outside references: ``scipy.optimize.linear_sum_assignment`` (BSD) for equal numbers of voices. It
may cross voices, and agrees all the same: the cheapest of all matchings is never cheaper than the
one in order of pitch (Tymoczko, Science 313, 2006).
"""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment  # type: ignore[import-untyped]

from gripwright.leading import voice_motion
from gripwright.leading.motion import motion_matrix
from tests.core.leading.scalar_model import uncrossed_motion

midi = st.integers(0, 127)
voicings = st.lists(midi, min_size=1, max_size=10)
strangers = st.integers(0, 20)
pairs_of_one_size = st.integers(1, 10).flatmap(
    lambda size: st.tuples(
        st.lists(midi, min_size=size, max_size=size), st.lists(midi, min_size=size, max_size=size)
    )
)
tables = st.integers(1, 6).flatmap(
    lambda size: st.lists(st.lists(midi, min_size=size, max_size=size), min_size=1, max_size=6)
)


def table_of(rows: list[list[int]]) -> np.ndarray[tuple[int, int], np.dtype[np.int16]]:
    """Return sorted voicings as the matrix takes them."""
    return np.sort(np.array(rows, np.int16), axis=1)


@given(pairs_of_one_size, strangers)
def test_equal_numbers_move_as_in_the_cheapest_assignment(
    pair: tuple[list[int], list[int]], stranger: int
) -> None:
    """No voice enters or leaves, so that nothing is paid but what scipy pays."""
    one, other = pair
    costs = np.abs(np.subtract.outer(one, other))
    assigned = int(costs[linear_sum_assignment(costs)].sum())
    assert voice_motion(one, other, stranger=stranger) == assigned


@given(voicings, voicings, strangers)
def test_unequal_numbers_move_as_in_the_best_of_all_uncrossed_matchings(
    one: list[int], other: list[int], stranger: int
) -> None:
    """Every choice of the voices that go on is tried."""
    assert voice_motion(one, other, stranger=stranger) == uncrossed_motion(one, other, stranger)


@given(tables, tables, strangers)
def test_the_matrix_holds_the_motion_of_each_pair(
    ones: list[list[int]], others: list[list[int]], stranger: int
) -> None:
    """Rows and columns are not mixed up, whichever side has more voices."""
    matrix = motion_matrix(table_of(ones), table_of(others), stranger=stranger)
    assert matrix.dtype == np.int32
    assert matrix.tolist() == [
        [uncrossed_motion(one, other, stranger) for other in others] for one in ones
    ]


@given(voicings, voicings, strangers)
def test_motion_is_the_same_both_ways(one: list[int], other: list[int], stranger: int) -> None:
    """A voice that enters on the way there leaves on the way back."""
    there = voice_motion(one, other, stranger=stranger)
    assert voice_motion(other, one, stranger=stranger) == there


@given(voicings, st.randoms(use_true_random=False), st.integers(1, 24), strangers)
def test_all_voices_a_step_up_move_a_step_each(
    one: list[int], shuffler: st.DataObject, up: int, stranger: int
) -> None:
    """In whatever order the pitches are named."""
    moved = [pitch + up for pitch in one]
    shuffler.shuffle(moved)  # type: ignore[attr-defined]
    assert voice_motion(one, moved, stranger=stranger) == up * len(one)


def test_common_tones_stay_and_the_others_step() -> None:
    """Dm7 to G7 to Cmaj7 in drop 2 as any teacher shows it (common practice).

    D3 A3 C4 F4, D3 G3 B3 F4, C3 G3 B3 E4: two voices fall each time, by 3 and by 3 semitones.
    """
    dm7, g7, cmaj7 = (50, 57, 60, 65), (50, 55, 59, 65), (48, 55, 59, 64)
    assert (voice_motion(dm7, g7), voice_motion(g7, cmaj7)) == (3, 3)


def test_the_widest_motion_does_not_overflow() -> None:
    """Ten voices from one end of MIDI to the other, at the highest price a voice may have."""
    assert voice_motion([0] * 10, [127] * 10) == 1270
    assert voice_motion([0], [127] * 10, stranger=1000) == 127 + 9000
