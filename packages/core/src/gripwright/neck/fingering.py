"""Fingering: which finger presses what.

Fingers are numbered as players do: 1 index, 2 middle, 3 ring, 4 little. They follow the frets: a
higher fret is never pressed by a lower finger, and at one fret the lower finger lies on the bass
side. Each press of `presses_of` is held by one finger; where fingers are to spare, a press of
several strings may be held by a finger for each instead. Of all these ways the one of least strain
is taken; of equals, the one with fewer fingers, then the one with the lower ones. The rules are
common practice, stated by us.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise, product
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.neck.hand import MOST_FINGERS, REACH_TOLERANCE_MM, Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.presses import Press, presses_of
from gripwright.neck.strain import USUAL_WEIGHTS, Strain, StrainWeights, muted_inside, strain_of

FINGER_NAMES: Final = ("index", "middle", "ring", "little", "fifth finger")
"""What fingers 1 to 5 are called."""

USUAL_HAND: Final = Hand()


@attrs.frozen
class FingerPress:
    """One finger at one fret.

    Args:
        finger: The finger, 1 to 5; 1 is the index.
        fret: The fret.
        strings: Indices of the strings that it presses, from the bass side.

    Example:
        >>> FingerPress(1, 5, (2, 3, 4)).is_barre
        True
    """

    finger: int
    fret: int
    strings: tuple[int, ...]

    @property
    def is_barre(self) -> bool:
        """Whether it presses several strings."""
        return len(self.strings) > 1

    @property
    def name(self) -> str:
        """What the finger is called, such as ``"index"``."""
        return FINGER_NAMES[self.finger - 1]


@attrs.frozen
class Barre:
    """A finger laid over several strings.

    Args:
        finger: The finger, 1 to 5.
        fret: The fret.
        first_string: Index of the first string that it presses, from the bass side.
        last_string: Index of the last one; strings between may be held at higher frets.
    """

    finger: int
    fret: int
    first_string: int
    last_string: int


@attrs.frozen
class Fingering:
    """The fingers that press a shape.

    Args:
        frets: The shape, muted -1, open 0, from the bass side.
        presses: The fingers in use, in order of finger number.
        least_presses: The fewest presses that would hold the shape.
        reach_mm: Distance along the neck from the nearest to the farthest fretted string.
        strain: How hard the hand works, by its parts.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> fingering = fingering_of((1, 3, 3, 2, 1, 1), guitar)
        >>> fingering.fingers, fingering.least_presses
        ((1, 3, 4, 2, 1, 1), 3)
        >>> fingering.barres
        (Barre(finger=1, fret=1, first_string=0, last_string=5),)
    """

    frets: tuple[int, ...]
    presses: tuple[FingerPress, ...]
    least_presses: int
    reach_mm: float
    strain: Strain

    @property
    def fingers(self) -> tuple[int, ...]:
        """The finger on each string from the bass side, 0 where none."""
        held = {string: press.finger for press in self.presses for string in press.strings}
        return tuple(held.get(string, 0) for string in range(len(self.frets)))

    @property
    def barres(self) -> tuple[Barre, ...]:
        """The fingers that lie over several strings, with the strings they span."""
        return tuple(
            Barre(press.finger, press.fret, press.strings[0], press.strings[-1])
            for press in self.presses
            if press.is_barre
        )

    def explain(self, hand: Hand = USUAL_HAND) -> str:
        """The fingering in words, strings numbered as players do: 1 is the treble side.

        Args:
            hand: The hand whose reach it is held against.

        Example:
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> fingering_of((-1, -1, 5, 5, 5, 8), guitar).explain()
            'index bars strings 4 to 2 at fret 5, little on string 1 at fret 8; reach 77 mm of 115'
            >>> fingering_of((0, 0, 0, 0, 0, 0), guitar).explain()
            'no finger is needed'
        """
        muted = [self._number(string) for string in muted_inside(self.frets)]
        parts = [", ".join(map(self._press_in_words, self.presses)) or "no finger is needed"]
        if muted:
            several = "s" if len(muted) > 1 else ""
            parts.append(f"string{several} {_listed(muted)} muted")
        if self.presses:
            parts.append(self._reach_in_words(hand))
        return "; ".join(parts)

    def _number(self, string: int) -> str:
        return str(len(self.frets) - string)

    def _press_in_words(self, press: FingerPress) -> str:
        first, last = self._number(press.strings[0]), self._number(press.strings[-1])
        if press.is_barre:
            return f"{press.name} bars strings {first} to {last} at fret {press.fret}"
        return f"{press.name} on string {first} at fret {press.fret}"

    def _reach_in_words(self, hand: Hand) -> str:
        words = f"reach {self.reach_mm:.0f} mm of {hand.reach_mm:g}"
        beyond = self.reach_mm - hand.reach_mm
        return f"{words}, {beyond:.1f} mm too far" if beyond > REACH_TOLERANCE_MM else words


def fingering_of(
    frets: tuple[int, ...],
    instrument: Instrument,
    hand: Hand | None = None,
    weights: StrainWeights = USUAL_WEIGHTS,
) -> Fingering:
    """The fingers that press a shape with least strain.

    Extra fingers are taken only where the hand still keeps its spread: with all fingers in use,
    each lies within two thirds of the reach of the next.

    Args:
        frets: The shape, muted -1, open 0, from the bass side.
        instrument: The instrument.
        hand: The hand; the usual one if not given, with a fifth finger where the shape needs it.
            A shape beyond its reach is fingered all the same.
        weights: What each part of the strain weighs.

    Raises:
        ConditionError: Not one fret for each string, a fret that the string does not have, or
            more presses than the hand has fingers.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> fingering_of((-1, 3, 2, 0, 1, 0), guitar).fingers
        (0, 3, 2, 0, 1, 0)
        >>> fingering_of((-1, 3, 5, 4, 5, -1), guitar).fingers
        (0, 1, 3, 2, 4, 0)
    """
    instrument.check_frets(frets)
    least = presses_of(frets)
    fingers = hand.fingers if hand is not None else max(USUAL_HAND.fingers, len(least))
    if len(least) > min(fingers, MOST_FINGERS):
        raise ConditionError(
            name="frets", value=frets, expected=f"at most {min(fingers, MOST_FINGERS)} presses"
        )
    held, strain = min(
        (
            (held, strain_of(frets, instrument, held, len(least), weights))
            for held in _ways(least, fingers, instrument, (hand or USUAL_HAND).spread_mm)
        ),
        key=lambda way: way[1].chosen,
    )
    places = [instrument.place_mm(string, fret) for string, fret in enumerate(frets) if fret > 0]
    return Fingering(
        frets=frets,
        presses=tuple(FingerPress(finger, press.fret, press.strings) for finger, press in held),
        least_presses=len(least),
        reach_mm=max(places) - min(places) if places else 0.0,
        strain=strain,
    )


def _ways(
    least: tuple[Press, ...], fingers: int, instrument: Instrument, spread_mm: float
) -> Iterator[tuple[tuple[int, Press], ...]]:
    """Every way to press, each as finger numbers and what they press in order of fingers."""
    for parts in _partings(least):
        by_choice_full = len(parts) == fingers > len(least)
        if by_choice_full and not _keeps_spread(parts, instrument, spread_mm):
            continue
        for chosen in combinations(range(1, fingers + 1), len(parts)):
            yield tuple(zip(chosen, parts, strict=True))


def _partings(presses: tuple[Press, ...]) -> Iterator[tuple[Press, ...]]:
    """The ways to give presses to fingers: each whole, or a finger for each of its strings.

    The fewest fingers come first.
    """
    ways = product(*([1, len(press.strings)][: len(press.strings)] for press in presses))
    for widths in sorted(ways, key=lambda widths: (sum(widths), widths)):
        yield tuple(
            part
            for press, width in zip(presses, widths, strict=True)
            for part in (
                [press]
                if width == 1
                else [Press(press.fret, (string,)) for string in press.strings]
            )
        )


def _keeps_spread(parts: tuple[Press, ...], instrument: Instrument, spread_mm: float) -> bool:
    places = [instrument.place_mm(part.strings[0], part.fret) for part in parts]
    return all(abs(far - near) <= spread_mm + REACH_TOLERANCE_MM for near, far in pairwise(places))


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, [", ".join(words[:-1]), words[-1]]))
