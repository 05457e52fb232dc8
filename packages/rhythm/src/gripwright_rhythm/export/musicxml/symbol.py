"""Chord symbols: which chord is named where, and which grip is drawn with it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction

import attrs

from gripwright import Chord, Score


@attrs.frozen
class Symbol:
    """A chord symbol.

    Args:
        time: Quarters from the start of the form, as written.
        chord: The chord; None for N.C.
        grip: The index of the grip drawn with it; None where none is.
    """

    time: Fraction
    chord: Chord | None
    grip: int | None = None


def symbols_of(
    score: Score,
    starts: Sequence[Fraction],
    grips: Sequence[int],
    free: Sequence[int | None],
    *,
    frames: bool,
) -> Iterator[Symbol]:
    """The chord symbols of a score, in order.

    Each chord of the chart has one where it starts. Inside it one stands where what is played is
    another chord, as an approach is, or another grip. An anticipation has none: its chord is
    named where it is due. A grip is drawn where it differs from the one before in its chorus.

    Args:
        score: The score.
        starts: Where each of its chords is attacked, as written.
        grips: The index of its grip.
        free: For each chord of the chart the index of its grip where the player places it himself;
            else None.
        frames: Whether grips are drawn.
    """
    dues = [score.written(change.onset) for change in score.changes]
    pushed = _pushed(score, starts, dues)
    edges = [*dues, score.end]
    namer = _Namer(score, starts, grips, frames)
    yield from namer.before(edges[0])
    chorus = None
    for number, change in enumerate(score.changes):
        if score.chorus_at(change.onset) is not chorus:
            chorus = score.chorus_at(change.onset)
            namer.forget()
        inside = range(bisect_left(starts, edges[number]), bisect_left(starts, edges[number + 1]))
        first = pushed.get(number)
        yield from namer.change(edges[number], change.chord, first, inside, free[number])


def _pushed(score: Score, starts: Sequence[Fraction], dues: Sequence[Fraction]) -> dict[int, int]:
    """The event that anticipates each change, where one does."""
    found: dict[int, int] = {}
    for index, event in enumerate(score.events):
        if event.push:
            found[bisect_right(dues, starts[index])] = index
    return found


@attrs.define
class _Namer:
    score: Score
    starts: Sequence[Fraction]
    grips: Sequence[int]
    frames: bool
    chord: Chord | None = None
    grip: int | None = None

    def forget(self) -> None:
        """Start a chorus, which names and draws everything anew."""
        self.chord = self.grip = None

    def before(self, end: Fraction) -> Iterator[Symbol]:
        """Symbols of what is played before the first chord of the chart."""
        yield from self._played(range(bisect_left(self.starts, end)))

    def change(
        self,
        time: Fraction,
        chord: Chord | None,
        pushed: int | None,
        inside: range,
        free: int | None,
    ) -> Iterator[Symbol]:
        """Symbols from a change of chord to the next."""
        played = [index for index in inside if not self.score.events[index].push]
        first = pushed if pushed is not None else (played[0] if played else None)
        self.chord, drawn = chord, None
        if first is not None and self.score.events[first].chord == chord:
            drawn = self._drawn(self.grips[first])
        elif free is not None:
            drawn = self._drawn(free)
        yield Symbol(time, chord, drawn)
        yield from self._played(played)

    def _played(self, indices: Sequence[int] | range) -> Iterator[Symbol]:
        for index in indices:
            event = self.score.events[index]
            if event.push:
                continue
            drawn = self._drawn(self.grips[index])
            if drawn is not None or event.chord != self.chord:
                self.chord = event.chord
                yield Symbol(self.starts[index], event.chord, drawn)

    def _drawn(self, grip: int) -> int | None:
        if not self.frames or grip == self.grip:
            return None
        self.grip = grip
        return grip
