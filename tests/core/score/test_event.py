"""Events: what they hold, and what they refuse."""

from __future__ import annotations

import pickle
from fractions import Fraction

import attrs
import pytest

from gripwright import ChordEvent, ClickEvent, ConditionError, NoteEvent, Pitch
from gripwright.score.sample import sample_score

CHORD = sample_score().events[0]
NOTE = NoteEvent(Fraction(0), Fraction(2), Pitch.parse("C2"), 1, Fraction(1), 70)
CLICK = ClickEvent(Fraction(0), 1, Fraction(1))


@pytest.mark.parametrize("event", [CHORD, NOTE])
@pytest.mark.parametrize("dynamic", [0, 128, -1, 64.0, True, "80", None])
def test_a_dynamic_is_a_midi_velocity(event: ChordEvent | NoteEvent, dynamic: object) -> None:
    """A whole number from 1 to 127."""
    assert [attrs.evolve(event, dynamic=loud).dynamic for loud in (1, 127)] == [1, 127]
    with pytest.raises(ConditionError, match="dynamic"):
        attrs.evolve(event, dynamic=dynamic)  # type: ignore[arg-type]


@pytest.mark.parametrize("event", [CHORD, NOTE])
def test_an_event_ends_after_it_starts(event: ChordEvent | NoteEvent) -> None:
    """Its length is above 0."""
    assert attrs.evolve(event, end=Fraction(1, 3)).length == Fraction(1, 3)
    for end in (event.onset, event.onset - 1):
        with pytest.raises(ConditionError, match="after the onset"):
            attrs.evolve(event, end=end)


@pytest.mark.parametrize("event", [CHORD, NOTE, CLICK])
def test_beats_are_counted_from_one(event: ChordEvent | NoteEvent | ClickEvent) -> None:
    """There is no beat before the first."""
    for beat in (Fraction(1, 2), Fraction(0), Fraction(-1)):
        with pytest.raises(ConditionError, match="beat"):
            attrs.evolve(event, beat=beat)


@pytest.mark.parametrize("stroke", ["sideways", "", None, 1])
def test_a_stroke_is_one_that_hands_make(stroke: object) -> None:
    """Down, up, or plucked."""
    for known in ("down", "up", "pluck"):
        assert attrs.evolve(CHORD, stroke=known).stroke == known
    with pytest.raises(ConditionError, match="one of down, up, pluck"):
        attrs.evolve(CHORD, stroke=stroke)  # type: ignore[arg-type]


def test_a_chord_event_knows_its_chord() -> None:
    """That of its grip."""
    assert CHORD.chord == CHORD.voicing.chord
    assert str(CHORD.chord) == "Dm7"


@pytest.mark.parametrize("event", [CHORD, NOTE, CLICK])
def test_events_are_values(event: ChordEvent | NoteEvent | ClickEvent) -> None:
    """Equal to their copies, which pickle, hash and do not change."""
    assert pickle.loads(pickle.dumps(event)) == event
    assert hash(attrs.evolve(event)) == hash(event)
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        event.onset = Fraction(9)  # type: ignore[misc]
