"""Approach grips: what a hand plays just before a grip, to lead into it (common practice)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final, Literal, get_args

import attrs
import numpy as np

from gripwright.errors import ConditionError
from gripwright.leading.motion import voice_motion
from gripwright.neck.hand import REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import count_presses, press_starts, spread_fits
from gripwright.neck.ranking import near
from gripwright.neck.search import find_voicings
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE, STEPS_IN_OCTAVE
from gripwright.theory.note import LETTERS, Note
from gripwright.theory.quality import QUALITIES

ApproachKind = Literal[
    "above", "below", "double-above", "double-below", "dominant", "tritone", "diminished"
]

KINDS: Final[tuple[ApproachKind, ...]] = get_args(ApproachKind)
"""Every kind of approach, by its word."""

_PARALLEL: Final = {
    "above": (1,),
    "below": (-1,),
    "double-above": (2, 1),
    "double-below": (-2, -1),
}
# Where the root lies from the target's, in letters and semitones, and the quality upon it.
_FUNCTIONS: Final = {
    "dominant": (4, 7, "7"),
    "tritone": (1, 1, "7"),
    "diminished": (-1, -1, "dim7"),
}
_USUAL_HAND: Final = Hand()
_USUAL_NOTES: Final = 3
_WORTH_ANOTHER_LETTER: Final = 2
_NATURALS: Final = {Note(letter).pitch_class: Note(letter) for letter in LETTERS}


@attrs.frozen
class Approach:
    """Grips that lead into another.

    Args:
        kind: Its word, one of `KINDS`.
        grips: One grip, or two for a double chromatic approach, in the order of playing.
        target: The grip that they lead to.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> target = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> above = Voicing(Chord.parse("Dbmaj7"), guitar, (-1, 4, 6, 5, 6, -1))
        >>> Approach("above", (above,), target).parallel
        True
    """

    kind: ApproachKind
    grips: tuple[Voicing, ...]
    target: Voicing

    @property
    def chords(self) -> tuple[Chord, ...]:
        """The chord of each grip, spelled."""
        return tuple(grip.chord for grip in self.grips)

    @property
    def parallel(self) -> bool:
        """Whether every grip has the target's own shape, moved along the neck."""
        return all(
            grip.chord.quality == self.target.chord.quality
            and _distance(self.target.frets, grip.frets) is not None
            for grip in self.grips
        )

    @property
    def motion(self) -> int:
        """Semitones that the voices move from the last grip into the target."""
        return voice_motion(self.grips[-1].midi, self.target.midi)


def approaches(
    target: Voicing,
    kinds: ApproachKind | Iterable[ApproachKind] = KINDS,
    *,
    hand: Hand = _USUAL_HAND,
    **conditions: Any,
) -> tuple[Approach, ...]:
    """The approach of each kind to a grip, as playable voicings next to it.

    - ``above``, ``below``: the target's chord a half step higher or lower, with the target's
      own shape, every string one fret on.
    - ``double-above``, ``double-below``: the same from two frets away, then from one.
    - ``dominant``: the dominant seventh chord a fifth above the target's root, V7/x.
    - ``tritone``: the one a half step above it, subV7/x.
    - ``diminished``: the diminished seventh chord a half step below it.

    Where the shape cannot move, since a string is open, the neck ends or the hand does not reach,
    the chord moves alone: its voicing is the nearest to the grip that follows, by
    `gripwright.neck.ranking.near`. So are those of the last three kinds. Next to a grip without
    open strings stands one without them where there is any, for an open string rings on when
    the hand lifts.

    A root on a white key is written as that natural; one on a black key on the letter next to
    the target's, unless the other letter saves two accidentals or more.

    Args:
        target: The grip to lead to.
        kinds: One kind or several, in the order wanted; all if not given.
        hand: The fretting hand.
        **conditions: Conditions of the search where a shape is not the target's own, and its
            ``strategy``, as in `find_voicings`.

    Returns:
        The approaches in the order of `kinds`, without those that the instrument has no voicing
        for under the conditions.

    Raises:
        ConditionError: An unknown kind, or a condition outside its range.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> target = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> for one in approaches(target, ("above", "double-below", "tritone", "diminished")):
        ...     print(*(f"{grip.chord} {grip.shape}" for grip in one.grips))
        Dbmaj7 x-4-6-5-6-x
        Bbmaj7 x-1-3-2-3-x Bmaj7 x-2-4-3-4-x
        Db7 x-4-6-4-6-x
        Bdim7 x-5-6-4-6-x
    """
    asked = (kinds,) if isinstance(kinds, str) else tuple(kinds)
    for kind in asked:
        if kind not in KINDS:
            raise ConditionError(name="kind", value=kind, expected=" or ".join(KINDS))
    found = (_grips(target, kind, hand, conditions) for kind in asked)
    return tuple(
        Approach(kind, grips, target) for kind, grips in zip(asked, found, strict=True) if grips
    )


def _grips(
    target: Voicing, kind: ApproachKind, hand: Hand, conditions: dict[str, Any]
) -> tuple[Voicing, ...]:
    """The grips of one approach; none where one of them has no voicing."""
    if kind in _FUNCTIONS:
        steps, semitones, name = _FUNCTIONS[kind]
        moved = Chord(target.chord.root, QUALITIES[name])
        grip = _nearest(_moved(moved, steps, semitones), target, hand, conditions)
        return () if grip is None else (grip,)
    grips: list[Voicing] = []
    following = target
    # From the target back, since each grip stands next to the one that follows it.
    for frets in reversed(_PARALLEL[kind]):
        chord = _moved(target.chord, 1 if frets > 0 else -1, frets)
        grip = _shifted(target, frets, chord, hand) or _nearest(chord, following, hand, conditions)
        if grip is None:
            return ()
        grips.append(grip)
        following = grip
    return tuple(reversed(grips))


def _moved(chord: Chord, steps: int, semitones: int) -> Chord:
    """A chord on another root, by letters and semitones, spelled as players would."""
    tone = (chord.root.pitch_class + semitones) % SEMITONES_IN_OCTAVE
    if tone in _NATURALS:
        return chord.transposed(_NATURALS[tone] - chord.root)
    letter = LETTERS[(chord.root.step + steps) % STEPS_IN_OCTAVE]
    roots = Note(_NATURALS[tone - 1].letter, 1), Note(_NATURALS[tone + 1].letter, -1)
    own, other = sorted(
        (chord.transposed(root - chord.root) for root in roots),
        key=lambda one: one.root.letter != letter,
    )
    return other if _accidentals(own) - _accidentals(other) >= _WORTH_ANOTHER_LETTER else own


def _accidentals(chord: Chord) -> int:
    return sum(abs(note.alteration) for note in chord.notes)


def _distance(one: tuple[int, ...], other: tuple[int, ...]) -> int | None:
    """How many frets the one shape lies below the other; None where they are not the same."""
    if any((here < 0) != (there < 0) for here, there in zip(one, other, strict=True)):
        return None
    pairs = [(here, there) for here, there in zip(one, other, strict=True) if here >= 0]
    if any(0 in pair for pair in pairs):
        return None
    distances = {there - here for here, there in pairs}
    return distances.pop() if len(distances) == 1 else None


def _shifted(target: Voicing, frets: int, chord: Chord, hand: Hand) -> Voicing | None:
    """The target's shape so many frets on, or None where neck or hand forbid."""
    instrument = target.instrument
    if 0 in target.frets:
        return None
    moved = tuple(fret + frets if fret > 0 else fret for fret in target.frets)
    on_the_neck = all(
        instrument.lowest_press(string) <= fret <= instrument.frets
        for string, fret in enumerate(moved)
        if target.frets[string] > 0
    )
    if not on_the_neck or not _holds(hand, moved, instrument):
        return None
    return Voicing(chord, instrument, moved, target.names)


def _holds(hand: Hand, frets: tuple[int, ...], instrument: Instrument) -> bool:
    """Whether a hand can hold a shape, by reach, presses and spread."""
    places = [instrument.place_mm(string, fret) for string, fret in enumerate(frets) if fret > 0]
    if places and max(places) - min(places) > hand.reach_mm + REACH_TOLERANCE_MM:
        return False
    columns = [np.array([fret], np.int8) for fret in frets]
    starts = press_starts(columns)
    presses = int(count_presses(starts)[0])
    if presses < hand.fingers:
        return True
    return presses == hand.fingers and bool(spread_fits(columns, starts, instrument, hand)[0])


def _nearest(
    chord: Chord, following: Voicing, hand: Hand, conditions: dict[str, Any]
) -> Voicing | None:
    """The voicing of a chord that leads to a grip with least motion."""
    # A grip of two notes is led to by one of two, where the chord can do with them.
    least = min(len(following.midi), _USUAL_NOTES)
    asked = {"min_notes": least, "min_tones": least, **conditions}
    table = find_voicings(chord, following.instrument, hand, **asked)
    if 0 not in following.frets and "no_open" not in conditions:
        fretted = table.where(open_strings=0)
        table = fretted if len(fretted) else table
    return table.order_by(near(following))[0] if len(table) else None
