"""Time strips: each chord as a bar from its exact start to its exact end, over beats and clicks.

A strip is a straight line of time: as far as a chord sounds, so long is its bar. A long chord is
light with a heavy edge where it is attacked, a short one is solid, an approach is hatched; below,
beats have tall ticks and numbers and the halves between them (thirds where the beat has three)
small ticks, where they sound; a beat or half that clicks stands on a disc.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

import attrs

from gripwright import diagram

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.meter import Meter
    from gripwright_rhythm.export.sheet.colours import Colours

Kind = Literal["long", "short", "approach"]

AXIS: Final = 10.6
"""Height of what stands under the bars: ticks, numbers and clicks, in points."""

TAGS: Final = 7.4
"""Height of what stands over the bars."""

TAG_SIZE: Final = 7.0

_OUTLINE: Final = 0.8
_ATTACK: Final = 3.0
_SPLIT: Final = 0.7
STANDS_OUT: Final = 3.0
"""How far the edge of an attack stands out above the bars, in points."""

_BEAT_TICK: Final = 3.6
_PART_TICK: Final = 2.0
_CLICK: Final = 3.5
_ACCENT: Final = 3.9
_NUMBER: Final = 5.6
_ROOM: Final = 8.6
_READABLE: Final = 0.75
_STEM: Final = 0.3
TAG_LEAST: Final = 4.5
_HATCH: Final = 3.6
_DOWN: Final = 6.8


@attrs.frozen
class Sounding:
    """A chord, or the part of it that lies in a strip.

    Args:
        start: Quarters from the start of the strip.
        end: Quarters from the start of the strip.
        kind: What it looks like.
        attacked: Whether it starts here; else it goes on from before.
        released: Whether it ends here; else it goes on.
        tag: What stands over its start.
    """

    start: Fraction
    end: Fraction
    kind: Kind = "long"
    attacked: bool = True
    released: bool = True
    tag: str = ""


@attrs.frozen
class Tick:
    """A place of the metre.

    Args:
        time: Quarters from the start of the strip, as it sounds.
        text: The number of the beat, or nothing between beats.
    """

    time: Fraction
    text: str


@attrs.frozen
class Strip:
    """What a strip shows.

    Args:
        length: Quarters that it lasts.
        soundings: The chords, by their start.
        ticks: The places of the metre.
        clicks: Quarters from its start to each click, and whether it is accented.
    """

    length: Fraction
    soundings: tuple[Sounding, ...]
    ticks: tuple[Tick, ...]
    clicks: tuple[tuple[Fraction, bool], ...] = ()

    @property
    def tagged(self) -> bool:
        """Whether anything stands over its bars."""
        return any(one.tag for one in self.soundings)


def written_ticks(meter: Meter, start: Fraction, end: Fraction) -> Iterator[Tick]:
    """The beats and their parts, as they are written.

    Args:
        meter: The metre.
        start: Quarters from the first beat of the metre to the start.
        end: Quarters from the first beat to the end.

    Returns:
        Ticks whose times count from the first beat.

    Example:
        >>> from gripwright.meter import Meter
        >>> ticks = written_ticks(Meter(2, 4), Fraction(0), Fraction(2))
        >>> [(str(tick.time), tick.text) for tick in ticks]
        [('0', '1'), ('1/2', ''), ('1', '2'), ('3/2', '')]
    """
    parts = 3 if meter.compound else 2
    step = meter.pulse / parts
    place = -(-start // step)
    while place * step < end:
        beat, part = divmod(place, parts)
        yield Tick(place * step, "" if part else str(beat + 1))
        place += 1


def drawn_strip(
    strip: Strip, x: float, y: float, *, scale: float, height: float, colours: Colours
) -> Iterator[diagram.Mark]:
    """Draw a strip.

    Args:
        strip: The strip.
        x: Its start.
        y: The upper edge of its bars.
        scale: Points to a quarter.
        height: Height of its bars; what stands over and under them is `TAGS` and `AXIS` high.
        colours: The colours.
    """
    bottom = y + height
    end = x + float(strip.length) * scale
    for tick in strip.ticks:
        at = x + float(tick.time) * scale
        if tick.text:
            yield diagram.Line(at, y, at, bottom, 0.3, colours.guide)
    before = None
    for sounding in strip.soundings:
        joined = before == sounding.start
        left, right = x + float(sounding.start) * scale, x + float(sounding.end) * scale
        room = _Room(left, right, y, height)
        yield from _bar(sounding, room, colours, joined=joined)
        before = sounding.end
    yield diagram.Line(x, bottom, end, bottom, 0.8, colours.ink)
    yield from _axis(strip, x, bottom, scale, colours)


def _axis(
    strip: Strip, x: float, y: float, scale: float, colours: Colours
) -> Iterator[diagram.Mark]:
    """Ticks, numbers and clicks: smaller where beats stand close, without numbers if need be."""
    places = sorted({tick.time for tick in strip.ticks if tick.text} | dict(strip.clicks).keys())
    closest = min((float(b - a) * scale for a, b in pairwise(places)), default=_ROOM)
    small = min(1.0, closest / _ROOM)
    number = _NUMBER * small if small > _READABLE else 0.0
    for tick in strip.ticks:
        at = x + float(tick.time) * scale
        down = _BEAT_TICK if tick.text else _PART_TICK * small
        yield diagram.Line(at, y, at, y + down, 0.7 * small, colours.ink)
        if tick.text and number and tick.time not in dict(strip.clicks):
            yield diagram.Words(at, y + _DOWN, tick.text, number, colours.faint)
    numbers = {tick.time: tick.text for tick in strip.ticks}
    for time, accent in strip.clicks:
        at, radius = x + float(time) * scale, (_ACCENT if accent else _CLICK) * small
        yield diagram.Disc(at, y + _DOWN, radius, colours.ink, colours.ink, 0.0)
        if number:
            text = numbers.get(time) or "+"
            yield diagram.Words(at, y + _DOWN, text, number, colours.ground, bold=True)


@attrs.frozen
class _Room:
    """Where a bar stands: its edges are its times."""

    left: float
    right: float
    top: float
    height: float

    def block(self, left: float, right: float, colour: str, *, out: float = 0.0) -> diagram.Block:
        """A part of it, which stands out above, or lies inside where `out` is negative."""
        height = self.height + (2 * out if out < 0 else out)
        middle = self.top + self.height / 2 - max(out, 0.0) / 2
        return diagram.Block((left + right) / 2, middle, right - left, height, colour, colour, 0.0)


def _bar(one: Sounding, room: _Room, colours: Colours, *, joined: bool) -> Iterator[diagram.Mark]:
    left, right = room.left, room.right
    solid = colours.short if one.kind == "short" else colours.ink
    yield room.block(left, right, solid)
    stem = left
    if one.attacked:
        # The edge stands out above, or a short chord after another would look like one long.
        stem = left + _stem(right - left)
        yield room.block(left, stem, colours.ink, out=STANDS_OUT)
        if joined:
            yield room.block(left, left + _SPLIT, colours.ground, out=STANDS_OUT)
    if one.kind == "short":
        return
    # The outline lies inside, so that the edges are the times.
    stop = right - _OUTLINE if one.released else right
    if stop > stem:
        face = colours.ground if one.kind == "approach" else colours.long
        yield room.block(stem, stop, face, out=-_OUTLINE)
        if one.kind == "approach":
            low = room.height - 2 * _OUTLINE
            yield from _hatched(stem, stop, room.top + _OUTLINE, low, colours)


def _stem(width: float) -> float:
    """How wide the edge of an attack is: never so wide that the rest of the bar is lost."""
    return min(_ATTACK, width * _STEM)


def _hatched(
    left: float, right: float, top: float, height: float, colours: Colours
) -> Iterator[diagram.Mark]:
    """Lines that rise from left to right, cut at the edges."""
    foot = left - height + _HATCH / 2
    while foot < right:
        x1, x2 = max(foot, left), min(foot + height, right)
        if x2 > x1:
            y1, y2 = (top + height - (x - foot) for x in (x1, x2))
            yield diagram.Line(x1, y1, x2, y2, 0.9, colours.ink)
        foot += _HATCH
