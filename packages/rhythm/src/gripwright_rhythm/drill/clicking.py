"""The clicks of a score, and how far apart they sound."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from gripwright import ClickEvent, ScoreBar
from gripwright.meter import Meter
from gripwright.score.swing import swung
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill.form import Form, FormBar

_STRAIGHT: Final = Fraction(1)
_EVERY: Final = Click()

WIDEST_SECONDS: Final = Fraction(18, 10)
"""Clicks further apart can hardly be kept in time with.

About 1.8 s is where synchronisation with a steady sequence begins to fail ("Rate Limits of
Sensorimotor Synchronization", 2006).
"""


def chorus_clicks(
    click: Click, form: Form, swing: Fraction = _STRAIGHT
) -> tuple[tuple[Fraction, Fraction], ...]:
    """The clicks of a chorus.

    Args:
        click: Which beats click.
        form: The chorus.
        swing: The ratio of the first half of a beat to the second.

    Returns:
        For each click, quarters from the start of the chorus, and its beat.

    Raises:
        ConditionError: The metre of the tune has no such click.
    """
    return tuple(
        (bar.zero + swung((beat - 1) * bar.meter.pulse, swing, bar.meter.pulse), beat)
        for bar in form.bars
        for beat in bar_beats(click, bar, form.meter)
    )


def bar_beats(click: Click, bar: FormBar, usual: Meter) -> tuple[Fraction, ...]:
    """The beats that click in a bar; in a bar of another metre, those of the usual that it has."""
    same = bar.meter == usual or click.kind in {"all", "on-off"}
    beats = click.beats_in(bar.meter if same else usual, max(bar.place, 0))
    first = bar.meter.beat_of(bar.lead_in)
    last = bar.meter.beat_of(bar.lead_in + bar.length)
    return tuple(beat for beat in beats if first <= beat < last)


def gaps_of(click: Click, form: Form, swing: Fraction = _STRAIGHT) -> tuple[Fraction, ...]:
    """Quarters between the clicks of a chorus and the one after; empty where there are none."""
    onsets = [onset for onset, _ in chorus_clicks(click, form, swing)]
    if not onsets:
        return ()
    again = form.again()
    following = next((onset for onset, _ in chorus_clicks(click, again, swing)), Fraction(0))
    return tuple(later - earlier for earlier, later in pairwise([*onsets, form.length + following]))


def click_events(
    click: Click, bars: Sequence[tuple[ScoreBar, FormBar | None]], usual: Meter
) -> Iterator[ClickEvent]:
    """The clicks of a score.

    Args:
        click: Which beats click.
        bars: The bars of the score, each with the bar of the form that it plays; None in the
            count-in, where every beat clicks, as in a pickup at its end.
        usual: The metre of the tune.
    """
    counted = any(played is None for _, played in bars)
    for bar, played in bars:
        if played is None:
            count = -(-bar.length // bar.meter.pulse)
            beats = tuple(Fraction(beat) for beat in range(1, int(count) + 1))
        elif counted and bar.number < 1:
            beats = bar_beats(_EVERY, played, usual)
        else:
            beats = bar_beats(click, played, usual)
        for beat in beats:
            onset = bar.onset - bar.lead_in + (beat - 1) * bar.meter.pulse
            yield ClickEvent(onset, bar.number, beat, accent=beat == 1)
