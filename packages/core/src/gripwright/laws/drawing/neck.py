"""Tunings, instruments, hands, shapes, recipes and voicings to draw from."""

from __future__ import annotations

from itertools import accumulate

from hypothesis import assume
from hypothesis import strategies as st

from gripwright.laws.drawing.theory import chords
from gripwright.neck import Hand, Instrument, InstrumentString, Recipe, Shape, Voicing
from gripwright.neck.search import find_voicings
from gripwright.theory import Pitch

_ROOMS = ("E2 A2 D3 G3 B3 E4", "G4 C4 E4 A4", "C3 G3 D4 A4", "D2 A2 D3 G3 A3 D4")
_SHORT = 7


@st.composite
def tunings(draw: st.DrawFn, count: int | None = None) -> list[int]:
    """Open strings as MIDI numbers: rising by usual intervals, re-entrant, or in any order.

    Args:
        draw: Given by Hypothesis.
        count: How many strings; three to eight if not given.

    Example:
        >>> from hypothesis import find
        >>> len(find(tunings(4), lambda opens: opens[0] > opens[1]))
        4
    """
    strings = draw(st.integers(3, 8)) if count is None else count
    kind = draw(st.sampled_from(["rising", "re-entrant", "any"]))
    if kind == "any":
        return draw(st.lists(st.integers(28, 76), min_size=strings, max_size=strings))
    gaps = draw(st.lists(st.sampled_from([5, 4, 7, 3, 2]), min_size=strings, max_size=strings))
    rising = list(accumulate(gaps, initial=draw(st.integers(23, 55))))[:strings]
    return rising if kind == "rising" else draw(st.permutations(rising))


def instrument_strings() -> st.SearchStrategy[InstrumentString]:
    """Strings and courses, whole or short.

    Example:
        >>> from hypothesis import find
        >>> find(instrument_strings(), lambda string: string.first_fret > 0).first_fret > 0
        True
    """
    pitches = st.integers(23, 76).map(Pitch.from_midi)
    return st.builds(
        InstrumentString,
        pitches,
        st.integers(330, 900).map(float),
        st.sampled_from([0, 0, 0, 5]),
        st.lists(pitches, max_size=2).map(tuple),
    )


@st.composite
def instruments(draw: st.DrawFn, *, fanned: bool | None = None, least_frets: int = 3) -> Instrument:
    """Instruments of three to eight strings in any order of pitch, some starting late.

    Args:
        draw: Given by Hypothesis.
        fanned: Whether each string has its own length; None for either.
        least_frets: The fewest frets of the neck, 3 to 22.

    Example:
        >>> from hypothesis import find
        >>> len(find(instruments(), lambda one: len(one.strings) == 5).strings)
        5
    """
    count = draw(st.one_of(st.integers(4, 7), st.integers(3, 8)))
    frets = draw(st.integers(least_frets, 22))
    lengths = st.integers(330, 900).map(float)
    if draw(st.booleans()) if fanned is None else fanned:
        scales = draw(st.lists(lengths, min_size=count, max_size=count))
        align = draw(st.one_of(st.integers(0, 12).map(float), st.just(6.5)))
    else:
        scales, align = [draw(lengths)] * count, 0.0
    late = draw(st.sampled_from(["none", "none", "first", "any"]))
    firsts = [0] * count
    if late == "first":
        firsts[0] = draw(st.integers(1, min(least_frets - 1, 5)))
    elif late == "any":
        starts = st.integers(0, min(least_frets - 1, 4))
        firsts = draw(st.lists(starts, min_size=count, max_size=count))
    return Instrument(
        id="drawn",
        name="drawn by Hypothesis",
        strings=tuple(
            InstrumentString(Pitch.from_midi(midi), scale_mm=scale, first_fret=first)
            for midi, scale, first in zip(draw(tunings(count)), scales, firsts, strict=True)
        ),
        frets=frets,
        align_fret=align,
    )


def hands() -> st.SearchStrategy[Hand]:
    """Hands of one to five fingers, small and large.

    Example:
        >>> from hypothesis import find
        >>> find(hands(), lambda hand: hand.fingers == 3).fingers
        3
    """
    # Four fingers come first and often: with one or two, most necks hold nothing of a chord.
    return st.builds(
        Hand,
        fingers=st.sampled_from([4, 3, 5, 4, 3, 2, 1]),
        reach_mm=st.one_of(st.integers(90, 200), st.integers(40, 200)).map(float),
    )


def shapes(*, strings: int | None = None) -> st.SearchStrategy[Shape]:
    """Shapes, whether a hand can hold them or not.

    Args:
        strings: How many strings; three to eight if not given.

    Example:
        >>> from hypothesis import find
        >>> str(find(shapes(strings=3), lambda shape: shape.frets[0] == 2))
        '2-0-0'
    """
    counts = st.integers(3, 8) if strings is None else st.just(strings)
    return counts.flatmap(
        lambda count: st.lists(st.integers(-1, 22), min_size=count, max_size=count)
    ).map(lambda frets: Shape(tuple(frets)))


@st.composite
def recipes(draw: st.DrawFn) -> Recipe:
    """Recipes that stack tones of some chord of the table in any order, each once.

    Args:
        draw: Given by Hypothesis.

    Example:
        >>> from hypothesis import find
        >>> len(find(recipes(), lambda recipe: len(recipe.degrees) == 3).degrees)
        3
    """
    tones = draw(chords(slashed=False)).degrees
    return Recipe(draw(st.permutations(tones)))


@st.composite
def voicings(draw: st.DrawFn) -> Voicing:
    """Playable voicings of a chord in the first seven frets of an instrument.

    Args:
        draw: Given by Hypothesis.

    Example:
        >>> from hypothesis.strategies import SearchStrategy
        >>> isinstance(voicings(), SearchStrategy)
        True
    """
    neck = Instrument.from_text(draw(st.sampled_from(_ROOMS)), frets=_SHORT)
    table = find_voicings(draw(chords(slashed=False)), neck)
    assume(len(table) > 0)
    return table[draw(st.integers(0, len(table) - 1))]
