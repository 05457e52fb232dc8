"""Events of a score: what sounds, from an exact start to an exact end."""

from __future__ import annotations

from fractions import Fraction

import attrs

from gripwright.errors import ConditionError
from gripwright.meter.attack import STROKES, Stroke
from gripwright.meter.pattern import LOUDEST
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.pitch import Pitch


def check_dynamic(_instance: object, _attribute: object, value: int) -> None:
    """Refuse a dynamic that is no MIDI velocity.

    Raises:
        ConditionError: The value is not 1 to 127.
    """
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= LOUDEST:
        raise ConditionError(name="dynamic", value=value, expected=f"1 to {LOUDEST}")


def check_beat(_instance: object, _attribute: object, value: Fraction) -> None:
    """Refuse a beat that no bar has.

    Raises:
        ConditionError: The value is below 1.
    """
    if value < 1:
        raise ConditionError(name="beat", value=str(value), expected="1 or more")


def check_stroke(_instance: object, _attribute: object, value: str) -> None:
    """Refuse what no right hand does.

    Raises:
        ConditionError: The value is none of `gripwright.meter.attack.STROKES`.
    """
    if value not in STROKES:
        raise ConditionError(name="stroke", value=value, expected=f"one of {', '.join(STROKES)}")


@attrs.frozen
class _Timed:
    """Something that starts and ends.

    Args:
        onset: Quarters from the start of the form; the count-in stands before 0.
        end: Quarters from the start of the form to its end, after the onset.
    """

    onset: Fraction
    end: Fraction = attrs.field()

    @end.validator
    def _check_end(self, _attribute: object, value: Fraction) -> None:
        if value <= self.onset:
            raise ConditionError(
                name="end", value=str(value), expected=f"after the onset, {self.onset}"
            )

    @property
    def length(self) -> Fraction:
        """Quarters that it sounds."""
        return self.end - self.onset


@attrs.frozen
class ChordEvent(_Timed):
    """A chord that is played.

    Args:
        onset: Quarters from the start of the form; the count-in stands before 0.
        end: Quarters from the start of the form to its end, after the onset.
        voicing: What is gripped.
        bar: The number of the bar in which it starts; see `ScoreBar.number`.
        beat: The beat of that bar on which it starts, from 1, as it is counted: with swing, 2.5
            is still the and of two.
        dynamic: How loud, as a MIDI velocity, 1 to 127.
        accent: Whether it is louder than the others on purpose.
        stroke: What the right hand does.
        push: Whether it anticipates its chord, which starts later.
        approach: Whether it leads to the chord after it, and is none of the chart's.
        short: Whether it is cut on purpose before something else ends it.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> event = sample_score().events[1]
        >>> print(event.chord, event.onset, event.end, event.short)
        G7 4 5 True
    """

    voicing: Voicing
    bar: int
    beat: Fraction = attrs.field(validator=check_beat)
    dynamic: int = attrs.field(validator=check_dynamic)
    accent: bool = False
    stroke: Stroke = attrs.field(default="down", validator=check_stroke)
    push: bool = False
    approach: bool = False
    short: bool = False

    @property
    def chord(self) -> Chord:
        """The chord that it sounds."""
        return self.voicing.chord


@attrs.frozen
class NoteEvent(_Timed):
    """A single note beside the chords: a bass note, or a root.

    Args:
        onset: Quarters from the start of the form; the count-in stands before 0.
        end: Quarters from the start of the form to its end, after the onset.
        pitch: The note.
        bar: The number of the bar in which it starts.
        beat: The beat of that bar on which it starts, from 1.
        dynamic: How loud, as a MIDI velocity, 1 to 127.

    Example:
        >>> note = NoteEvent(Fraction(0), Fraction(2), Pitch.parse("D2"), 1, Fraction(1), 80)
        >>> print(note.pitch, note.end)
        D2 2
    """

    pitch: Pitch
    bar: int
    beat: Fraction = attrs.field(validator=check_beat)
    dynamic: int = attrs.field(validator=check_dynamic)


@attrs.frozen
class ClickEvent:
    """A click.

    Args:
        onset: Quarters from the start of the form; the count-in stands before 0.
        bar: The number of the bar in which it falls.
        beat: The beat of that bar on which it falls, from 1.
        accent: Whether it marks the first beat of a bar.

    Example:
        >>> click = ClickEvent(Fraction(4), bar=2, beat=Fraction(1), accent=True)
        >>> print(click.onset, click.beat)
        4 1
    """

    onset: Fraction
    bar: int
    beat: Fraction = attrs.field(validator=check_beat)
    accent: bool = False
