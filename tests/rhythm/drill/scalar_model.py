"""A second reading of the definitions of time, tick by tick, for the drill to be compared with.

It knows nothing of the sources but the chords, the metres and the names of the marks. A tune is a
list of bars; every quarter has so many ticks; each tick of the score knows its bar and its chord.
One walk over the ticks asks "is something attacked here, and for which chord?", another lets each
attack sound from tick to tick until something stops it.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

from gripwright.leading import approaches
from gripwright.meter import Attack, Meter, RhythmPattern
from gripwright.meter.attack import Length
from gripwright.theory import Chord
from tests.rhythm.drill.lines import grip

TICKS: Final = 24
"""Ticks in a quarter: halves, thirds, quarters and eighths of it are whole."""


@attrs.frozen
class TuneHit:
    """A hit: ticks from the first beat of its bar, how long (None for long), and its push."""

    place: int
    length: int | None
    push: bool


@attrs.frozen
class TuneBar:
    """A bar: its metre, its chords by tick from its first beat, and its hits; None leaves it free.

    A chord is its symbol, or None for N.C., and whether it is held.
    """

    meter: Meter
    chords: tuple[tuple[int, str | None, bool], ...]
    hits: tuple[TuneHit, ...] | None = None


@attrs.frozen
class Tune:
    """Bars, and the ticks of a pickup: of the first bar, where it is not a whole one."""

    meter: Meter
    bars: tuple[TuneBar, ...]
    pickup: int = 0


@attrs.frozen
class Heard:
    """What the model hears."""

    onset: Fraction
    end: Fraction
    chord: str
    push: bool
    approach: bool
    short: bool


@attrs.define
class _Bar:
    start: int
    end: int
    zero: int
    meter: Meter
    place: int
    free: bool
    hits: tuple[TuneHit, ...]
    rests: bool


@attrs.define
class _Span:
    start: int
    end: int
    symbol: str | None
    held: bool
    chorus: int


@attrs.define
class _Struck:
    time: int
    span: int
    attack: Attack
    push: bool
    grip: int = -1
    until: int = 0


def heard(
    tune: Tune,
    pattern: RhythmPattern | None,
    *,
    choruses: int,
    count_in: int,
    ending: str | None,
    staccato: Fraction = Fraction(1),
    ring_over: bool = False,
) -> list[Heard]:
    """Return what sounds.

    Args:
        tune: The tune.
        pattern: The rhythm, the same in every chorus.
        choruses: How often.
        count_in: Bars of it.
        ending: The chord of the ending bar, None where there is none.
        staccato: The part of its length that a short chord sounds.
        ring_over: Whether long chords ring through changes.
    """
    model = _Model(tune, pattern, choruses, ending)
    model.strike(count_in)
    return model.sound(staccato, ring_over=ring_over)


class _Model:
    def __init__(
        self, tune: Tune, pattern: RhythmPattern | None, choruses: int, ending: str | None
    ) -> None:
        self.tune = tune
        self.pattern = pattern
        self.bars: list[_Bar] = []
        self.spans: list[_Span] = []
        self.struck: dict[int, _Struck] = {}
        self.starts: list[int] = []
        time = 0
        for chorus in range(choruses):
            self.starts.append(time)
            time = self._lay_out(time, chorus, first=chorus == 0)
        self.form_end = time
        if ending is not None:
            full = ticks(tune.meter.length)
            self.bars.append(
                _Bar(time, time + full, time, tune.meter, 0, free=True, hits=(), rests=False)
            )
            self.spans.append(_Span(time, time + full, ending, held=True, chorus=choruses))
            self.starts.append(time)
            self.struck[time] = _Struck(time, len(self.spans) - 1, Attack(Fraction(0)), push=False)
        self.end = self.bars[-1].end

    def _lay_out(self, time: int, chorus: int, *, first: bool) -> int:
        tune = self.tune
        whole = ticks(tune.meter.length)
        last = ticks(tune.bars[-1].meter.length)
        with_pickup = bool(tune.pickup) and (first or last + tune.pickup == whole)
        opened = len(self.spans)
        carried: tuple[str | None, bool] | None = None
        for number, bar in enumerate(tune.bars):
            is_pickup = number == 0 and bool(tune.pickup)
            length = ticks(bar.meter.length)
            late = length - tune.pickup if is_pickup else 0
            if is_pickup and not with_pickup:
                carried = bar.chords[-1][1:]
                continue
            zero = time - late
            self.bars.append(
                _Bar(
                    time,
                    zero + length,
                    zero,
                    bar.meter,
                    number - bool(tune.pickup),
                    free=bar.hits is None,
                    hits=bar.hits or (),
                    rests=bar.hits == (),
                )
            )
            if len(self.spans) == opened and (not bar.chords or bar.chords[0][0]):
                # What the pickup left sounding goes on.
                assert carried is not None
                self.spans.append(_Span(time, time, *carried, chorus))
            for place, symbol, held in bar.chords:
                self.spans.append(_Span(zero + late + place, 0, symbol, held, chorus))
            time = zero + length
        for one, other in zip(self.spans[opened:], self.spans[opened + 1 :], strict=False):
            one.end = other.start
        self.spans[-1].end = time
        return time

    # Attacks.

    def strike(self, count_in: int) -> None:
        """Find every attack of the score."""
        for bar in self.bars:
            for hit in bar.hits:
                self._hit(bar, hit)
            if bar.free and bar.start < self.form_end:
                self._strike_bar(bar)
        for number in range(len(self.starts)):
            if self.starts[number] < self.form_end:
                self._sound_the_rest(number, count_in)
        self._drop_what_nothing_follows()
        self._hold_once()

    def _hit(self, bar: _Bar, hit: TuneHit) -> None:
        time = bar.start + hit.place
        span = self._span_at(time) + hit.push
        out = span == len(self.spans) or self.spans[span].chorus != self.spans[span - 1].chorus
        # Out of the last bar, the chart has its own first chord next.
        if self.spans[0 if hit.push and out else span].symbol is None:
            return
        length: Length = "long" if hit.length is None else Fraction(hit.length, TICKS)
        self._add(_Struck(time, span, Attack(Fraction(0), length, push=hit.push), hit.push))

    def _add(self, one: _Struck) -> None:
        self.struck.setdefault(one.time, one)

    def _span_at(self, time: int) -> int:
        return sum(span.end <= time for span in self.spans)

    def bar_at(self, time: int) -> _Bar:
        """The bar at a tick."""
        return next(bar for bar in self.bars if bar.start <= time < bar.end)

    def _silent(self, time: int) -> bool:
        """Whether a chorus has no chord at a tick: N.C. or a break."""
        if time in self.starts or time >= self.form_end:
            return False
        return self.spans[self._span_at(time)].symbol is None or self.bar_at(time).rests

    def _attacks(self, bar: _Bar) -> list[Attack]:
        if self.pattern is None:
            return []
        start = (bar.place % self.pattern.bars) * self.pattern.meter.length
        return [
            attrs.evolve(attack, onset=attack.onset - start)
            for attack in self.pattern.attacks
            if start <= attack.onset < start + self.pattern.meter.length
        ]

    def _windows(self, bar: _Bar) -> list[tuple[int, int, int]]:
        """Each chord in a bar: its number, and its part of the bar."""
        return [
            (number, max(span.start, bar.start), min(span.end, bar.end))
            for number, span in enumerate(self.spans)
            if span.start < bar.end and bar.start < span.end
        ]

    def _strike_bar(self, bar: _Bar) -> None:
        windows = self._windows(bar)
        attacks = self._attacks(bar)
        pulse = ticks(bar.meter.pulse)
        sizes = {end - start for _, start, end in windows}
        shared = (
            len(windows) > 1
            and len(sizes) == 1
            and not min(sizes) % pulse
            and bar.zero == bar.start
        )
        full = ticks(self.pattern.meter.length) if self.pattern else 0
        for number, start, end in windows:
            if self.spans[number].held:
                if self.spans[number].start == start:
                    self._add(_Struck(start, number, Attack(Fraction(0)), push=False))
            else:
                self._approach(number, start, end, full, pulse, attacks)
            for time in range(start, end):
                plain = [one for one in attacks if one.approach is None]
                if shared:
                    # Of two places that read as one, the first is meant.
                    size = end - start
                    plain = [one for one in plain if ticks(one.onset) % size == time - start][:1]
                else:
                    # A push out of the bar goes before what stands at its place.
                    plain.sort(key=lambda one: not self._leaves(one, pulse))
                for attack in plain:
                    self._try(bar, (number, start, end), time, attack, shared=shared)

    def _approach(  # noqa: PLR0917 - it is called once
        self, number: int, start: int, end: int, full: int, pulse: int, attacks: list[Attack]
    ) -> None:
        leading = [attack for attack in attacks if attack.approach is not None]
        if self.spans[number].symbol is None or self._silent(end):
            return
        room = Fraction(end - start, pulse)
        while leading and len(leading) + 1 > room:
            del leading[0]
        for place, attack in enumerate(reversed(leading)):
            time = end - (full - ticks(attack.onset))
            if time > start:
                self._add(
                    _Struck(time, self._span_at(end), attack, push=False, grip=place, until=end)
                )

    def _leaves(self, attack: Attack, pulse: int) -> bool:
        assert self.pattern is not None
        full = ticks(self.pattern.meter.length)
        return attack.push and (ticks(attack.onset) // pulse + 1) * pulse == full

    def _try(
        self, bar: _Bar, window: tuple[int, int, int], time: int, attack: Attack, *, shared: bool
    ) -> None:
        """Strike an attack of the pattern at a tick, where it belongs there."""
        number, start, end = window
        pulse = ticks(bar.meter.pulse)
        place = ticks(attack.onset)
        full = ticks(self.pattern.meter.length) if self.pattern else 0
        beat = bar.zero + ((time - bar.zero) // pulse + 1) * pulse
        if shared:
            here = time - start == place % (end - start)
        elif self._leaves(attack, pulse):
            here, beat = time == end - (full - place), end
        else:
            here = time - bar.zero == place
        if not here:
            return
        aim = number
        opens = time == start == self.spans[number].start
        if attack.push and (shared or self._leaves(attack, pulse) or not opens):
            if self._silent(beat):
                return
            aim = self._span_at(beat)
        if aim == number and (self.spans[number].symbol is None or self.spans[number].held):
            return
        if shared and time == start and start > bar.start and self._pushed_into(start, bar):
            return
        self._add(_Struck(time, aim, attack, push=aim != number))

    def _pushed_into(self, start: int, bar: _Bar) -> bool:
        """Whether the pattern of a shared bar has a push in the beat before a chord in it."""
        pulse = ticks(bar.meter.pulse)
        size = min(end - begin for _, begin, end in self._windows(bar))
        seen: set[int] = set()
        for attack in self._attacks(bar):
            place = ticks(attack.onset) % size
            if attack.approach is None and place not in seen:
                seen.add(place)
                if attack.push and place >= size - pulse:
                    return True
        return start < 0

    # Chords that nothing is for.

    def _sound_the_rest(self, number: int, count_in: int) -> None:
        begin = self.starts[number]
        stop = self.starts[number + 1] if number + 1 < len(self.starts) else self.form_end
        numbers = [index for index, span in enumerate(self.spans) if begin <= span.start < stop]
        told = [one for time, one in sorted(self.struck.items()) if begin <= time < stop]
        for_them = {one.span for one in told if one.grip < 0}
        out = [one for one in told if one.push and one.grip < 0 and one.span == numbers[-1] + 1]
        before = [
            one
            for one in self.struck.values()
            if one.time < begin and one.push and one.span == numbers[0]
        ]
        for index in numbers:
            if index in for_them or (index == numbers[0] and (out or before)):
                continue
            self._once(index)
        if numbers[0] not in for_them and out and not before:
            self._open(number, numbers[0], stop - begin, out, count_in)

    def _once(self, index: int) -> None:
        span = self.spans[index]
        bar = self.bar_at(span.start)
        plain = [one for one in self._attacks(bar) if one.approach is None]
        if not bar.free or not plain or span.symbol is None:
            return
        pulse = ticks(bar.meter.pulse)
        size = min(span.end, bar.end) - span.start
        beats = size // pulse * pulse
        place = span.start + ticks(plain[0].onset) % (beats or size)
        later = [time for time in self.struck if time >= span.start]
        for time in (place, span.start):
            if all(time < other for other in later):
                self.struck[time] = _Struck(time, index, plain[0], push=False)
                return

    def _open(
        self, number: int, index: int, length: int, out: list[_Struck], count_in: int
    ) -> None:
        bar = self.bar_at(self.starts[number])
        counted = count_in * ticks(self.tune.meter.length)
        first = number == 0 and not self.tune.pickup
        if first and out[0].time - length >= -counted:
            if not bar.rests and self.spans[index].symbol is not None:
                for one in out:
                    time = one.time - length
                    self.struck[time] = _Struck(time, index, one.attack, push=True)
        elif bar.free and self.spans[index].symbol is not None:
            start = self.spans[index].start
            self.struck.setdefault(start, _Struck(start, index, out[0].attack, push=False))

    def _hold_once(self) -> None:
        known: set[int] = set()
        for time, one in sorted(self.struck.items()):
            if one.grip >= 0 or not self.spans[one.span].held:
                continue
            if one.span in known:
                del self.struck[time]
            known.add(one.span)

    def _drop_what_nothing_follows(self) -> None:
        for time, one in list(self.struck.items()):
            span = self.spans[one.span] if one.span < len(self.spans) else None
            crossed = span is not None and span.start in self.starts and time < span.start
            rests = span is not None and crossed and self.bar_at(span.start).rests
            if span is None or span.symbol is None or rests:
                del self.struck[time]

    # Sound.

    def sound(self, staccato: Fraction, *, ring_over: bool) -> list[Heard]:
        """Let each attack sound, tick by tick."""
        found = []
        for time, one in sorted(self.struck.items()):
            symbols = self._symbol(one)
            if symbols is not None:
                found.append((time, one, symbols))
        onsets = {time for time, _, _ in found}
        sounds = []
        for time, one, symbol in found:
            end, short = self._end(time, one, onsets, ring_over=ring_over)
            span = Fraction(end - time, TICKS)
            if short and self._length(one) == "short":
                span *= staccato
            start = Fraction(time, TICKS)
            sounds.append(Heard(start, start + span, symbol, one.push, one.grip >= 0, short))
        return sounds

    def _symbol(self, one: _Struck) -> str | None:
        symbol = self.spans[one.span].symbol
        assert symbol is not None
        chord = Chord.parse(symbol)
        if one.grip < 0:
            return str(chord)
        role = one.attack.approach
        assert role is not None
        found = approaches(grip(chord), role)
        if not found:
            return None
        grips = found[0].grips
        return str(grips[max(len(grips) - 1 - one.grip, 0)].chord)

    def _length(self, one: _Struck) -> Length:
        held = one.grip < 0 and self.spans[one.span].held
        return "long" if held else one.attack.length

    def _end(
        self, start: int, one: _Struck, onsets: set[int], *, ring_over: bool
    ) -> tuple[int, bool]:
        length = self._length(one)
        span = self.spans[one.span]
        over = one.attack.ring_over
        bar = self.bar_at(start) if start >= 0 else self.bars[0]
        pulse = ticks(bar.meter.pulse)
        stop = one.until if one.grip >= 0 else span.end
        exactly = ticks(length) if isinstance(length, Fraction) else None
        time = start
        while True:
            time += 1
            if time >= self.end or self._starts_silence(time):
                return time, length == "short"
            if exactly is not None and over:
                if time == start + exactly:
                    return time, False
                continue
            if time in onsets or (time == stop and not ring_over and not over):
                return time, length == "short"
            if exactly is not None and time == start + exactly:
                return time, True
            if length == "short" and (time - bar.zero) % pulse == 0:
                return time, True

    def _starts_silence(self, time: int) -> bool:
        if any(span.start == time and span.symbol is None for span in self.spans):
            return True
        return any(bar.start == time and bar.rests for bar in self.bars)


def ticks(quarters: Fraction) -> int:
    """Return quarters as ticks, of which there is a whole number."""
    number = quarters * TICKS
    assert number.denominator == 1
    return number.numerator
