"""The rhythm of a bar: its beats as slashes, or its hits with what they last."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gripwright.neck.diagram.picture import Disc, Line, Words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from gripwright.meter import Hit
    from gripwright.neck.diagram.palette import Theme
    from gripwright.neck.diagram.picture import Mark
    from gripwright.tune.written import WrittenBar
    from gripwright_server.formats.picture.bars.space import Space


def has_rhythm(written: WrittenBar[Any]) -> bool:
    """Whether a bar needs its beats shown: it has hits, or chords at places that are no shares.

    Example:
        >>> from gripwright import Chart
        >>> [has_rhythm(bar) for bar in Chart.parse("| Dm7 G7 | C7 {1 2.5} |").written]
        [False, True]
    """
    if written.bar.hits is not None:
        return True
    slots = written.bar.slots
    if not slots:
        return False
    share = written.length / len(slots)
    pulse = written.meter.pulse
    return any(
        slot.onset != place * share or (slot.onset + written.lead_in) % pulse
        for place, slot in enumerate(slots)
        if place or slot.onset
    )


def slash(x: float, y: float, half: float, colour: str, *, thick: bool = False) -> Iterator[Mark]:
    """A slash for a beat, of that half height."""
    yield Line(x - half * 0.5, y + half, x + half * 0.5, y - half, 3.2 if thick else 1.4, colour)


def beats(written: WrittenBar[Any]) -> Iterator[Fraction]:
    """The beats of a bar, in quarters from its start."""
    pulse = written.meter.pulse
    beat = -written.lead_in % pulse
    while beat < written.length:
        yield beat
        beat += pulse


def drawn_rhythm(written: WrittenBar[Any], space: Space, theme: Theme) -> Iterator[Mark]:
    """Its beats as slashes, or its hits as dots with what they last, over ticks for the beats.

    Slashes and ticks are thick where a chord comes, for a symbol may stand aside of its beat.
    """
    hits = written.bar.hits
    y = space.rhythm_y
    onsets = {slot.onset for slot in written.bar.slots}
    for place in sorted(onsets.union(beats(written))):
        x = space.x(place, written.length) + 4
        comes = place in onsets
        if hits is None:
            yield from slash(x, y, 5.0, theme.ink, thick=comes)
        else:
            yield Line(x, y + 5, x, y + 8, 2.4 if comes else 1.0, theme.faint)
    if hits is None:
        return
    if not hits:
        x = (space.left + space.right - 10) / 2
        yield Words(x, y - 2, "break", 11, theme.ink)
    for hit, end in zip(hits, _ends(written, hits), strict=True):
        x = space.x(hit.onset, written.length) + 4
        stop = space.x(end, written.length) - 4
        if hit.push:
            yield Words(stop + 2, y, ">", 12, theme.ink, "end", bold=True)
            stop -= 5
        if stop > x:
            yield Line(x, y, stop, y, 1.4, theme.ink)
        yield Disc(x, y, 3.4, theme.ink, theme.ink)


def _ends(written: WrittenBar[Any], hits: Sequence[Hit]) -> Iterator[Fraction]:
    """Where each hit ends, in the bar."""
    places = [*(hit.onset for hit in hits), *(slot.onset for slot in written.bar.slots)]
    for hit in hits:
        following = (place for place in places if place > hit.onset)
        until = min(following, default=written.length)
        end = until if hit.duration is None else hit.onset + hit.duration
        yield min(end, written.length)
