"""How choruses are laid out on paper; letters stand for bars, alike where they are equal."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright_rhythm.export.musicxml.layout import Place, places_of


def paper(choruses: str) -> str:
    """Return what is written for choruses such as ``"abc abd"``."""
    runs = choruses.split()
    bars = "".join(runs)
    ends = list(accumulate(map(len, runs), initial=0))
    text = ""
    for place in places_of(bars, [range(*pair) for pair in pairwise(ends)]):
        text += "|:" * (place.passes > 1)
        if place.ending is not None and place.ending.starts:
            text += f"[{place.ending.numbers}."
        text += bars[place.index]
        text += "]" * (place.ending is not None and place.ending.stops)
        text += f":|x{place.times}" * (place.times > 1)
    return text


@pytest.mark.parametrize(
    ("choruses", "written"),
    [
        ("abcd", "abcd"),
        ("abcd abcd", "|:abcd:|x2"),
        ("abcd abcd abcd", "|:abcd:|x3"),
        ("abcd abce", "|:abc[1.d]:|x2[2.e]"),
        ("abcd abcd abcd abef", "|:ab[1, 2, 3.cd]:|x4[4.ef]"),
        ("abcd abcde", "|:abc[1.d]:|x2[2.de]"),
        ("abcd aefg", "abcdaefg"),
        ("xbcd abcd abcd", "xbcd|:abcd:|x2"),
        ("xbcd abcd abcd abce e", "xbcd|:abc[1, 2.d]:|x3[3.e]e"),
        ("abcd abce abce", "abcd|:abce:|x2"),
        ("a a a", "|:a:|x3"),
    ],
)
def test_choruses_are_laid_out(choruses: str, written: str) -> None:
    """Runs are repeated; a last half that differs is an ending."""
    assert paper(choruses) == written


def sounded(places: list[Place], bars: str) -> str:
    """Return the bars as they are played, repeats and brackets followed."""
    bars_played = ""
    place = start = 0
    passed = 1
    opened: Place | None = None
    while place < len(places):
        here = places[place]
        if here.passes > 1 and here is not opened:
            opened, start, passed = here, place, 1
        if here.ending is not None and str(passed) not in here.ending.numbers.split(", "):
            place += 1
            continue
        bars_played += bars[here.index]
        if passed < here.times:
            passed += 1
            place = start
        else:
            place += 1
    return bars_played


@given(st.lists(st.sampled_from(["abcd", "abce", "abcf", "zbcd", "ab", "abcde", "c"]), min_size=1))
def test_what_is_laid_out_plays_as_it_was(choruses: list[str]) -> None:
    """Every bar comes back in order, and nothing is written that need not be."""
    bars = "".join(choruses)
    ends = list(accumulate(map(len, choruses), initial=0))
    places = list(places_of(bars, [range(*pair) for pair in pairwise(ends)]))
    assert sounded(places, bars) == bars
    assert len(places) <= len(bars)
