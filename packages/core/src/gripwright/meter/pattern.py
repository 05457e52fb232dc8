"""Rhythm patterns: attacks at exact places of one bar or several, over and over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.meter.attack import Attack, Length, as_length
from gripwright.meter.meter import Meter
from gripwright.meter.pattern_text import read_attacks, write_attacks

MOST_BARS: Final = 64
"""Bars that a pattern holds at most."""

USUAL_DYNAMIC: Final = 80
"""How loud an attack is where nothing says, as a MIDI velocity: 1 to 127."""

LOUDEST: Final = 127

_NAME: Final = re.compile(r"[a-z][a-z0-9.-]*")


def _as_attacks(attacks: Iterable[Attack]) -> tuple[Attack, ...]:
    return tuple(sorted(attacks, key=lambda attack: attack.onset))


def _as_patterns(patterns: Iterable[RhythmPattern]) -> tuple[RhythmPattern, ...]:
    return tuple(patterns)


@attrs.frozen
class Cell:
    """A part of a pattern: an attack while it sounds, or silence.

    Args:
        onset: Quarters from the start of the pattern.
        length: Quarters that it lasts, above 0.
        attack: The attack, or None for silence.

    Example:
        >>> pattern = RhythmPattern.parse("1' 3")
        >>> [(str(cell.onset), str(cell.length), cell.attack is None) for cell in pattern.cells]
        [('0', '1', False), ('1', '1', True), ('2', '2', False)]
    """

    onset: Fraction
    length: Fraction
    attack: Attack | None


@attrs.frozen
class RhythmPattern:
    """Attacks in one bar or several, played over and over in time.

    As text, a pattern is a word for each attack: its beat, counted from 1 in each bar (``2.5``
    or ``5/2`` is the and of two), and marks after it. ``'`` is a short one, ``:1.5`` lasts so
    many beats, none of the two is long; ``>`` is a push, which belongs to the chord of the next
    beat; ``!`` is an accent; ``~`` rings over; ``^`` is an up stroke, ``v`` a down stroke, ``p``
    plucked; ``(above)`` an approach, by its kind. ``|`` stands between bars.

    Args:
        name: Its name: lower-case ASCII letters, digits, points and hyphens, a letter first.
        meter: The metre that it is for.
        attacks: The attacks; of two at one place the pattern is refused.
        bars: Bars that it lasts, 1 to 64.
        summary: One line about it.
        dynamic: How loud an attack without accent is, as a MIDI velocity, 1 to 127.
        bass: Where a bass player would play beside it; empty where it does not matter.
        later: What the second chorus plays, and the third, and so on, the last of them to the
            end; empty where all choruses play the same.

    Raises:
        ConditionError: An attack outside the bars, two at one place, one whose exact length
            passes the next attack without ringing over, or a value outside its range.

    Example:
        >>> pattern = RhythmPattern.parse("1:1.5 2.5", Meter(4, 4), name="dotted")
        >>> [(str(cell.onset), str(cell.length)) for cell in pattern.cells]
        [('0', '3/2'), ('3/2', '5/2')]
        >>> str(pattern)
        '1:1.5 2.5'
    """

    name: str = attrs.field()
    meter: Meter = attrs.field()
    attacks: tuple[Attack, ...] = attrs.field(converter=_as_attacks)
    bars: int = attrs.field(default=1)
    summary: str = attrs.field(default="")
    dynamic: int = attrs.field(default=USUAL_DYNAMIC)
    bass: tuple[Attack, ...] = attrs.field(default=(), converter=_as_attacks)
    later: tuple[RhythmPattern, ...] = attrs.field(default=(), converter=_as_patterns)

    @name.validator
    def _check_name(self, _attribute: object, value: str) -> None:
        if not isinstance(value, str) or not _NAME.fullmatch(value):
            raise ConditionError(
                name="name",
                value=value,
                expected="lower-case ASCII letters, digits, points and hyphens, a letter first",
            )

    @bars.validator
    def _check_bars(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_BARS:
            raise ConditionError(name="bars", value=value, expected=f"1 to {MOST_BARS} bars")

    @dynamic.validator
    def _check_dynamic(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= LOUDEST:
            raise ConditionError(name="dynamic", value=value, expected=f"1 to {LOUDEST}")

    def __attrs_post_init__(self) -> None:
        for attacks in (self.attacks, self.bass):
            _check_places(attacks, self.length, self.name)
        for later in self.later:
            if later.meter != self.meter or later.later:
                raise ConditionError(
                    name="later",
                    value=later.name,
                    expected=f"a pattern in {self.meter} without later ones of its own",
                )

    @classmethod
    def parse(
        cls,
        text: str,
        meter: Meter | None = None,
        *,
        name: str = "own",
        summary: str = "",
        dynamic: int = USUAL_DYNAMIC,
        bass: str = "",
    ) -> RhythmPattern:
        """Read a pattern from its text.

        Args:
            text: The attacks, in the words that the class describes.
            meter: The metre; 4/4 if not given.
            name: Its name.
            summary: One line about it.
            dynamic: How loud it is, 1 to 127.
            bass: Where a bass player would play, in the same words; of one bar, it is the same
                in every bar; empty where it does not matter.

        Raises:
            NotationError: A text that is no pattern; says where.
            ConditionError: Attacks that do not stand together, such as two at one place, or a
                bass of other bars.

        Example:
            >>> pattern = RhythmPattern.parse("1 2.5 4 | 2 3.5", bass="1 3")
            >>> pattern.bars, len(pattern.bass)
            (2, 4)
        """
        meter = Meter() if meter is None else meter
        attacks, bars = read_attacks(text, meter)
        beneath = _read_bass(bass, meter, bars) if bass else ()
        return cls(name, meter, attacks, bars, summary, dynamic, beneath)

    def __str__(self) -> str:
        return write_attacks(self.attacks, self.meter, self.bars)

    @property
    def length(self) -> Fraction:
        """Quarters that it lasts."""
        return self.bars * self.meter.length

    @property
    def cells(self) -> tuple[Cell, ...]:
        """What sounds and what is silent, one after the other: exactly the length of the pattern.

        An attack that goes on over the end of the pattern is cut there and goes on at the start,
        as a cell of its own.

        Example:
            >>> pattern = RhythmPattern.parse("2'", Meter(3, 4))
            >>> [str(cell.length) for cell in pattern.cells], pattern.length
            (['1', '1', '1'], Fraction(3, 1))
        """
        return tuple(self._cells([self._until(index) for index in range(len(self.attacks))]))

    @property
    def changing_cells(self) -> tuple[Cell, ...]:
        """The same where the chord changes on every bar line, as in most drills.

        No attack goes on into the next bar, but a push, which belongs to its chord.

        Example:
            >>> pattern = RhythmPattern.parse("2")
            >>> [(str(cell.onset), cell.attack is not None) for cell in pattern.changing_cells]
            [('0', False), ('1', True)]
        """
        return tuple(
            self._cells(
                [
                    min(self._until(index), self._change(attack))
                    for index, attack in enumerate(self.attacks)
                ]
            )
        )

    def _change(self, attack: Attack) -> Fraction:
        """Where the bar of an attack's chord ends."""
        place = attack.onset
        if attack.push:
            place = (place // self.meter.pulse + 1) * self.meter.pulse
        return (place // self.meter.length + 1) * self.meter.length

    def _cells(self, limits: list[Fraction]) -> Iterator[Cell]:
        """The cells where something ends each attack at its limit."""
        if not self.attacks:
            yield Cell(Fraction(0), self.length, None)
            return
        place = Fraction(0)
        last = self.attacks[-1]
        over = last.onset + self.sounding(last, limits[-1]) - self.length
        if over > 0:
            yield Cell(place, over, last)
            place = over
        for attack, limit in zip(self.attacks, limits, strict=True):
            if attack.onset > place:
                yield Cell(place, attack.onset - place, None)
            end = attack.onset + self.sounding(attack, limit)
            place = min(end, self.length)
            yield Cell(attack.onset, place - attack.onset, attack)
        if place < self.length:
            yield Cell(place, self.length - place, None)

    def _until(self, index: int) -> Fraction:
        """Where the attack after one stands, over the end of the pattern if need be."""
        if index + 1 < len(self.attacks):
            return self.attacks[index + 1].onset
        return self.length + self.attacks[0].onset

    def sounding(self, attack: Attack, until: Fraction) -> Fraction:
        """Quarters that an attack sounds.

        Args:
            attack: The attack.
            until: Where the next attack or a change of chord ends it at the latest, in quarters
                from the start of the pattern.
        """
        longest = until - attack.onset
        if attack.length == "long":
            return longest
        if attack.length == "short":
            # Pulses are counted in each bar: a bar holds a whole number of them.
            return min(longest, self.meter.pulse - attack.onset % self.meter.pulse)
        assert isinstance(attack.length, Fraction)  # noqa: S101 - the two names are above
        return min(longest, attack.length)

    def in_chorus(self, number: int) -> RhythmPattern:
        """What a chorus plays.

        Args:
            number: The number of the chorus, from 1.

        Example:
            >>> louder = RhythmPattern.parse("1 3", name="two")
            >>> growing = attrs.evolve(RhythmPattern.parse("1", name="one"), later=(louder,))
            >>> growing.in_chorus(1).name, growing.in_chorus(7).name
            ('one', 'two')
        """
        if number <= 1 or not self.later:
            return self
        return self.later[min(number - 2, len(self.later) - 1)]

    def with_length(self, length: Length | int) -> RhythmPattern:
        """The pattern with every attack long, short, or of so many quarters.

        Example:
            >>> str(RhythmPattern.parse("1 2.5").with_length("short"))
            "1' 2.5'"
        """
        value = as_length(length)
        attacks = [attrs.evolve(attack, length=value) for attack in self.attacks]
        later = [other.with_length(value) for other in self.later]
        return attrs.evolve(self, attacks=attacks, later=later)

    def displaced(self, by: Fraction | int) -> RhythmPattern:
        """The pattern so many quarters later; what passes its end comes round to its start.

        The bass stays, and so do the metre and the clicks: the pattern moves against them.

        Example:
            >>> str(RhythmPattern.parse("1 2.5").displaced(Fraction(5, 2)))
            '1 3.5'
        """
        attacks = [
            attrs.evolve(attack, onset=(attack.onset + by) % self.length) for attack in self.attacks
        ]
        # Those of later choruses come round at their own ends.
        later = [other.displaced(by) for other in self.later]
        return attrs.evolve(self, attacks=attacks, later=later)

    def then(self, *others: RhythmPattern) -> RhythmPattern:
        """The pattern with others after it, bar after bar, under its own name.

        Where one of them has later ones, so has the whole, chorus by chorus.

        Raises:
            ConditionError: One of another metre, or more than 64 bars.

        Example:
            >>> str(RhythmPattern.parse("1").then(RhythmPattern.parse("1'")))
            "1 | 1'"
        """
        attacks, bass, bars = list(self.attacks), list(self.bass), self.bars
        for other in others:
            if other.meter != self.meter:
                raise ConditionError(
                    name="pattern", value=other.name, expected=f"a pattern in {self.meter}"
                )
            start = bars * self.meter.length
            attacks += [attrs.evolve(one, onset=one.onset + start) for one in other.attacks]
            bass += [attrs.evolve(one, onset=one.onset + start) for one in other.bass]
            bars += other.bars
        choruses = max(len(one.later) for one in (self, *others)) + 1
        later = [
            self._alone(number).then(*(other._alone(number) for other in others))  # noqa: SLF001 - its own class
            for number in range(2, choruses + 1)
        ]
        return attrs.evolve(self, attacks=attacks, bass=bass, bars=bars, later=later)

    def _alone(self, number: int) -> RhythmPattern:
        """What a chorus plays, without later ones."""
        return attrs.evolve(self.in_chorus(number), later=())


def _read_bass(text: str, meter: Meter, bars: int) -> tuple[Attack, ...]:
    attacks, read = read_attacks(text, meter)
    if read == 1:
        return tuple(
            attrs.evolve(attack, onset=attack.onset + bar * meter.length)
            for bar in range(bars)
            for attack in attacks
        )
    if read != bars:
        raise ConditionError(name="bass", value=text, expected=f"one bar, or {bars} bars")
    return attacks


def _check_places(attacks: tuple[Attack, ...], length: Fraction, name: str) -> None:
    if not attacks:
        return
    if attacks[-1].onset >= length:
        raise ConditionError(
            name=f"onset in pattern {name!r}",
            value=str(attacks[-1].onset),
            expected=f"a place before its end, {length} quarters from its start",
        )
    following = (*attacks[1:], attrs.evolve(attacks[0], onset=Fraction(0)))
    for one, other in pairwise(attacks):
        if one.onset == other.onset:
            raise ConditionError(
                name=f"onset in pattern {name!r}",
                value=str(one.onset),
                expected="one attack at each place",
            )
    for index, (one, other) in enumerate(zip(attacks, following, strict=True)):
        last = index == len(attacks) - 1
        until = length + attacks[0].onset if last else other.onset
        exactly = isinstance(one.length, Fraction)
        if exactly and not one.ring_over and one.onset + one.length > until:  # type: ignore[operator]
            raise ConditionError(
                name=f"length in pattern {name!r}",
                value=str(one.length),
                expected=f"at most {until - one.onset} quarters, until the next attack",
            )
