"""Transposition: charts in other keys."""

from __future__ import annotations

from typing import Final, TypeVar

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.theory.interval import Interval
from gripwright.tune.chart import Chart
from gripwright.tune.key import Key
from gripwright.tune.numeral import Numeral, bass_of
from gripwright.tune.section import Settings
from gripwright.tune.spelling import fewest_accidentals, spelled

S = TypeVar("S")

_INTERVALS: Final = (
    *(("P1", "d2"), ("m2", "A1"), ("M2", "d3"), ("m3", "A2"), ("M3", "d4"), ("P4", "A3")),
    *(("d5", "A4"), ("P5", "d6"), ("m6", "A5"), ("M6", "d7"), ("m7", "A6"), ("M7", "d8")),
)
"""Two spellings of each number of semitones, the usual one first."""


def transposed(chart: Chart[Chord], to: Interval | Key) -> Chart[Chord]:
    r"""A chart moved by an interval, or into a key.

    The keys of the chart and of its sections move too. Moved by an interval, a key takes the name
    that needs fewer accidentals, where both need six the one that the interval says. A chord is
    spelled for its new key: it keeps its degree, written as `Numeral.realise` writes it. Where
    the chart says no key, chords move by the interval exactly, and only roots and basses that
    would carry two accidentals or more are respelled.

    Args:
        chart: The chart.
        to: The interval, up or down, or the key to be in.

    Returns:
        The chart in its new keys. Back in its old key it is the same chart, where its chords were
        spelled as players write them.

    Raises:
        ConditionError: `to` is a key, and the chart says none or is in one of the other mode.

    Example:
        >>> chart = Chart.parse("key: C\n| Dm7 G7 | Cmaj7 A7 |")
        >>> print(transposed(chart, Interval.parse("m2")))
        key: Db
        | Ebm7 Ab7 | Dbmaj7 Bb7 |
        >>> transposed(transposed(chart, Key.parse("F#")), Key.parse("C")) == chart
        True
    """
    goal: Key | None
    if isinstance(to, Key):
        if chart.key is None:
            raise ConditionError(
                name="key", value=None, expected="a key in the chart, to move it into another"
            )
        interval, goal = in_key(chart.key, to), to
    else:
        interval = to
        goal = None if chart.key is None else _moved(chart.key, interval)
    old = chart.key

    def move(chord: Chord, key: Key | None) -> Chord:
        if key is None:
            return _shifted(chord, interval)
        new = goal if goal is not None and key == old else _moved(key, interval)
        return chord if new == key else Numeral.of(chord, key).realise(new)

    return moved_keys(chart.keyed(move), interval, to=goal)


def in_key(old: Key, new: Key) -> Interval:
    """The interval up from a key to another of its mode.

    Raises:
        ConditionError: One is major, the other minor.

    Example:
        >>> str(in_key(Key.parse("Dm"), Key.parse("Fm")))
        'm3'
    """
    if old.minor != new.minor:
        mode = "minor" if old.minor else "major"
        raise ConditionError(
            name="key", value=str(new), expected=f"a {mode} key, since the chart is in {old}"
        )
    return new.tonic - old.tonic


def moved_keys(chart: Chart[S], interval: Interval, *, to: Key | None = None) -> Chart[S]:
    r"""A chart with its keys moved and its symbols as they are.

    Args:
        chart: The chart.
        interval: What the keys move by.
        to: The new name of the chart's own key, and of sections that repeat it; None for the
            one with fewer accidentals.

    Example:
        >>> chart = Chart.parse("key: F\n[A]\nkey: Bb\n| C |")
        >>> moved_keys(chart, Interval.parse("M2")).sections[0].settings.key == Key.parse("C")
        True
    """
    home = chart.key

    def settle(settings: Settings) -> Settings:
        if settings.key is None:
            return settings
        new = to if to is not None and settings.key == home else _moved(settings.key, interval)
        return attrs.evolve(settings, key=new)

    return attrs.evolve(
        chart,
        settings=settle(chart.settings),
        sections=tuple(
            attrs.evolve(section, settings=settle(section.settings)) for section in chart.sections
        ),
    )


def interval_for(chart: Chart[Chord], semitones: int) -> Interval:
    r"""The spelled interval that moves a chart by semitones with few accidentals.

    In a chart with a key the new key decides: the one of fewer accidentals, of six flats and six
    sharps the kind that the old key has. Without a key the roots and basses of the chords do.

    Args:
        chart: The chart.
        semitones: Semitones up, or down where negative; octaves are left out.

    Example:
        >>> str(interval_for(Chart.parse("key: E\n| E7 |"), 1))
        'm2'
        >>> str(interval_for(Chart.parse("| F#m7 B7 |"), -1))
        '-A1'
    """
    sign = -1 if semitones < 0 else 1
    names = _INTERVALS[abs(semitones) % 12]
    intervals = [Interval.parse(name) for name in names]
    if sign < 0:
        intervals = [-interval for interval in intervals]
    key = chart.key
    if key is not None:
        tonic = key.tonic + intervals[0]
        new = fewest_accidentals(tonic, minor=key.minor, flats=key.fifths < 0)
        return next(
            (one for one in intervals if key.tonic + one == new.tonic),
            intervals[0],
        )
    notes = [
        note
        for bar in chart.bars
        for slot in bar.slots
        if slot.symbol is not None
        for note in (slot.symbol.root, slot.symbol.bass)
        if note is not None
    ]
    return min(
        intervals,
        key=lambda one: (
            sum(abs((note + one).alteration) > 1 for note in notes),
            sum(abs((note + one).alteration) for note in notes),
        ),
    )


def _moved(key: Key, interval: Interval) -> Key:
    if interval.steps % 7 == 0 and interval.semitones % 12 == 0:
        return key
    return fewest_accidentals(key.tonic + interval, minor=key.minor)


def _shifted(chord: Chord, interval: Interval) -> Chord:
    """A chord moved without a key; the bass goes along where the root is respelled."""
    raw = chord.root + interval
    moved = Chord(spelled(raw, None), chord.quality)
    if chord.bass is None:
        return moved
    bass = chord.bass + interval
    simple = moved.root == raw and abs(bass.alteration) <= 1
    return attrs.evolve(moved, bass=bass if simple else bass_of(moved, bass, None))
