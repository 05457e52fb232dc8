"""Tracks: what each part of a score sounds, bar by bar, in whole divisions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import attrs

from gripwright import Pitch


@attrs.frozen
class Head:
    """A notehead.

    Args:
        pitch: The pitch; None where it has none, as a click.
        string: The string as players number it, 1 on the treble side; 0 for none.
        fret: The fret; 0 for the open string.
    """

    pitch: Pitch | None
    string: int = 0
    fret: int = 0


@attrs.frozen
class Sound:
    """How something sounds.

    Args:
        stack: The index of its noteheads among those of its track.
        dynamic: How loud, as a MIDI velocity.
        accent: Whether it has an accent.
        short: Whether it is cut on purpose.
        release: Divisions by which it ends before its notes do.
    """

    stack: int
    dynamic: int
    accent: bool = False
    short: bool = False
    release: int = 0


@attrs.frozen
class Span:
    """A sound from its start to its end, in divisions from the start of the form.

    Args:
        start: Its start as written.
        end: Its end as written.
        sound: What sounds.
    """

    start: int
    end: int
    sound: Sound


@attrs.frozen
class Segment:
    """What one voice does for a while in a bar.

    Args:
        start: Divisions from the start of the bar.
        end: Divisions from the start of the bar to its end.
        sound: What sounds; None for a rest.
        starts: Whether the sound starts here, and is not tied to one before.
        ends: Whether the sound ends here, and is not tied to one after.
    """

    start: int
    end: int
    sound: Sound | None = None
    starts: bool = True
    ends: bool = True


Voices = tuple[tuple[Segment, ...], ...]
"""The voices of a bar. The first fills it, others only where they sound: else they are empty."""


def voices_of(spans: Sequence[Span], bars: Sequence[tuple[int, int]]) -> list[Voices]:
    """Lay sounds out in bars, those that overlap in voices of their own.

    Args:
        spans: The sounds by their starts, from the first bar on.
        bars: The start and end of each bar.

    Returns:
        The voices of each bar.

    Example:
        >>> one = Sound(0, 80)
        >>> bar, following = voices_of([Span(2, 6, one)], [(0, 4), (4, 8)])
        >>> [(part.start, part.end, part.sound is None, part.ends) for part in bar[0]]
        [(0, 2, True, True), (2, 4, False, False)]
        >>> [(part.start, part.end, part.sound is None) for part in following[0]]
        [(0, 2, False), (2, 4, True)]
    """
    lines: list[list[Span]] = [[]]
    for span in spans:
        for line in lines:
            if not line or line[-1].end <= span.start:
                line.append(span)
                break
        else:
            lines.append([span])
    first, *others = [list(_in_bars(line, bars)) for line in lines]
    return [
        (segments, *_sounding([other[number] for other in others]))
        for number, segments in enumerate(first)
    ]


def _sounding(voices: Sequence[tuple[Segment, ...]]) -> Voices:
    """Voices without what none of them has to say, each in its place."""
    found = [voice if any(part.sound for part in voice) else () for voice in voices]
    while found and not found[-1]:
        found.pop()
    return tuple(found)


def _in_bars(
    line: Iterable[Span], bars: Iterable[tuple[int, int]]
) -> Iterator[tuple[Segment, ...]]:
    spans = iter(line)
    span = next(spans, None)
    for start, end in bars:
        segments: list[Segment] = []
        place = start
        while span is not None and span.start < end:
            begin, stop = max(span.start, start), min(span.end, end)
            if place < begin:
                segments.append(Segment(place - start, begin - start))
            segments.append(
                Segment(
                    begin - start, stop - start, span.sound, span.start >= start, stop == span.end
                )
            )
            place = stop
            if span.end > end:
                break
            span = next(spans, None)
        if place < end:
            segments.append(Segment(place - start, end - start))
        yield tuple(segments)
