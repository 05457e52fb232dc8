"""What a pattern aims at: attacks placed in a chorus, each with the chord that it is for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import floor

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Attack, RhythmPattern
from gripwright.meter.attack import Length
from gripwright_rhythm.drill.form import Form, FormBar


@attrs.frozen
class Aim:
    """An attack at its place in a chorus.

    Args:
        time: Quarters from the start of the chorus, as written.
        span: The index of the chord that it is for, or that it leads to; one past the last for
            what follows the chorus.
        attack: What the pattern says of it.
        grip: Which grip of its approach, counted from the last one, 0, backwards; 0 elsewhere.
        until: For an approach, where the chord that it leads to starts; else 0.
    """

    time: Fraction
    span: int
    attack: Attack
    grip: int = 0
    until: Fraction = Fraction(0)

    @property
    def push(self) -> bool:
        """Whether it anticipates its chord."""
        return self.attack.push

    @property
    def approach(self) -> bool:
        """Whether it leads to its chord."""
        return self.attack.approach is not None


@attrs.frozen
class _Window:
    """The part of a chord that lies in a bar, in quarters from the bar's first beat."""

    start: Fraction
    end: Fraction
    span: int
    opens: bool

    @property
    def length(self) -> Fraction:
        return self.end - self.start


def aims_of(form: Form, pattern: RhythmPattern | None) -> tuple[Aim, ...]:
    """Place a pattern in a chorus.

    - Hits that the chart prescribes are played as written, and a chord to be held once.
    - Where the chords of a bar are of equal whole beats, a place of the bar reads as the same
      place of each chord: with two half bars, 3 and 4 read as 1 and 2.
    - Where they are not, an attack is for the chord at its place.
    - A push is for the chord of the next beat; one to the end of the bar stands as far before the
      end of each chord, and of a bar of another length.
    - A chord that would not be heard is attacked once: at the first place of the pattern counted
      from its own start, in its own whole beats, or at its start where a push comes before.
    - An approach takes the last beat of a chord of two beats or more, a double one the last two
      of three or more.
    - Nothing is attacked in a break, and nothing is for a chord that starts in one.

    Args:
        form: The chorus.
        pattern: The pattern; None plays what the chart prescribes, and nothing else.

    Returns:
        The attacks by time, no two at one time; of those for a chord that is held, the first is
        the one to play.

    Raises:
        ConditionError: The pattern is for another metre; says which bar.
    """
    if pattern is not None:
        _check_meter(form, pattern)
    found: dict[Fraction, Aim] = {}
    for bar in form.bars:
        for aim in _bar_aims(form, bar, pattern):
            found.setdefault(aim.time, aim)
    if pattern is not None:
        for aim in tuple(_unheard(form, pattern, found)):
            found[aim.time] = aim
    return tuple(found[time] for time in sorted(found))


def _check_meter(form: Form, pattern: RhythmPattern) -> None:
    meter = pattern.meter
    if (meter.count, meter.unit) != (form.meter.count, form.meter.unit) or (
        meter.groups and form.meter.groups and meter.groups != form.meter.groups
    ):
        raise ConditionError(
            name="pattern",
            value=pattern.name,
            expected=f"a pattern in {form.meter}, the metre of the tune, not in {meter}",
        )
    for number, bar in enumerate(form.bars):
        if bar.meter.pulse != meter.pulse:
            raise ConditionError(
                name="pattern",
                value=pattern.name,
                expected=f"a pattern with the beats of {bar.meter}, the metre of bar {number + 1}",
            )


def _bar_aims(form: Form, bar: FormBar, pattern: RhythmPattern | None) -> Iterator[Aim]:
    if bar.hits is not None:
        for one in bar.hits:
            length: Length = "long" if one.hit.duration is None else one.hit.duration
            yield Aim(one.hit.onset, one.span, Attack(one.hit.onset, length, one.hit.push))
        return
    windows = tuple(_windows(form, bar))
    for window in windows:
        if window.opens and form.spans[window.span].held:
            yield Aim(bar.zero + window.start, window.span, Attack(Fraction(0)))
    if pattern is not None:
        yield from _pattern_aims(form, bar, windows, pattern)


def _pattern_aims(
    form: Form, bar: FormBar, windows: tuple[_Window, ...], pattern: RhythmPattern
) -> Iterator[Aim]:
    attacks = tuple(_attacks(pattern, bar.place))
    leading = [attack for attack in attacks if attack.approach is not None]
    taken = {aim.time: aim for aim in _approaches(form, bar, windows, leading, pattern)}
    yield from taken.values()
    plain = [attack for attack in attacks if attack.approach is None]
    for window in windows:
        for place, attack, aimed in _places(windows, window, plain, bar, pattern.meter.length):
            target = form.span_at(bar.zero + aimed) if attack.push else window.span
            silent = attack.push and form.rests_at(bar.zero + aimed)
            again = form.spans[window.span].held and target == window.span
            sounds = target == len(form.spans) or form.spans[target].voicing is not None
            if bar.zero + place not in taken and sounds and not silent and not again:
                push = target != window.span
                yield Aim(bar.zero + place, target, attrs.evolve(attack, push=push))


def _unheard(form: Form, pattern: RhythmPattern, found: Mapping[Fraction, Aim]) -> Iterator[Aim]:
    """An attack for each chord that none is for yet, where the rhythm is free."""
    heard = {aim.span for aim in found.values() if not aim.approach}
    if any(aim.push and aim.span == len(form.spans) for aim in found.values()):
        # What is pushed past the end is the first chord of the chorus after.
        heard.add(0)
    for bar in form.bars:
        attacks = [one for one in _attacks(pattern, bar.place) if one.approach is None]
        if bar.hits is not None or not attacks:
            continue
        for window in _windows(form, bar):
            if not window.opens or window.span in heard or form.spans[window.span].voicing is None:
                continue
            start, whole = bar.zero + window.start, window.length // bar.meter.pulse
            place = start + attacks[0].onset % (whole * bar.meter.pulse or window.length)
            # What stands in it already is for a chord that comes later.
            taken = min((time for time in found if start <= time), default=form.length)
            time = place if place < taken else start
            if time < taken:
                yield Aim(time, window.span, attrs.evolve(attacks[0], push=False))


def _next_beat(place: Fraction, pulse: Fraction) -> Fraction:
    return (floor(place / pulse) + 1) * pulse


def _windows(form: Form, bar: FormBar) -> Iterator[_Window]:
    for index in range(form.span_at(bar.onset), len(form.spans)):
        span = form.spans[index]
        if span.onset >= bar.end:
            return
        start, end = max(span.onset, bar.onset), min(span.end, bar.end)
        yield _Window(start - bar.zero, end - bar.zero, index, span.onset >= bar.onset)


def _attacks(pattern: RhythmPattern, place: int) -> Iterator[Attack]:
    """The attacks of a bar of the pattern, with onsets from its first beat."""
    start = (place % pattern.bars) * pattern.meter.length
    for attack in pattern.attacks:
        if 0 <= attack.onset - start < pattern.meter.length:
            yield attrs.evolve(attack, onset=attack.onset - start)


def _places(
    windows: tuple[_Window, ...],
    window: _Window,
    attacks: Sequence[Attack],
    bar: FormBar,
    length: Fraction,
) -> Iterator[tuple[Fraction, Attack, Fraction]]:
    """Where in a chord the attacks of its bar fall, and where what a push is for starts.

    Both in quarters from the bar's first beat; `length` is that of a bar of the pattern.
    """
    size, pulse = window.length, bar.meter.pulse
    whole = size % pulse == 0 and not bar.lead_in
    if len(windows) > 1 and whole and all(other.length == size for other in windows):
        folded: dict[Fraction, Attack] = {}
        for attack in attacks:
            folded.setdefault(window.start + attack.onset % size, attack)
        if window.start and any(
            attack.push and _next_beat(place, pulse) == window.end
            for place, attack in folded.items()
        ):
            # The push before it sounds the chord already.
            folded.pop(window.start, None)
        for place, attack in folded.items():
            yield place, attack, _next_beat(place, pulse)
        return
    leaving = [one for one in attacks if one.push and _next_beat(one.onset, pulse) == length]
    for attack in leaving:
        place = window.end - (length - attack.onset)
        if place >= window.start:
            yield place, attack, window.end
    for attack in attacks:
        if attack not in leaving and window.start <= attack.onset < window.end:
            # A push where a chord within a beat starts is for that chord: it would skip it.
            starts = window.opens and attack.onset == window.start
            own = attrs.evolve(attack, push=attack.push and not starts)
            yield attack.onset, own, _next_beat(attack.onset, pulse)


def _approaches(
    form: Form,
    bar: FormBar,
    windows: tuple[_Window, ...],
    leading: list[Attack],
    pattern: RhythmPattern,
) -> Iterator[Aim]:
    """The approaches of a bar, as far before the end of each chord as they stand in the bar."""
    if not leading:
        return
    for window in windows:
        span = form.spans[window.span]
        target = form.span_at(bar.zero + window.end)
        voiced = target == len(form.spans) or form.spans[target].voicing is not None
        voiced = voiced and not form.rests_at(bar.zero + window.end)
        if span.voicing is None or span.held or not voiced:
            continue
        pulses = window.length / bar.meter.pulse
        chosen = leading
        # A chord keeps its own first beat.
        while chosen and pulses < len(chosen) + 1:
            chosen = chosen[1:]
        for grip, attack in enumerate(reversed(chosen)):
            time = window.end - (pattern.meter.length - attack.onset)
            if time > window.start:
                yield Aim(bar.zero + time, target, attack, grip, bar.zero + window.end)
