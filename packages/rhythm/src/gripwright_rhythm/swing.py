"""Swing by name: how uneven the halves of a beat are at a tempo."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final

import attrs

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.meter import Meter
from gripwright.named import nearest_names

MOST_UNEVEN: Final = 4
"""The greatest ratio of the first half of a beat to the second."""

SLOWEST_MEASURED_BPM: Final = 120
"""The slowest tempo at which the drummers' ratio was measured (Music Perception 19(3), 2002)."""

_RATIO: Final = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,9}|/[1-9][0-9]{0,8})?(?::1)?", re.ASCII)
"""A ratio as text: no exponent, which a few signs make endless."""


@attrs.frozen
class SwingCurve:
    """A ratio that follows the tempo.

    Args:
        name: Its name.
        summary: One line about it, with its source.
        ratio: From beats a minute to the ratio of the first half to the second.
    """

    name: str
    summary: str
    ratio: Callable[[Fraction], Fraction]


def _falling(most: Fraction) -> Callable[[Fraction], Fraction]:
    def ratio(tempo_bpm: Fraction) -> Fraction:
        return min(max(600 / tempo_bpm - 1, Fraction(1)), most)

    return ratio


CURVES: Final = {
    curve.name: curve
    for curve in (
        SwingCurve(
            "drummers",
            "as drummers were measured: from 3.5 near 120 beats a minute down to even at 300"
            " (derived from Music Perception 19(3), 2002; below 120 unmeasured)",
            _falling(Fraction(7, 2)),
        ),
        SwingCurve(
            "comping",
            "the same, at most 2: chords swing less than a ride cymbal (our proposal)",
            _falling(Fraction(2)),
        ),
    )
}
"""Every curve, by name."""


def swing_ratio(swing: Fraction | int | str, tempo_bpm: Fraction, meter: Meter) -> Fraction:
    """The ratio of the first half of a beat to the second.

    Args:
        swing: A ratio from 1 (even) to 4, such as ``Fraction(2)`` or ``"3/2"`` or ``"2:1"``, or
            the name of a curve.
        tempo_bpm: Beats a minute, for a curve.
        meter: The metre; one whose beats have three parts does not swing.

    Raises:
        UnknownNameError: No curve has that name.
        ConditionError: The ratio is out of range, or the metre does not swing.

    Example:
        >>> swing_ratio("drummers", Fraction(200), Meter()), swing_ratio("2:1", 90, Meter())
        (Fraction(2, 1), Fraction(2, 1))
    """
    ratio = _ratio(swing, tempo_bpm)
    if ratio != 1 and meter.compound:
        raise ConditionError(
            name="swing",
            value=str(swing),
            expected=f"1 in {meter}, whose beats have three parts already",
        )
    return ratio


def _ratio(swing: Fraction | int | str, tempo_bpm: Fraction) -> Fraction:
    if isinstance(swing, str):
        if swing in CURVES:
            return CURVES[swing].ratio(Fraction(tempo_bpm))
        if not _RATIO.fullmatch(swing):
            raise UnknownNameError(
                kind="swing",
                name=swing,
                nearest=nearest_names(swing, CURVES),
                hint=f"known are {', '.join(CURVES)}, or a ratio from 1 to {MOST_UNEVEN}",
            )
        value = Fraction(swing.removesuffix(":1"))
    else:
        value = _exact(swing)
    if not 1 <= value <= MOST_UNEVEN or value.denominator > 1000:  # noqa: PLR2004 - fine enough
        raise ConditionError(
            name="swing", value=str(swing), expected=f"a ratio from 1 to {MOST_UNEVEN}"
        )
    return value


def _exact(swing: Fraction | int) -> Fraction:
    try:
        return Fraction(swing)
    except (TypeError, ValueError, ArithmeticError):
        raise ConditionError(
            name="swing", value=swing, expected=f"a ratio from 1 to {MOST_UNEVEN}"
        ) from None
