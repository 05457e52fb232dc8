"""Motion of pitch classes: how far the tones of one chord lie from those of another.

Octaves do not count: a tone moves by the nearer way round the circle of twelve semitones. Where
voices may not split, each tone goes to one tone; tones are doubled only as far as the chord of
fewer tones needs it to have as many voices. Where they may, any tone of either chord may be
doubled. A cheapest motion never needs to cross (Tymoczko, Science 313, 2006, supporting online
material), so that it is found by going round both circles in step, from each tone to start with.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

_UNREACHED: Final = 1 << 30


def pitch_class_motion(
    one: Chord | Iterable[int], other: Chord | Iterable[int], *, split: bool = False
) -> int:
    """The fewest semitones that voices move from one chord to another, modulo the octave.

    Args:
        one: A chord, or pitch classes or MIDI numbers, one a voice.
        other: The same of the chord that it goes to.
        split: Whether voices may split and merge where both have as many voices, too.

    Returns:
        Semitones, 0 or more.

    Raises:
        ConditionError: A chord without voices.

    Example:
        >>> cmaj7, emaj7 = Chord.parse("Cmaj7"), Chord.parse("Emaj7")
        >>> pitch_class_motion(cmaj7, emaj7), pitch_class_motion(cmaj7, emaj7, split=True)
        (4, 3)
        >>> pitch_class_motion((0, 4, 7), Chord.parse("Am7"))
        2
    """
    more, fewer = sorted((_tones(one, "one"), _tones(other, "other")), key=len, reverse=True)
    return min(
        _round_from(more, fewer[start:] + fewer[:start], split=split) for start in range(len(fewer))
    )


def _tones(chord: Chord | Iterable[int], name: str) -> list[int]:
    """Pitch classes in order; those of a chord once each, a foreign bass among them."""
    if isinstance(chord, Chord):
        bass = () if chord.bass is None else (chord.bass,)
        return sorted({note.pitch_class for note in (*chord.notes, *bass)})
    tones = sorted(tone % SEMITONES_IN_OCTAVE for tone in chord)
    if not tones:
        raise ConditionError(name=name, value=(), expected="a chord, or one pitch class or more")
    return tones


def _round_from(more: Sequence[int], fewer: Sequence[int], *, split: bool) -> int:
    """The cheapest way once round both circles whose first pair is the first tone of each.

    The way ends on the pair that it starts with, which is paid for once. Every step goes on to
    the next tone of the chord that has more; with `split` also on the other circle alone.
    """
    around = [*fewer, fewer[0]]
    reached = [0] + [_UNREACHED] * len(fewer)
    if split:
        for place in range(1, len(around)):
            reached[place] = reached[place - 1] + _distance(more[0], around[place])
    for tone in (*more[1:], more[0]):
        before, reached = reached, []
        for place, target in enumerate(around):
            ways = [before[place]]
            if place:
                ways.append(before[place - 1])
                if split:
                    ways.append(reached[place - 1])
            reached.append(min(ways) + _distance(tone, target))
    return reached[-1]


def _distance(one: int, other: int) -> int:
    up = (other - one) % SEMITONES_IN_OCTAVE
    return min(up, SEMITONES_IN_OCTAVE - up)
