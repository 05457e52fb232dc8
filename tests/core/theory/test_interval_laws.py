"""Laws: intervals form a group that acts on pitches and on notes."""

from __future__ import annotations

from typing import Final

from hypothesis import given
from hypothesis import strategies as st

from gripwright import Interval, Note, Pitch
from gripwright.errors import NotationError
from tests.core.theory.strategies import intervals, notes, pitches

UNISON: Final = Interval(0, 0)


@given(intervals, intervals, intervals)
def test_adding_intervals_is_associative(a: Interval, b: Interval, c: Interval) -> None:
    """Brackets do not matter in a sum of intervals."""
    assert (a + b) + c == a + (b + c)


@given(intervals, intervals)
def test_adding_intervals_is_commutative(a: Interval, b: Interval) -> None:
    """The order does not matter in a sum of intervals."""
    assert a + b == b + a


@given(intervals)
def test_the_unison_is_the_identity(a: Interval) -> None:
    """Adding the perfect unison changes no interval."""
    assert a + UNISON == a
    assert UNISON + a == a


@given(intervals)
def test_every_interval_has_an_inverse(a: Interval) -> None:
    """An interval and its negative make the unison, and two negations none."""
    assert a + -a == UNISON
    negative = -a
    assert -negative == a
    assert (-a).steps == -a.steps
    assert (-a).semitones == -a.semitones


@given(intervals, intervals)
def test_taking_away_is_adding_the_negative(a: Interval, b: Interval) -> None:
    """Subtraction is addition of the inverse."""
    assert a - b == a + -b


@given(pitches, intervals, intervals)
def test_a_sum_of_intervals_acts_as_one_after_the_other(
    pitch: Pitch, a: Interval, b: Interval
) -> None:
    """Moving a pitch by a sum is moving it by each term in turn."""
    assert pitch + (a + b) == (pitch + a) + b


@given(pitches)
def test_the_unison_moves_no_pitch(pitch: Pitch) -> None:
    """The identity of the group acts as the identity."""
    assert pitch + UNISON == pitch
    assert pitch - pitch == UNISON


@given(pitches, intervals)
def test_transposing_up_then_down_returns_the_pitch(pitch: Pitch, a: Interval) -> None:
    """Adding an interval and taking it away returns the pitch."""
    assert (pitch + a) - a == pitch
    assert pitch + a + -a == pitch


@given(pitches, intervals)
def test_an_interval_is_the_difference_that_it_makes(pitch: Pitch, a: Interval) -> None:
    """The way from a pitch to itself moved is the interval it moved by."""
    assert (pitch + a) - pitch == a
    assert (pitch + a).midi - pitch.midi == a.semitones


@given(pitches, pitches)
def test_exactly_one_interval_leads_from_a_pitch_to_another(low: Pitch, high: Pitch) -> None:
    """The difference of two pitches, added to the one, gives the other."""
    assert low + (high - low) == high
    assert low - high == -(high - low)


@given(notes, intervals, intervals)
def test_intervals_act_on_notes_too(note: Note, a: Interval, b: Interval) -> None:
    """A spelled note without an octave moves by a sum as by each term in turn."""
    assert note + (a + b) == (note + a) + b
    assert (note + a) + -a == note


@given(pitches, intervals)
def test_the_note_of_a_moved_pitch_is_the_moved_note(pitch: Pitch, a: Interval) -> None:
    """Forgetting the octave commutes with transposition."""
    assert (pitch + a).note == pitch.note + a


@given(intervals)
def test_writing_and_reading_returns_the_interval(a: Interval) -> None:
    """An interval reads back from its own text."""
    assert str(a).isascii()
    assert Interval.parse(str(a)) == a


@given(intervals)
def test_a_complement_lies_within_the_octave(a: Interval) -> None:
    """An interval and its complement differ from the octave by whole octaves only."""
    rest = (a + a.complement) - Interval(7, 12)
    assert rest.steps % 7 == 0
    assert rest.semitones == 12 * (rest.steps // 7)
    assert 0 <= a.complement.steps <= 7


@given(st.text(alphabet="PMmAd-−0123456789♭ ٣²", max_size=10))
def test_any_text_is_an_interval_or_a_notation_error(text: str) -> None:
    """Reading an interval ends in an interval or in the one error that says why not."""
    try:
        interval = Interval.parse(text)
    except NotationError as error:
        failure = error
    else:
        assert Interval.parse(str(interval)) == interval
        return
    assert failure.text == text
    assert 0 <= failure.position <= len(text)
