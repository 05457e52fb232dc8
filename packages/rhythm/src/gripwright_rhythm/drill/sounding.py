"""Where each attack ends: by its own length, by the next attack, or by the change of chord."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

import attrs

from gripwright import Voicing
from gripwright.meter import Attack


@attrs.frozen
class Placed:
    """An attack on a grip at its place in the score, in quarters as written.

    Args:
        time: Where it starts.
        until: Where its chord ends.
        zero: Where a beat falls, from which beats are counted.
        pulse: Quarters in a beat.
        attack: What the pattern says of it.
        voicing: The grip.
        dynamic: How loud, 1 to 127.
        push: Whether it anticipates its chord.
        approach: Whether it leads to another.
    """

    time: Fraction
    until: Fraction
    zero: Fraction
    pulse: Fraction
    attack: Attack
    voicing: Voicing
    dynamic: int
    push: bool = False
    approach: bool = False


def ends_of(
    placed: Sequence[Placed],
    end: Fraction,
    *,
    ring_over: bool = False,
    staccato: Fraction = Fraction(1),
    silences: Sequence[Fraction] = (),
) -> Iterator[tuple[Fraction, bool]]:
    """Where each attack ends, and whether that is short of what would end it anyway.

    Args:
        placed: The attacks by time, no two at one time.
        end: Where the score ends.
        ring_over: Whether long attacks hold through changes of chord.
        staccato: The part of its length that a short attack sounds, above 0 and up to 1.
        silences: Where the chart has N.C. or a break, in order: nothing rings into it.

    Yields:
        The end in quarters, and whether it is cut.
    """
    for index, one in enumerate(placed):
        last = index + 1 == len(placed)
        following = end if last else placed[index + 1].time
        silence = bisect_right(silences, one.time)
        quiet = silences[silence] if silence < len(silences) else end
        natural = min(following, one.until, quiet)
        if ring_over or one.attack.ring_over:
            natural = min(following, quiet)
        length = one.attack.length
        if length == "long":
            yield natural, False
        elif length == "short":
            beat = one.zero + (floor((one.time - one.zero) / one.pulse) + 1) * one.pulse
            yield one.time + (min(natural, beat) - one.time) * staccato, True
        else:
            exact = one.time + Fraction(length)
            if one.attack.ring_over:
                yield min(exact, quiet, end), False
            else:
                yield min(exact, natural), exact < natural
