"""What a chart needs to be played: chords inside their bars, and signs that find each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from gripwright.tune.repeats import Misfit, find_repeats
from gripwright.tune.written import WrittenBar


def find_misfits(bars: Sequence[WrittenBar[Any]]) -> list[Misfit]:
    """Find everything in a chart that keeps it from being played.

    Args:
        bars: The bars of the chart, one or more.

    Returns:
        The misfits in the order of their bars.

    Example:
        >>> from gripwright.tune import Bar, Section, Settings, Slot
        >>> from gripwright.tune.written import write_out
        >>> bars = [Bar([Slot("ii")]), Bar([Slot("V")], jump="D.S.")]
        >>> find_misfits(list(write_out([Section(bars)], Settings(), 0)))
        [Misfit(bar=1, part='jump', expected='a Segno before it, to which D.S. leads')]
    """
    misfits = find_repeats(bars)[1]
    misfits += _contents(bars)
    misfits += _jumps(bars)
    return sorted(misfits, key=lambda misfit: misfit.bar)


def _contents(bars: Sequence[WrittenBar[Any]]) -> Iterator[Misfit]:
    first = bars[0]
    if first.bar.same:
        yield Misfit(0, "same", "chords: there is no bar before")
    elif not first.slots or first.slots[0].onset:
        yield Misfit(0, "slots", "a chord at its start: there is none before to go on")
    before = first
    for written in bars:
        bar, length = written.bar, written.length
        if bar.same:
            # Bars of one section share the object, so that most need no arithmetic.
            if length is not before.length and length != before.length:
                yield Misfit(written.index, "same", "a bar as long as the one before")
        else:
            if bar.slots and bar.slots[-1].onset.numerator and bar.slots[-1].onset >= length:
                yield Misfit(written.index, "slots", "chords before the end of the bar")
            if bar.hits and bar.hits[-1].onset >= length:
                yield Misfit(written.index, "hits", "hits before the end of the bar")
        before = written


def _jumps(bars: Sequence[WrittenBar[Any]]) -> Iterator[Misfit]:
    signed = [written for written in bars if written.bar.signed or written.coda]
    places: dict[str, int] = {}
    for written in signed:
        for sign in ("segno", "coda", "to_coda", "fine"):
            if not (written.coda if sign == "coda" else getattr(written.bar, sign)):
                continue
            if sign in places and sign != "fine":
                yield Misfit(written.index, sign, "this sign once in a chart")
            places.setdefault(sign, written.index)
    for written in signed:
        if written.bar.jump is not None:
            yield from _jump(written.index, written.bar.jump, places)


def _jump(index: int, jump: str, places: Mapping[str, int]) -> Iterator[Misfit]:
    target = places.get("segno", index + 1) if jump.startswith("D.S.") else 0
    if target > index:
        yield Misfit(index, "jump", "a Segno before it, to which D.S. leads")
        return
    if jump.endswith("Fine") and "fine" not in places:
        yield Misfit(index, "jump", "a bar with Fine, at which it ends")
    if jump.endswith("Coda"):
        to_coda = places.get("to_coda", -1)
        if not target <= to_coda <= index:
            yield Misfit(index, "jump", "To Coda in a bar on the way, which leads to the Coda")
        elif places.get("coda", -1) <= to_coda:
            yield Misfit(index, "jump", "a Coda after To Coda")
