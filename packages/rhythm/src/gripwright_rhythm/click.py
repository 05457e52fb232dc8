"""Clicks: which beats a metronome sounds."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final, Literal, get_args

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.meter import Meter
from gripwright.meter.pattern_text import number_text

ClickKind = Literal["all", "off", "after-count-in", "every-other", "backbeat", "beats", "on-off"]

_MOST_BARS: Final = 64
_WORDS: Final = tuple(kind for kind in get_args(ClickKind) if kind not in {"beats", "on-off"})
_ON_OFF: Final = re.compile(r"([1-9][0-9]?)-on-([1-9][0-9]?)-off")
_BEAT: Final = re.compile(r"[1-9][0-9]?(?:\.[0-9]{1,3}|/[1-9][0-9]{0,2})?")
_EXPECTED: Final = (
    f"{', '.join(_WORDS)}, beats such as '2 4' or '2.5 4.5', or bars such as 2-on-2-off"
)

# The usual groups of metres that are written without them (common practice).
_GROUPS: Final = {(4, 4): (2, 2), (3, 4): (3,), (5, 4): (3, 2), (7, 4): (4, 3)}


@attrs.frozen
class Click:
    """Which beats sound as clicks.

    - ``all``: every beat; ``off``: none, not even a count-in; ``after-count-in``: none once the
      count-in is over.
    - ``2 4``, ``1``, ``2.5 4.5``: these beats of every bar.
    - ``backbeat``: the second beat of each group of the metre: 2 and 4 of 4/4, 2 of 3/4, 2 and 5
      of 5/4, 2 and 6 of 7/4 (common practice).
    - ``every-other``: the first beat of every other bar.
    - ``2-on-2-off``: every beat for so many bars, then none for so many.

    Bars are counted from the start of each chorus.

    Args:
        kind: Which of these.
        beats: The beats, from 1, where it names them.
        on: Bars with clicks, where they drop out.
        off: Bars without.

    Raises:
        ConditionError: Beats or bars that do not go with the kind.

    Example:
        >>> click = Click.parse("2 4")
        >>> [str(beat) for beat in click.beats_in(Meter(4, 4), 0)], str(click)
        (['2', '4'], '2 4')
    """

    kind: ClickKind = attrs.field(default="all")
    beats: tuple[Fraction, ...] = attrs.field(default=())
    on: int = attrs.field(default=0)
    off: int = attrs.field(default=0)

    def __attrs_post_init__(self) -> None:
        if self.kind not in get_args(ClickKind):
            raise ConditionError(name="kind", value=self.kind, expected=_EXPECTED)
        rising = list(self.beats) == sorted(set(self.beats)) and min(self.beats, default=1) >= 1
        if (self.kind == "beats") != bool(self.beats) or not rising:
            raise ConditionError(
                name="beats",
                value=self.beats,
                expected="beats in order, from 1, where the kind is beats",
            )
        for name, bars in (("on", self.on), ("off", self.off)):
            fits = 1 <= bars <= _MOST_BARS if self.kind == "on-off" else bars == 0
            if isinstance(bars, bool) or not fits:
                raise ConditionError(
                    name=name, value=bars, expected=f"1 to {_MOST_BARS} bars, where clicks drop out"
                )

    @classmethod
    def parse(cls, text: str) -> Click:
        """Read a click from its text.

        Raises:
            NotationError: The text is none.

        Example:
            >>> Click.parse("2-on-2-off").on
            2
        """
        for word in _WORDS:
            if text == word:
                return cls(word)
        match = _ON_OFF.fullmatch(text)
        if match is not None and max(int(match[1]), int(match[2])) <= _MOST_BARS:
            return cls("on-off", (), int(match[1]), int(match[2]))
        beats: list[Fraction] = []
        for word in re.finditer(r"\S+", text):
            beat = _BEAT.fullmatch(word[0])
            fits = beat is not None and Fraction(word[0]) >= 1
            if not fits or (beats and Fraction(word[0]) <= beats[-1]):
                expected = "beats in order" if fits else _EXPECTED
                raise NotationError(
                    what="click", text=text, position=word.start(), expected=expected
                )
            beats.append(Fraction(word[0]))
        if not beats:
            raise NotationError(what="click", text=text, position=len(text), expected=_EXPECTED)
        return cls("beats", tuple(beats))

    def __str__(self) -> str:
        if self.kind == "on-off":
            return f"{self.on}-on-{self.off}-off"
        if self.kind == "beats":
            return " ".join(number_text(beat) for beat in self.beats)
        return self.kind

    @property
    def counts_in(self) -> bool:
        """Whether a count-in sounds before it."""
        return self.kind != "off"

    def beats_in(self, meter: Meter, bar: int) -> tuple[Fraction, ...]:
        """The beats that click in a bar.

        Args:
            meter: The metre of the bar.
            bar: The bar, counted from 0 at the start of the chorus.

        Raises:
            ConditionError: The metre has no such beat, or no groups that a backbeat goes with.

        Example:
            >>> Click.parse("every-other").beats_in(Meter(3, 4), 1)
            ()
            >>> Click.parse("backbeat").beats_in(Meter(5, 4), 0)
            (Fraction(2, 1), Fraction(5, 1))
        """
        every = tuple(Fraction(beat) for beat in range(1, meter.pulses + 1))
        if self.kind == "all":
            return every
        if self.kind == "beats":
            return self._named(meter)
        if self.kind == "backbeat":
            return _backbeats(meter)
        if self.kind == "every-other":
            return () if bar % 2 else every[:1]
        if self.kind == "on-off":
            return every if bar % (self.on + self.off) < self.on else ()
        return ()

    def words(self) -> str:
        """What clicks, for a reader.

        Example:
            >>> Click.parse("2 4").words(), Click.parse("4-on-4-off").words()
            ('on 2 and 4', 'on all beats for 4 bars, then silent for 4')
        """
        if self.kind == "beats":
            names = [number_text(beat) for beat in self.beats]
            return f"on {' and '.join([', '.join(names[:-1])] * (len(names) > 1) + names[-1:])}"
        if self.kind == "on-off":
            return f"on all beats for {_bars(self.on)}, then silent for {self.off}"
        return {
            "all": "on all beats",
            "off": "none",
            "after-count-in": "silent after the count-in",
            "every-other": "on 1 of every other bar",
            "backbeat": "on the backbeat",
        }[self.kind]

    def _named(self, meter: Meter) -> tuple[Fraction, ...]:
        past = [beat for beat in self.beats if beat >= meter.pulses + 1]
        if past:
            raise ConditionError(
                name="click",
                value=str(self),
                expected=f"beats of {meter}, from 1 to below {meter.pulses + 1}",
            )
        return self.beats


def _bars(number: int) -> str:
    return "1 bar" if number == 1 else f"{number} bars"


def _backbeats(meter: Meter) -> tuple[Fraction, ...]:
    groups = meter.groups or _GROUPS.get((meter.count, meter.unit))
    if groups is None or min(groups) < 2:  # noqa: PLR2004 - a group with a second beat
        known = ", ".join(f"{count}/{unit}" for count, unit in _GROUPS)
        raise ConditionError(
            name="click",
            value="backbeat",
            expected=f"another click in {meter}: a backbeat is for {known} or written groups",
        )
    starts = [sum(groups[:place]) for place in range(len(groups))]
    return tuple(Fraction(start + 2) for start in starts)
