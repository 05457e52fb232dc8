"""Every attack of a drill with its grip, at its place in the score."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

import attrs

from gripwright import Hand, Score, Voicing
from gripwright.leading.approach import approaches
from gripwright.meter.attack import ApproachRole
from gripwright.meter.pattern import LOUDEST, USUAL_DYNAMIC
from gripwright_rhythm.drill.aim import Aim
from gripwright_rhythm.drill.part import Part
from gripwright_rhythm.drill.sounding import Placed

_ACCENT: Final = 16


def place_grips(
    parts: list[Part], frame: Score, hand: Hand
) -> tuple[list[Placed], tuple[str, ...]]:
    """Give every attack its grip.

    Args:
        parts: Choruses and ending.
        frame: The score without its events, for its bars.
        hand: The fretting hand, for approaches.

    Returns:
        The attacks by time, and the chords that an approach finds no grip for.
    """
    found: list[Placed] = []
    missing: dict[str, None] = {}
    leading: dict[tuple[Voicing, ApproachRole], tuple[Voicing, ...]] = {}
    for index, part in enumerate(parts):
        following = parts[index + 1] if index + 1 < len(parts) else None
        pushed = index > 0 and any(
            aim.push and aim.span == len(parts[index - 1].form.spans)
            for aim in parts[index - 1].aims
        )
        for aim in (*_counted_in(part, parts, frame), *part.aims):
            home, span = part, aim.span
            if span == len(part.form.spans):
                if following is None:
                    continue
                home, span = following, 0
            target = home.form.spans[span]
            if pushed and target.held and home is part and span == 0 and not aim.approach:
                continue
            if target.voicing is None:
                continue
            voicing, until = target.voicing, home.onset + target.end
            if aim.attack.approach is not None:
                until = part.onset + aim.until
                known = (voicing, aim.attack.approach)
                if known not in leading:
                    leading[known] = _leading(*known, hand)
                if not leading[known]:
                    missing[str(voicing.chord)] = None
                    continue
                voicing = leading[known][-1 - min(aim.grip, len(leading[known]) - 1)]
            found.append(_at(part, aim, voicing, until, frame))
    return found, tuple(missing)


def _leading(target: Voicing, role: ApproachRole, hand: Hand) -> tuple[Voicing, ...]:
    return next((one.grips for one in approaches(target, role, hand=hand)), ())


def _at(part: Part, aim: Aim, voicing: Voicing, until: Fraction, frame: Score) -> Placed:
    time = part.onset + aim.time
    bar = frame.bar_at(time)
    dynamic = USUAL_DYNAMIC if part.pattern is None else part.pattern.dynamic
    return Placed(
        time,
        until,
        bar.onset - bar.lead_in,
        bar.meter.pulse,
        aim.attack,
        voicing,
        min(dynamic + _ACCENT * aim.attack.accent, LOUDEST),
        push=aim.push,
        approach=aim.approach,
    )


def _counted_in(part: Part, parts: list[Part], frame: Score) -> Iterator[Aim]:
    """The push to the first chord in the count-in, where nothing else sounds that chord."""
    if part is not parts[0] or frame.start >= 0 or part.form.pickup:
        return
    if any(aim.span == 0 and not aim.approach for aim in part.aims):
        return
    for aim in part.aims:
        if aim.push and aim.span == len(part.form.spans):
            time = aim.time - part.form.length
            if time >= frame.start:
                yield attrs.evolve(aim, time=time, span=0)
