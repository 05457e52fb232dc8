"""Rungs of the ladder, and the drills that each yields in a metre."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from typing import Final, Literal

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter, RhythmPattern
from gripwright.meter.pattern import MOST_BARS
from gripwright_rhythm.click import Click
from gripwright_rhythm.families.usual import families
from gripwright_rhythm.ladder.bar_words import places_named, sayings_in, texts_in
from gripwright_rhythm.place import group_beats

Lengths = Literal["long", "short", "alternating"]
"""How the chords of a drill end; alternating ones are long in one bar and short in the next."""

_SAID: Final[dict[Lengths, str]] = {
    "long": ", long",
    "short": ", short",
    "alternating": ", long and short by turns",
}


@attrs.frozen
class Part:
    """One drill of a rung.

    Args:
        pattern: What is played; None where the player chooses.
        click: What clicks.
        sentence: What the player does, in one sentence.

    Example:
        >>> from gripwright_rhythm.ladder import rung
        >>> part = rung(2).part(1, Meter(4, 4))
        >>> print(part.pattern, "/", part.click.words())
        1' / on all beats
    """

    pattern: RhythmPattern | None
    click: Click
    sentence: str

    @property
    def rhythm(self) -> str:
        """The sentence without the click, for a player who chooses another.

        Example:
            >>> from gripwright_rhythm.ladder import rung
            >>> rung(34).part(2, Meter(4, 4)).rhythm
            'Your own rhythm.'
        """
        return f"{self.sentence.removesuffix(f'; click {self.click.words()}.')}."


@attrs.frozen
class Drill:
    """What a rung has played, in the words of any metre.

    Without text and family it is the player's choice.

    Args:
        says: What the player does, with places in braces; empty where the pattern says it.
        text: The text of a pattern, with places in braces; or empty.
        family: The name of one of our families, whose patterns are played in order; or empty.
        pattern: The one pattern of the family that is played; empty for all.

    Example:
        >>> from gripwright_rhythm.ladder import rung
        >>> rung(2).drills[0].says
        'Beat 1, short'
    """

    says: str = ""
    text: str = ""
    family: str = ""
    pattern: str = ""


@attrs.frozen
class Rung:
    """A rung of the ladder.

    Args:
        number: Its number, from 1.
        sentence: What it is for, in one sentence.
        drills: What is played.
        lengths: The lengths with which each drill is played; empty where it says them itself.
        clicks: The clicks with which each is played: those of `Click`, ``last`` for the last beat,
            ``backbeats`` for the second beat of each group.
        repeats: The rungs that it has played again, with its own clicks.

    Example:
        >>> from gripwright_rhythm.ladder import rung
        >>> beat_two = rung(12)
        >>> for part in beat_two.parts(Meter(4, 4))[1::3]:
        ...     print(part.pattern, "/", part.click, "/", part.sentence)
        2' / all / Beat 2, short; click on all beats.
        2' / 2 4 / Beat 2, short; click on 2 and 4.
        >>> beat_two.fits(Meter(1, 4))
        False
    """

    number: int
    sentence: str
    drills: tuple[Drill, ...] = ()
    lengths: tuple[Lengths, ...] = ()
    clicks: tuple[str, ...] = ("all",)
    repeats: tuple[Rung, ...] = ()

    def fits(self, meter: Meter) -> bool:
        """Whether it makes sense in a metre."""
        try:
            self.parts(meter)
        except ConditionError:
            return False
        return True

    def parts(self, meter: Meter, *, seed: int = 0) -> tuple[Part, ...]:
        """Its drills in a metre, in order.

        Each drill is played with each length, first with the one click and then with the next.

        Args:
            meter: The metre.
            seed: Chooses where it is random.

        Returns:
            One or more.

        Raises:
            ConditionError: It makes no sense in the metre; names the rung, and says which metres
                it is for.
        """
        try:
            clicks = tuple(self._clicks(meter))
            played = list(self._played(meter, seed))
        except ConditionError as error:
            raise ConditionError(
                name=f"metre of rung {self.number}", value=str(meter), expected=error.expected
            ) from None
        return tuple(
            Part(pattern, click, f"{said}; click {click.words()}.")
            for click, (said, pattern) in product(clicks, self._named(played))
        )

    def part(self, number: int, meter: Meter, *, seed: int = 0) -> Part:
        """One of its drills.

        Args:
            number: Which of `parts`, from 1.
            meter: The metre.
            seed: Chooses where it is random.

        Raises:
            ConditionError: It has no such drill, or makes no sense in the metre.

        Example:
            >>> from gripwright_rhythm.ladder import rung
            >>> rung(31).part(2, Meter(3, 4)).click.off
            4
        """
        parts = self.parts(meter, seed=seed)
        if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= len(parts):
            raise ConditionError(
                name=f"part of rung {self.number}",
                value=number,
                expected=f"1 to {len(parts)} in {meter}",
            )
        return parts[number - 1]

    def _clicks(self, meter: Meter) -> Iterator[Click]:
        for text in self.clicks:
            if text == "last":
                ((last,),) = places_named("last", meter)
                yield Click("beats", (last.beat,))
            elif text != "backbeats":
                yield Click.parse(text)
            elif group_beats(meter, 2):
                yield Click.parse(" ".join(map(str, group_beats(meter, 2))))
            elif self.clicks == ("backbeats",):
                raise ConditionError(
                    name="metre",
                    value=str(meter),
                    expected="a metre with backbeats, such as 4/4, 3/4 or 3+2/4",
                )

    def _played(self, meter: Meter, seed: int) -> Iterator[tuple[str, RhythmPattern | None]]:
        for other in self.repeats:
            yield from other._played(meter, seed)  # noqa: SLF001 - its own class
        for drill in self.drills:
            for said, pattern in _plain(drill, meter, seed):
                if pattern is None or not self.lengths:
                    yield said, pattern
                    continue
                for lengths in self.lengths:
                    yield f"{said}{_SAID[lengths]}", _lasting(pattern, lengths)

    def _named(
        self, played: Iterable[tuple[str, RhythmPattern | None]]
    ) -> Iterator[tuple[str, RhythmPattern | None]]:
        """Name each pattern by the rung and its place in it, the same with every click."""
        for place, (said, pattern) in enumerate(played, 1):
            if pattern is None:
                yield said, None
            else:
                name = f"rung-{self.number}-{place}"
                yield said, attrs.evolve(pattern, name=name, summary=f"{said}.")


def _plain(drill: Drill, meter: Meter, seed: int) -> Iterator[tuple[str, RhythmPattern | None]]:
    """A drill in a metre, before its lengths: what is said and what is played."""
    if drill.text:
        texts, said = texts_in(drill.text, meter), sayings_in(drill.says, meter)
        for text, words in zip(texts, said, strict=True):
            yield words, RhythmPattern.parse(text, meter)
    elif drill.family:
        (family,) = (family for family in families() if family.name == drill.family)
        for pattern in family.patterns(meter, seed=seed):
            if drill.pattern in {pattern.name, ""}:
                yield drill.says or pattern.summary.rstrip("."), pattern
    else:
        yield drill.says, None


def _lasting(pattern: RhythmPattern, lengths: Lengths) -> RhythmPattern:
    """The pattern with such lengths; alternating ones go on where it starts again, if they can."""
    if lengths != "alternating":
        return pattern.with_length(lengths)
    again = pattern.bars % 2 == 1 and 2 * pattern.bars <= MOST_BARS
    whole = pattern.then(pattern) if again else pattern
    bar = pattern.meter.length
    return attrs.evolve(
        whole,
        attacks=[
            attrs.evolve(attack, length="short" if attack.onset // bar % 2 else "long")
            for attack in whole.attacks
        ],
    )
