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
from gripwright_rhythm.drill.form import FormSpan
from gripwright_rhythm.drill.part import Part
from gripwright_rhythm.drill.sounding import Placed

_ACCENT: Final = 16
_ZERO: Final = Fraction(0)


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
    held: set[tuple[int, int]] = set()
    for index, part in enumerate(parts):
        following = parts[index + 1] if index + 1 < len(parts) else None
        pushed = index > 0 and any(_pushes(parts[index - 1]))
        for aim in (*_opening(part, frame, pushed=pushed), *part.aims):
            home = following if aim.span == len(part.form.spans) else part
            target = _target(aim, home, part)
            if target is None or target.voicing is None or home is None:
                continue
            chord = (index, aim.span) if home is part else (index + 1, 0)
            if target.held and not aim.approach:
                if chord in held:
                    continue
                held.add(chord)
            voicing, until = target.voicing, home.onset + target.end
            length = "long" if target.held else aim.attack.length
            if aim.attack.approach is not None:
                until, length = part.onset + aim.until, aim.attack.length
                known = (voicing, aim.attack.approach)
                if known not in leading:
                    leading[known] = _leading(*known, hand)
                if not leading[known]:
                    missing[str(voicing.chord)] = None
                    continue
                voicing = leading[known][-1 - min(aim.grip, len(leading[known]) - 1)]
            attack = attrs.evolve(aim.attack, length=length)
            found.append(_at(part, attrs.evolve(aim, attack=attack), voicing, until, frame))
    return found, tuple(missing)


def _target(aim: Aim, home: Part | None, part: Part) -> FormSpan | None:
    """The chord that an attack is for; None where nothing follows, or a break."""
    if home is part:
        return part.form.spans[aim.span]
    return None if home is None or home.form.bars[0].rests else home.form.spans[0]


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


def _pushes(part: Part) -> Iterator[Aim]:
    """What anticipates the chord after a chorus."""
    return (aim for aim in part.aims if aim.push and aim.span == len(part.form.spans))


def _opening(part: Part, frame: Score, *, pushed: bool) -> Iterator[Aim]:
    """The first chord of a chorus, where only the push out of the chorus before would sound it.

    Before the first chorus it is pushed in the count-in; where there is no room, or the chorus
    before has another rhythm, it is attacked at its start.
    """
    form = part.form
    if pushed or any(aim.span == 0 and not aim.approach for aim in part.aims):
        return
    pushes = tuple(_pushes(part))
    early = [attrs.evolve(aim, time=aim.time - form.length, span=0) for aim in pushes]
    if early and not part.onset and not form.pickup and early[0].time >= frame.start:
        if not form.bars[0].rests:
            yield from early
    elif early and form.bars[0].hits is None and all(aim.time for aim in part.aims):
        yield attrs.evolve(early[0], time=_ZERO, attack=attrs.evolve(pushes[0].attack, push=False))
