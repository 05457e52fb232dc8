"""Sheets: a score in whole divisions, bar by bar, before it is laid out and written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import chain
from typing import Final

import attrs

from gripwright import Chord, ChordEvent, Meter, NoteEvent, Score, ScoreBar, Voicing
from gripwright.errors import ConditionError
from gripwright.tune.key import Key
from gripwright_rhythm.export.musicxml.symbol import Symbol, symbols_of
from gripwright_rhythm.export.musicxml.track import Head, Sound, Span, Voices, voices_of
from gripwright_rhythm.export.musicxml.written_time import (
    WrittenSpan,
    chord_spans,
    click_spans,
    divisions_of,
    span_of,
)

SWUNG_PULSES: Final = {Fraction(1): "eighth", Fraction(1, 2): "16th"}
"""The pulses whose halves MusicXML can swing, and what their halves are (swing-type-value)."""

_CLICK_DYNAMIC: Final = 80
_OCTAVES: Final = range(10)


@attrs.frozen
class BarSymbol:
    """A chord symbol in a bar.

    Args:
        place: Divisions from the start of the bar.
        chord: The chord; None for N.C.
        grip: The index of the grip drawn with it, or None.
    """

    place: int
    chord: Chord | None
    grip: int | None


@attrs.frozen
class SheetBar:
    """A bar. Two that are equal look alike.

    Args:
        meter: Its metre.
        length: Divisions in it.
        lead_in: Divisions of its metre before its start, where it is a pickup.
        key: Its key, or None.
        tempo_bpm: Pulses a minute.
        swing: How long the first half of a pulse is beside the second.
        section: The name of the section that starts here, or None.
        symbols: Its chord symbols.
        tracks: What each track does in it.
    """

    meter: Meter
    length: int
    lead_in: int
    key: Key | None
    tempo_bpm: Fraction
    swing: Fraction
    section: str | None
    symbols: tuple[BarSymbol, ...]
    tracks: tuple[Voices, ...]


@attrs.frozen
class Sheet:
    """A score as it is written.

    Args:
        divisions: Divisions in a quarter.
        grips: Every grip that is played, or drawn for the player to place.
        stacks: For each track the stacks of noteheads that sound in it; those of the chords are
            the grips'.
        first: The index of the first bar of the score that is written.
        bars: The bars from there on.
    """

    divisions: int
    grips: tuple[Voicing, ...]
    stacks: tuple[tuple[tuple[Head, ...], ...], ...]
    first: int
    bars: tuple[SheetBar, ...]


@attrs.frozen
class _Track:
    stacks: tuple[tuple[Head, ...], ...]
    spans: tuple[WrittenSpan, ...]
    sounds: tuple[Sound, ...]


def sheet_of(score: Score, *, frames: bool, count_in: bool, clicks: bool) -> Sheet:
    """Put a score in whole divisions.

    Args:
        score: The score.
        frames: Whether grips are drawn with the chord symbols.
        count_in: Whether the whole count-in is written; if not, only from the bar on in which
            something is played.
        clicks: Whether the clicks are written.

    Raises:
        ConditionError: What MusicXML cannot hold.
    """
    grips, numbers = _grips(score)
    free = _free(score, grips)
    tracks = [
        _chords(score, grips, numbers),
        _notes(score, score.bass),
        _notes(score, score.root),
        _clicks(score) if clicks else _Track((), (), ()),
    ]
    starts = [span.start for span in tracks[0].spans]
    symbols = list(symbols_of(score, starts, numbers, free, frames=frames))
    divisions = divisions_of(_times(score, tracks, symbols), max(bar.length for bar in score.bars))
    first = 0 if count_in else _first_played(score, tracks[:3])
    bars = score.bars[first:]
    edges = [(_ticks(bar.onset, divisions), _ticks(bar.end, divisions)) for bar in bars]
    laid = [voices_of(list(_spans(track, edges[0][0], divisions)), edges) for track in tracks]
    named = _symbols_in(symbols, edges, divisions)
    return Sheet(
        divisions=divisions,
        grips=tuple(grips),
        stacks=tuple(track.stacks for track in tracks),
        first=first,
        bars=tuple(
            _bar(score, bar, divisions, named[number], tuple(one[number] for one in laid))
            for number, bar in enumerate(bars)
        ),
    )


def _grips(score: Score) -> tuple[list[Voicing], list[int]]:
    """The grips that are played, and for each chord the index of its own."""
    by_identity: dict[int, int] = {}
    by_value: dict[Voicing, int] = {}
    numbers: list[int] = []
    for event in score.events:
        # Most are the same object: hashing a whole grip each time would take longest of all.
        number = by_identity.get(id(event.voicing))
        if number is None:
            number = by_value.setdefault(event.voicing, len(by_value))
            by_identity[id(event.voicing)] = number
        numbers.append(number)
    return list(by_value), numbers


def _free(score: Score, grips: list[Voicing]) -> list[int | None]:
    """For each chord of the chart the index of the grip that the player places, put in its list."""
    numbers = {grip: number for number, grip in enumerate(grips)}
    found: list[int | None] = []
    for change in score.changes:
        if change.voicing is None:
            found.append(None)
            continue
        number = numbers.setdefault(change.voicing, len(numbers))
        if number == len(grips):
            grips.append(change.voicing)
        found.append(number)
    return found


def _chords(score: Score, grips: Sequence[Voicing], numbers: Sequence[int]) -> _Track:
    spans = tuple(chord_spans(score))
    return _Track(tuple(map(_heads, grips)), spans, tuple(map(_sound, score.events, numbers)))


def _sound(event: ChordEvent, grip: int) -> Sound:
    return Sound(grip, event.dynamic, event.accent, event.short)


def _heads(grip: Voicing) -> tuple[Head, ...]:
    strings = [string for string, fret in enumerate(grip.frets) if fret >= 0]
    heads = tuple(
        Head(pitch, len(grip.frets) - string, grip.frets[string])
        for string, pitch in zip(strings, grip.pitches, strict=True)
    )
    return _in_range(heads)


def _in_range(heads: tuple[Head, ...]) -> tuple[Head, ...]:
    for head in heads:
        if head.pitch is not None and head.pitch.octave not in _OCTAVES:
            raise ConditionError(
                name="pitch", value=str(head.pitch), expected="octaves 0 to 9, as MusicXML has them"
            )
    return heads


def _notes(score: Score, notes: Sequence[NoteEvent]) -> _Track:
    stacks: dict[tuple[Head, ...], int] = {}
    sounds = []
    for note in notes:
        number = stacks.setdefault(_in_range((Head(note.pitch),)), len(stacks))
        sounds.append(Sound(number, note.dynamic))
    return _Track(tuple(stacks), tuple(span_of(score, note) for note in notes), tuple(sounds))


def _clicks(score: Score) -> _Track:
    sounds = tuple(Sound(0, _CLICK_DYNAMIC, click.accent) for click in score.clicks)
    return _Track(((Head(None),),), tuple(click_spans(score)), sounds)


def _times(score: Score, tracks: Sequence[_Track], symbols: Sequence[Symbol]) -> Iterator[Fraction]:
    for bar in score.bars:
        yield from (bar.onset, bar.length, bar.lead_in, Fraction(4, bar.meter.unit))
    for span in chain.from_iterable(track.spans for track in tracks):
        yield from (span.start, span.end, span.release)
    for symbol in symbols:
        yield symbol.time


def _ticks(time: Fraction, divisions: int) -> int:
    return time.numerator * (divisions // time.denominator)


def _first_played(score: Score, tracks: Sequence[_Track]) -> int:
    """The index of the first bar of the form, or of an earlier one in which something is played."""
    starts = [track.spans[0].start for track in tracks if track.spans]
    earliest = min([*starts, Fraction(0)])
    return next(number for number, bar in enumerate(score.bars) if bar.end > earliest)


def _spans(track: _Track, start: int, divisions: int) -> Iterator[Span]:
    for span, sound in zip(track.spans, track.sounds, strict=True):
        begin = _ticks(span.start, divisions)
        if begin >= start:
            release = _ticks(span.release, divisions)
            heard = attrs.evolve(sound, release=release) if release else sound
            yield Span(begin, _ticks(span.end, divisions), heard)


def _symbols_in(
    symbols: Sequence[Symbol], edges: Sequence[tuple[int, int]], divisions: int
) -> list[tuple[BarSymbol, ...]]:
    found: list[tuple[BarSymbol, ...]] = []
    places = [_ticks(symbol.time, divisions) for symbol in symbols]
    index = 0
    for start, end in edges:
        inside = []
        while index < len(symbols) and places[index] < end:
            if places[index] >= start:
                symbol = symbols[index]
                inside.append(BarSymbol(places[index] - start, symbol.chord, symbol.grip))
            index += 1
        found.append(tuple(inside))
    return found


def _bar(
    score: Score,
    bar: ScoreBar,
    divisions: int,
    symbols: tuple[BarSymbol, ...],
    tracks: tuple[Voices, ...],
) -> SheetBar:
    chorus = score.chorus_at(bar.onset)
    if chorus.swing != 1 and bar.meter.pulse not in SWUNG_PULSES:
        raise ConditionError(
            name="swing",
            value=str(chorus.swing),
            expected=f"1 in {bar.meter}: MusicXML swings eighths and sixteenths alone",
        )
    return SheetBar(
        meter=bar.meter,
        length=_ticks(bar.length, divisions),
        lead_in=_ticks(bar.lead_in, divisions),
        key=chorus.key,
        tempo_bpm=chorus.tempo_bpm,
        swing=chorus.swing,
        section=bar.section,
        symbols=symbols,
        tracks=tracks,
    )
