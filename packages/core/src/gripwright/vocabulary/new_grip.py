"""The new grip of a day: chosen by gaps, ease, nearness to known ones, and the tune at hand."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.neck.hand import Hand
from gripwright.neck.table import VoicingTable
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch
from gripwright.vocabulary.context import Context, context_of, kinds_in
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.gap import Gap, gaps, grips_for
from gripwright.vocabulary.placing import (
    FOURTHS,
    fits_hand,
    middle_fret,
    on_root,
    round_the_fourths,
    usual_root,
)
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.questioning import grip_for

_GAPS_COMPARED: Final = 12
_GRIPS_COMPARED: Final = 16
_COMFORTABLE_FRET: Final = 6.0
_COMFORTABLE: Final = 3.0
_LOWEST_ROOT: Final = 28
_BEYOND: Final = np.int16(1000)


@attrs.frozen
class NewGripWeights:
    """What weighs against a new grip (our own proposals).

    Args:
        gap: For each place that its gap stands later.
        strain: For each 10 mm of strain.
        change: For each finger that the nearest known grip would have to move.
        later: For each place later in the teaching order.

    Example:
        >>> NewGripWeights(strain=0.4).change
        1.0
    """

    gap: float = 1.0
    strain: float = 0.2
    change: float = 1.0
    later: float = 1.0


_USUAL_WEIGHTS: Final = NewGripWeights()


@attrs.frozen
class NewGrip:
    """The grip to learn today.

    Args:
        gap: The gap that it fills.
        grip: The grip, on the root on which it is met.
        strain: How it strains the hand, in the unit of `gripwright.neck.strain`.
        like: The known grip that it resembles most, by its shape, or None.
        changes: Fingers that have to move from there; all of them where there is none.
        context: The grip between the chord before and the chord after.
        cycle: The grip round the cycle of fourths.
        root: The root to hear it over, below its lowest note.
        sing: Its top note, to sing.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> new = choose_new_grip((), Profile(guitar))
        >>> print(new.grip.chord, new.grip.shape, new.like, new.changes)
        Cmaj7 x-3-5-4-5-x None 4
    """

    gap: Gap
    grip: Voicing
    strain: float
    like: str | None
    changes: int
    context: Context
    cycle: tuple[Voicing, ...]
    root: Pitch
    sing: Pitch

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why this one, a phrase each."""
        fingers = "1 finger" if self.changes == 1 else f"{self.changes} fingers"
        found = [f"fills a gap: {self.gap.sentence}"]
        if self.context.in_tune:
            found.append(f"the tune has {self.grip.chord}")
        if self.like is not None:
            found.append(f"{fingers} from {self.like}, which is known")
        return tuple(found)


def choose_new_grip(
    facts: Sequence[Facts],
    profile: Profile,
    *,
    tune: Sequence[Chord] = (),
    weights: NewGripWeights = _USUAL_WEIGHTS,
    **conditions: Any,
) -> NewGrip | None:
    """The grip that is best learned next.

    Of the first gaps, those of the tune's kinds of chord sooner, the first grips of the teaching
    order are compared; that of least weight is taken. It is met on the root that the tune has
    for it; else on the first root round the fourths from C that has a place between the third
    and the ninth fret; in either case as near to the sixth as the hand can hold it.

    Args:
        facts: The known grips of the profile's instrument.
        profile: The player.
        tune: The chords of the tune at hand, in order.
        weights: What weighs against a grip.
        **conditions: Conditions of the search, as in `find_voicings`.

    Returns:
        The grip, or None where the vocabulary lacks nothing that the hand can hold.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> new = choose_new_grip((), Profile(guitar), tune=(Chord.parse("Fm7"),))
        >>> new.grip.shape, str(new.grip.chord), str(new.root), str(new.sing)
        ('x-8-10-8-9-x', 'Fm7', 'F3', 'Ab4')
    """
    asked = {"stroke": profile.stroke, **conditions}
    shapes = _Shapes.of(facts)
    kinds = kinds_in(tune)
    found = islice(
        gaps(facts, profile.instrument, hand=profile.hand, sooner=kinds, **asked), _GAPS_COMPARED
    )
    compared = [one for gap in found for one in _weighed(gap, profile, shapes, weights, asked)]
    best = min(compared, key=lambda one: (one.weight, one.voicing.frets), default=None)
    if best is None:
        return None
    grip = _met(best.voicing, tune, profile.hand)
    return NewGrip(
        gap=best.gap,
        grip=grip,
        strain=best.strain,
        like=best.like,
        changes=best.changes,
        context=context_of(grip, facts=facts, hand=profile.hand, tune=tune),
        cycle=tuple(one for one in round_the_fourths(grip) if fits_hand(one, profile.hand)),
        root=root_below(grip),
        sing=max(grip.pitches, key=lambda pitch: pitch.midi),
    )


def root_below(grip: Voicing) -> Pitch:
    """The root of a grip at the nearest place below its lowest note, for a bass to sound.

    A root that the grip has lowest stands as it is; none lies below E1.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> str(root_below(Voicing(Chord.parse("Cmaj9"), guitar, (-1, 7, 5, 7, 5, -1))))
        'C3'
    """
    low = min(grip.midi)
    root = grip.chord.root
    down = (low - root.pitch_class) % SEMITONES_IN_OCTAVE
    midi = low - down
    return Pitch.spell(root, midi if midi >= _LOWEST_ROOT else midi + SEMITONES_IN_OCTAVE)


@attrs.frozen
class _Weighed:
    gap: Gap
    voicing: Voicing
    strain: float
    like: str | None
    changes: int
    weight: float


def _weighed(
    gap: Gap,
    profile: Profile,
    shapes: _Shapes,
    weights: NewGripWeights,
    conditions: dict[str, Any],
) -> Iterator[_Weighed]:
    table = _candidates(gap, profile, conditions)[:_GRIPS_COMPARED]
    strains = table.strain(hand=profile.hand).tolist()
    for place, (voicing, strain) in enumerate(zip(table, strains, strict=True)):
        like, changes = shapes.nearest(voicing.frets)
        weight = (
            weights.gap * gap.rank
            + weights.strain * strain / 10
            + weights.change * changes
            + weights.later * place
        )
        yield _Weighed(gap, voicing, strain, like, changes, round(weight, 6))


def _candidates(gap: Gap, profile: Profile, conditions: dict[str, Any]) -> VoicingTable:
    """The grips that fill a gap, without the root where the band has it and they can do so."""
    for policy in profile.roots:
        asked = {"root": policy, **conditions}
        table = grips_for(gap, profile.instrument, hand=profile.hand, **asked)
        if len(table):
            break
    else:
        table = grips_for(gap, profile.instrument, hand=profile.hand, **conditions)
    return table


def _met(voicing: Voicing, tune: Sequence[Chord], hand: Hand) -> Voicing:
    """The grip where it is met first; its own place can be held, so there always is one."""
    grip = grip_for(voicing.chord, voicing.instrument, voicing.frets)
    for chord in tune:
        if chord.quality == grip.chord.quality:
            places = _held(on_root(grip, chord.root), hand)
            if places:
                return places[0]
    kind, start = grip.chord.quality, grip.chord.root.pitch_class
    for turn in range(SEMITONES_IN_OCTAVE):
        root = usual_root(kind, (start + FOURTHS * turn) % SEMITONES_IN_OCTAVE)
        for place in _held(on_root(grip, root), hand)[:1]:
            if abs(middle_fret(place) - _COMFORTABLE_FRET) <= _COMFORTABLE:
                return place
    return grip


def _held(places: Iterable[Voicing], hand: Hand) -> list[Voicing]:
    """The places that a hand can hold, those near the middle of the neck first."""
    return sorted(
        (place for place in places if fits_hand(place, hand)),
        key=lambda place: abs(middle_fret(place) - _COMFORTABLE_FRET),
    )


@attrs.frozen(eq=False)
class _Shapes:
    """The shapes of known grips, wherever they are held.

    Args:
        frets: (strings, shapes) int16; where a string is not fretted, a number of its own that
            lies beyond any neck, so that it agrees with no other string.
        silent: (strings, shapes) bool, where a string is muted.
        ids: The names of the entries.
    """

    frets: NDArray[np.int16]
    silent: NDArray[np.bool_]
    ids: tuple[str, ...]

    @classmethod
    def of(cls, facts: Sequence[Facts]) -> _Shapes:
        known = {fact.frets: fact.id for fact in reversed(facts)}
        shapes = np.array(list(known), np.int16)
        frets = shapes.T if known else np.zeros((0, 0), np.int16)
        beyond = _BEYOND * np.arange(1, len(frets) + 1, dtype=np.int16)[:, None]
        return cls(np.where(frets > 0, frets, beyond), frets < 0, tuple(known.values()))

    def nearest(self, frets: tuple[int, ...]) -> tuple[str | None, int]:
        """The known shape from which the fewest fingers move, and how many.

        Both are laid over each other wherever most strings agree, so that a place on the neck
        does not count; a string that sounds in one alone is a change.
        """
        fretted = [string for string, fret in enumerate(frets) if fret > 0]
        if not self.ids:
            return None, len(fretted)
        apart = [self.frets[string] - np.int16(frets[string]) for string in fretted]
        kept = np.zeros(len(self.ids), np.int8)
        for string, here in zip(fretted, apart, strict=True):
            agree = functools.reduce(np.add, ((there == here).view(np.int8) for there in apart))
            np.maximum(kept, agree * (self.frets[string] < _BEYOND), out=kept)
        for string, fret in enumerate(frets):
            if fret < 0:
                kept += self.silent[string]
        best = int(kept.argmax())
        return self.ids[best], len(frets) - int(kept[best])
