"""The parts of a drill: choruses, and the ending bar, at their places in the score."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property
from typing import Final

import attrs

from gripwright import ChordChange, Chorus, Hand, ScoreBar
from gripwright.meter import RhythmPattern
from gripwright_rhythm.drill.aim import Aim, aims_of
from gripwright_rhythm.drill.ending import ending_form
from gripwright_rhythm.drill.form import Form, FormBar

_ZERO: Final = Fraction(0)


@attrs.frozen
class Part:
    """A chorus, or the ending bar, at its place in the score.

    Args:
        form: What is played.
        onset: Quarters from the start of the form.
        chorus: The number of the chorus, from 1; the ending bar belongs to the last.
        pattern: The rhythm, or None.
        ending: Whether it is the ending bar.
    """

    form: Form
    onset: Fraction
    chorus: int
    pattern: RhythmPattern | None
    ending: bool = False

    @property
    def end(self) -> Fraction:
        """Quarters from the start of the form to its end."""
        return self.onset + self.form.length

    @cached_property
    def aims(self) -> tuple[Aim, ...]:
        """Its attacks, each with the chord that it is for."""
        return aims_of(self.form, self.pattern)

    @property
    def aims_past_end(self) -> bool:
        """Whether an attack is for what follows it."""
        return any(aim.span == len(self.form.spans) for aim in self.aims)


def parts_of(
    forms: list[Form],
    pattern: RhythmPattern | None,
    choruses: int,
    *,
    ending: bool | None,
    hand: Hand,
) -> list[Part]:
    """The choruses one after the other, and the ending bar where something aims at it.

    Args:
        forms: The form of each chorus, over again where there are fewer.
        pattern: The rhythm, or None.
        choruses: How many choruses.
        ending: Whether an ending bar follows; None leaves it to what aims at it.
        hand: The fretting hand, for the grip of the ending.
    """
    parts: list[Part] = []
    again = [form.again() for form in forms]
    onset = _ZERO
    for number in range(1, choruses + 1):
        form = forms[0] if number == 1 else again[(number - 1) % len(forms)]
        here = None if pattern is None else pattern.in_chorus(number)
        parts.append(Part(form, onset, number, here))
        onset += form.length
    last = parts[-1]
    if ending or (ending is None and last.aims_past_end):
        parts.append(Part(ending_form(last.form, hand), onset, choruses, None, ending=True))
    return parts


def bars_of(parts: list[Part], form: Form, count_in: int) -> list[tuple[ScoreBar, FormBar | None]]:
    """The bars of the score, each with the bar of the form that it plays."""
    meter, lead_in = form.meter, form.bars[0].lead_in
    lengths = [meter.length] * count_in
    if lengths and lead_in:
        lengths[-1] = lead_in
    onset = -sum(lengths, _ZERO)
    bars: list[tuple[ScoreBar, FormBar | None]] = []
    for index, length in enumerate(lengths):
        bars.append((ScoreBar(index + 1 - count_in, onset, meter, length, 0), None))
        onset += length
    number = 0
    for part in parts:
        for bar in part.form.bars:
            # A pickup completes the bar before it.
            number += not bar.lead_in
            played = ScoreBar(
                number,
                part.onset + bar.onset,
                bar.meter,
                bar.length,
                part.chorus,
                bar.section,
                part.ending,
                bar.lead_in,
            )
            bars.append((played, bar))
    return bars


def choruses_of(
    parts: list[Part], start: Fraction, tempos: list[Fraction], swings: list[Fraction]
) -> Iterator[Chorus]:
    """What holds from the start of each chorus, and of the count-in."""
    key = parts[0].form.key
    if start < 0:
        yield Chorus(0, start, _ZERO, tempos[0], swings[0], key)
    last = parts[-1]
    for part, tempo, swing in zip(parts, tempos, swings, strict=False):
        end = last.end if part.chorus == last.chorus else part.end
        yield Chorus(part.chorus, part.onset, end, tempo, swing, part.form.key)


def changes_of(parts: list[Part], *, gripped: bool) -> Iterator[ChordChange]:
    """The chords of the chart, chorus after chorus.

    Args:
        parts: The choruses, and the ending bar.
        gripped: Whether each has its grip, since the player places it himself.
    """
    for part in parts:
        for span in part.form.spans:
            yield ChordChange(
                part.onset + span.onset,
                part.onset + span.end,
                span.chord,
                span.voicing if gripped else None,
            )
