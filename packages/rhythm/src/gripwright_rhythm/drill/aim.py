"""What a pattern aims at: attacks placed in a chorus, each with the chord that it is for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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
    - Where they are not, an attack is for the chord at its place; a chord that would not be heard
      is attacked once, at the first place of the pattern counted from its own start.
    - A push is for the chord of the next beat. An approach takes the last beat of a chord of two
      beats or more, a double one the last two of three or more.

    Args:
        form: The chorus.
        pattern: The pattern; None plays what the chart prescribes, and nothing else.

    Returns:
        The attacks by time, no two at one time.

    Raises:
        ConditionError: The pattern is for another metre; says which bar.
    """
    if pattern is not None:
        _check_meter(form, pattern)
    found: dict[Fraction, Aim] = {}
    held: set[int] = set()
    for bar in form.bars:
        for aim in _bar_aims(form, bar, pattern):
            if 0 <= aim.span < len(form.spans) and form.spans[aim.span].held and not aim.approach:
                if aim.span in held:
                    continue
                held.add(aim.span)
            found.setdefault(aim.time, aim)
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
        for place, attack in _places(windows, window, plain, bar):
            target = _target(form, bar, window, place, attack)
            silent = target < len(form.spans) and form.spans[target].voicing is None
            again = form.spans[window.span].held and target == window.span
            if bar.zero + place not in taken and not silent and not again:
                push = target != window.span
                yield Aim(bar.zero + place, target, attrs.evolve(attack, push=push))


def _target(form: Form, bar: FormBar, window: _Window, place: Fraction, attack: Attack) -> int:
    """The chord that an attack is for: its own, or for a push that of the next beat."""
    if not attack.push:
        return window.span
    pulse = bar.meter.pulse
    return form.span_at(bar.zero + (floor(place / pulse) + 1) * pulse)


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
    windows: tuple[_Window, ...], window: _Window, attacks: Iterable[Attack], bar: FormBar
) -> Iterator[tuple[Fraction, Attack]]:
    """Where in a chord the attacks of its bar fall, in quarters from the bar's first beat."""
    size = window.length
    whole = size % bar.meter.pulse == 0 and not bar.lead_in
    if len(windows) > 1 and whole and all(other.length == size for other in windows):
        folded: dict[Fraction, Attack] = {}
        for attack in attacks:
            folded.setdefault(window.start + attack.onset % size, attack)
        if window.start and any(attack.push for attack in folded.values()):
            # The push before it sounds the chord already.
            folded.pop(window.start, None)
        yield from folded.items()
        return
    inside = [attack for attack in attacks if window.start <= attack.onset < window.end]
    for attack in inside:
        yield attack.onset, attack
    if window.opens and not inside:
        for attack in attacks:
            # The place reads from the start of the chord, and inside it.
            yield window.start + attack.onset % size, attrs.evolve(attack, push=False)
            return


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
