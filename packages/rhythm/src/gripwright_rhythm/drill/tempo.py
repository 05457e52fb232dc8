"""The tempo of a drill, in beats and in clicks a minute."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal, get_args

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.named import nearest_names
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill.clicking import WIDEST_SECONDS, gaps_of
from gripwright_rhythm.drill.form import Form

TempoOf = Literal["beats", "clicks"]

SLOWEST_BPM: Final = 10
FASTEST_BPM: Final = 400
_STRAIGHT: Final = Fraction(1)


def beats_a_minute(tempo_bpm: Fraction | int, tempo_of: str, click: Click, form: Form) -> Fraction:
    """Beats a minute of a tempo that counts beats or clicks.

    Args:
        tempo_bpm: Beats or clicks a minute.
        tempo_of: ``"beats"`` or ``"clicks"``.
        click: Which beats click.
        form: A chorus.

    Raises:
        ConditionError: The tempo is out of range, or counts clicks that are not evenly spaced.
        UnknownNameError: `tempo_of` is neither.
    """
    if tempo_of not in get_args(TempoOf):
        raise UnknownNameError(
            kind="tempo_of",
            name=tempo_of,
            nearest=nearest_names(tempo_of, get_args(TempoOf)),
            hint=f"known are {' and '.join(get_args(TempoOf))}",
        )
    beats = exact_number("tempo_bpm", tempo_bpm)
    if tempo_of == "clicks":
        beats = beats * known_gap(click, form) / form.meter.pulse
    return in_range(beats)


def exact_number(name: str, value: Fraction | int) -> Fraction:
    """A number as an exact fraction.

    Raises:
        ConditionError: It is none.
    """
    try:
        return Fraction(value if not isinstance(value, bool) else "")
    except (TypeError, ValueError, ArithmeticError):
        raise ConditionError(name=name, value=value, expected="an exact number") from None


def in_range(beats_bpm: Fraction) -> Fraction:
    """A tempo in beats a minute, refused outside 10 to 400.

    Raises:
        ConditionError: The tempo is out of range.
    """
    if not SLOWEST_BPM <= beats_bpm <= FASTEST_BPM:
        raise ConditionError(
            name="tempo",
            value=f"{float(beats_bpm):g}",
            expected=f"{SLOWEST_BPM} to {FASTEST_BPM} beats a minute",
        )
    return beats_bpm


def tempos_of(beats_bpm: Fraction, step: Fraction, choruses: int) -> list[Fraction]:
    """The tempo of each chorus in beats a minute.

    Args:
        beats_bpm: That of the first.
        step: By how much each is faster than the one before.
        choruses: How many there are.

    Raises:
        ConditionError: A step leads out of range; says in which chorus.
    """
    tempos = [beats_bpm + step * index for index in range(choruses)]
    for number, tempo in enumerate(tempos, 1):
        if not SLOWEST_BPM <= tempo <= FASTEST_BPM:
            raise ConditionError(
                name="tempo_step",
                value=f"{float(step):g}",
                expected=f"steps within {SLOWEST_BPM} to {FASTEST_BPM} beats a minute:"
                f" chorus {number} would be at {float(tempo):g}",
            )
    return tempos


def even_gap(click: Click, form: Form, swing: Fraction = _STRAIGHT) -> Fraction | None:
    """Quarters between clicks as they sound, where they are all the same; None elsewhere."""
    gaps = set(gaps_of(click, form, swing))
    return gaps.pop() if len(gaps) == 1 else None


def known_gap(click: Click, form: Form, swing: Fraction = _STRAIGHT) -> Fraction:
    """Quarters between clicks, for a tempo that counts them.

    Raises:
        ConditionError: They are not evenly spaced.
    """
    gap = even_gap(click, form, swing)
    if gap is None:
        raise ConditionError(
            name="tempo_of",
            value="clicks",
            expected=f"beats: clicks {click} are not evenly spaced in this tune",
        )
    return gap


def tempo_words(beats_bpm: Fraction, click: Click, form: Form, swing: Fraction) -> str:
    """The tempo in beats, and in clicks where they are evenly spaced and not the same."""
    words = f"{_number(beats_bpm)} beats a minute"
    gap = even_gap(click, form, swing)
    if gap is None or gap == form.meter.pulse:
        return words
    return f"{words}, {_number(beats_bpm * form.meter.pulse / gap)} clicks a minute"


def wide_gap_note(beats_bpm: Fraction, click: Click, form: Form, swing: Fraction) -> str | None:
    """A sentence where clicks are too far apart to keep in time with; else None.

    Clicks that drop out for whole bars are far apart on purpose.
    """
    if click.kind == "on-off":
        return None
    widest = max(gaps_of(click, form, swing), default=Fraction(0))
    seconds = 60 * widest / (form.meter.pulse * beats_bpm)
    if seconds <= WIDEST_SECONDS:
        return None
    return (
        f"The clicks come up to {float(seconds):.2g} s apart: beyond about"
        f" {float(WIDEST_SECONDS):g} s few can keep time with them alone (Rate Limits of"
        " Sensorimotor Synchronization, 2006). Count the beats between, or go faster."
    )


def _number(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")
