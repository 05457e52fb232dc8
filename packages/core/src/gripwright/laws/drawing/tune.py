"""Keys and charts to draw from: progressions of a few bars, and charts with every sign."""

from __future__ import annotations

import functools
from fractions import Fraction
from typing import Any, Final

import attrs
from hypothesis import strategies as st

from gripwright.laws.drawing.theory import chords, spelled_chords
from gripwright.meter import Hit, Meter
from gripwright.theory import Chord
from gripwright.tune import JUMPS, OPEN, Bar, Chart, Key, Section, Settings, Slot

METERS: Final = tuple(
    map(Meter.parse, ("4/4", "3/4", "2/4", "5/4", "3+2/4", "6/8", "12/8", "7/8", "2/2", "3/8"))
)
"""The metres of charts."""

_MAJOR: Final = ("C", "F", "Bb", "Eb", "Ab", "Db", "Gb", "Cb", "G", "D", "A", "E", "B", "F#", "C#")
_MINOR: Final = (
    *("Am", "Dm", "Gm", "Cm", "Fm", "Bbm", "Ebm", "Abm", "Em", "Bm", "F#m", "C#m", "G#m"),
    *("D#m", "A#m"),
)
_PASSES: Final[tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]] = (
    *(((1,), (2,)), ((1, 2), (3,))),
    ((1, 3), (2, 4)),
)
_ENDED: Final = 2
"""Bars that two endings need."""


def keys() -> st.SearchStrategy[Key]:
    """Every key with a signature of at most seven flats or sharps.

    Example:
        >>> from hypothesis import find
        >>> find(keys(), lambda key: key.minor).minor
        True
    """
    return st.sampled_from([Key.parse(text) for text in (*_MAJOR, *_MINOR)])


@st.composite
def progressions(draw: st.DrawFn, *, most_bars: int = 8) -> Chart[Chord]:
    """Plain charts: one chord or two in each bar, no repeats and no signs.

    Args:
        draw: Given by Hypothesis.
        most_bars: Bars at most, 1 or more.

    Example:
        >>> from hypothesis.strategies import SearchStrategy
        >>> isinstance(progressions(), SearchStrategy)
        True
    """
    meter = draw(st.sampled_from(METERS))
    bars = []
    for _ in range(draw(st.integers(1, most_bars))):
        count = draw(st.sampled_from([1, 1, 2]))
        places = [meter.length * number / count for number in range(count)]
        bars.append(Bar([Slot(draw(chords()), place) for place in places]))
    settings = Settings(draw(keys()), meter, draw(st.integers(40, 240)))
    return Chart([Section(bars)], settings)


@functools.cache
def _names() -> st.SearchStrategy[str]:
    return st.text(
        st.characters(codec="utf-8", exclude_characters="[]|;", exclude_categories=["C", "Z"]),
        min_size=1,
        max_size=12,
    )


@functools.cache
def _comments() -> st.SearchStrategy[list[str]]:
    texts = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=12)
    return st.lists(texts, max_size=2)


@functools.cache
def _settings() -> st.SearchStrategy[Settings]:
    return st.builds(
        Settings,
        st.none() | keys(),
        st.none() | st.sampled_from(METERS),
        st.none() | st.integers(10, 400),
        st.none() | _names(),
    )


def _places(length: Fraction, *, least: int, most: int) -> st.SearchStrategy[list[Fraction]]:
    """Rising places within so many quarters, on beats, off them, and anywhere."""
    place = st.builds(
        lambda number, parts: length * number / parts,
        st.integers(0, 11),
        st.sampled_from([12, 16, 24, 36, 60]),
    )
    beat = st.integers(0, max(0, -(-length.numerator // length.denominator) - 1)).map(Fraction)
    return st.lists(place | beat, min_size=least, max_size=most, unique=True).map(sorted)


@st.composite
def _contents(draw: st.DrawFn, length: Fraction, *, first: bool) -> Bar[Chord]:
    """A bar of so many quarters without its signs."""
    way = draw(st.sampled_from(["shares", "shares", "places", "on", "same"]))
    if way == "same" and not first:
        return Bar(same=True)
    if way == "places" or (way == "on" and not first):
        onsets = draw(_places(length, least=0, most=4))
    else:
        count = draw(st.integers(1, 4))
        onsets = [length * number / count for number in range(count)]
    if first and (not onsets or onsets[0]):
        onsets = [Fraction(0), *onsets]
    slots = []
    for onset in onsets:
        chord = draw(st.none() | spelled_chords())
        slots.append(Slot(chord, onset, held=chord is not None and draw(st.booleans())))
    hits = None
    if draw(st.booleans()):
        durations = st.none() | st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(4, 3)])
        hits = [
            Hit(onset, draw(durations), draw(st.booleans()))
            for onset in draw(_places(length, least=0, most=4))
        ]
    return Bar(slots, hits=hits)


def _repeated(draw: st.DrawFn, bars: list[Bar[Chord]]) -> None:
    """Put repeats over the bars, with and without endings, one after the other."""
    start = 0
    while start < len(bars):
        body = draw(st.integers(1, 3))
        kind = draw(st.sampled_from(["none", "plain", "endings", "implied"]))
        stop = min(start + body, len(bars)) - 1
        if kind != "none" and not (kind == "implied" and start):
            if kind != "implied":
                bars[start] = attrs.evolve(bars[start], repeat_start=True)
            rest = len(bars) - stop - 1
            if kind == "endings" and rest >= _ENDED:
                passes = draw(st.sampled_from(_PASSES))
                bars[stop + 1] = attrs.evolve(bars[stop + 1], endings=passes[0], repeat_end=2)
                bars[stop + 2] = attrs.evolve(bars[stop + 2], endings=passes[1])
                if draw(st.booleans()):
                    bars[stop + 2] = attrs.evolve(bars[stop + 2], repeat_end=2)
                stop += 2
                # An open last ending would take in the end of a later repeat without a start.
                if bars[stop].repeat_end is None:
                    start = stop + 1
                    continue
            else:
                times = draw(st.sampled_from([2, 2, 3, 7, OPEN]))
                bars[stop] = attrs.evolve(bars[stop], repeat_end=times)
        start = stop + 1


def _jumping(draw: st.DrawFn, bars: list[Bar[Chord]]) -> None:
    """Put a jump among the bars, with the signs that it needs."""
    jump = draw(st.none() | st.sampled_from(JUMPS))
    if jump is None:
        return
    last = len(bars) - 1
    needs_coda = jump.endswith("Coda")
    if needs_coda and last < 1:
        return
    place = draw(st.integers(0, last - 1 if needs_coda else last))
    segno = draw(st.integers(0, place))
    signs: list[tuple[int, dict[str, Any]]] = [(place, {"jump": jump})]
    if jump.startswith("D.S."):
        signs.append((segno, {"segno": True}))
    if jump.endswith("Fine"):
        signs.append((draw(st.integers(0, last)), {"fine": True}))
    if needs_coda:
        to_coda = draw(st.integers(segno, place))
        signs.append((to_coda, {"to_coda": True}))
        signs.append((draw(st.integers(to_coda + 1, last)), {"coda": True}))
    for bar, sign in signs:
        bars[bar] = attrs.evolve(bars[bar], **sign)


@st.composite
def charts(draw: st.DrawFn, *, most_bars: int = 4) -> Chart[Chord]:
    """Charts of any kind that can be written: sections, repeats, jumps, hits, pickups.

    Args:
        draw: Given by Hypothesis.
        most_bars: Bars of a section at most, 1 or more.

    Example:
        >>> from hypothesis.strategies import SearchStrategy
        >>> isinstance(charts(), SearchStrategy)
        True
    """
    settings = draw(_settings())
    usual = settings.meter or METERS[0]
    sizes = draw(st.lists(st.integers(1, most_bars), min_size=1, max_size=3))
    heads = [(draw(st.none() | _names()), draw(_settings())) for _ in sizes]
    bars: list[Bar[Chord]] = []
    pickup = Fraction(0)
    before: Fraction | None = None
    for size, (_, own) in zip(sizes, heads, strict=True):
        for _ in range(size):
            meter = draw(st.none() | st.none() | st.sampled_from(METERS))
            length = (meter or own.meter or usual).length
            if before is None and draw(st.booleans()):
                pickup = length * draw(st.sampled_from([Fraction(1, 4), Fraction(1, 3)]))
                length = pickup
            bar = draw(_contents(length, first=before is None))
            if bar.same and length != before:
                bar = Bar()
            before = length
            bars.append(attrs.evolve(bar, meter=meter))
    _repeated(draw, bars)
    _jumping(draw, bars)
    sections = []
    for size, (name, own) in zip(sizes, heads, strict=True):
        # "Coda" is a sign of its own, which is drawn above.
        named = None if name is not None and name.lower() == "coda" else name
        sections.append(Section(bars[:size], named, own, draw(_comments())))
        bars = bars[size:]
    return Chart(sections, settings, draw(st.none() | _names()), pickup, draw(_comments()))
