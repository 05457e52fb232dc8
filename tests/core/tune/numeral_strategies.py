"""Keys, numerals and charts of sensibly spelled chords to draw from."""

from __future__ import annotations

from typing import Final

from hypothesis import strategies as st

from gripwright import Chart, Chord, Degree
from gripwright.theory import QUALITIES
from gripwright.tune import Bar, Key, Section, Settings, Slot
from gripwright.tune.numeral import Numeral, Target

MAJOR_KEYS: Final = tuple(
    map(Key.parse, "C F Bb Eb Ab Db Gb Cb G D A E B F# C#".split())  # noqa: SIM905 - reads plainly
)
MINOR_KEYS: Final = tuple(
    map(Key.parse, "Am Dm Gm Cm Fm Bbm Ebm Abm Em Bm F#m C#m G#m D#m A#m".split())  # noqa: SIM905
)

DEGREES: Final = tuple(
    map(Degree, ("1", "b2", "2", "b3", "3", "4", "b5", "5", "b6", "6", "b7", "7"))
)
RISING: Final = {"b2": "#1", "b5": "#4", "b6": "#5"}

qualities = st.sampled_from(list(QUALITIES.values()))
degrees = st.builds(
    lambda sign, number: Degree(f"{sign}{number}"),
    st.sampled_from(["", "b", "#"]),
    st.integers(1, 7),
)
targets = st.builds(Target, degrees, st.booleans())
numerals = st.builds(Numeral, degrees, qualities, st.none() | targets, st.none() | degrees)


@st.composite
def usual_numerals(draw: st.DrawFn) -> Numeral:
    """A numeral on the degree by which players name its chord, with no other bass."""
    quality = draw(qualities)
    degree = draw(st.sampled_from(DEGREES))
    tones = set(quality.degrees)
    if {"b3", "b5"} <= tones or (degree == "b5" and "b3" in tones):
        degree = Degree(RISING.get(degree, degree))
    return Numeral(degree, quality)


@st.composite
def usual_charts(draw: st.DrawFn, *, minor: bool, most_fifths: int = 7) -> Chart[Chord]:
    """A chart in a key whose chords are written as players write them there."""
    keys = [key for key in (MINOR_KEYS if minor else MAJOR_KEYS) if abs(key.fifths) <= most_fifths]
    home = draw(st.sampled_from(keys))
    sections = []
    for name in draw(st.sampled_from(["A", "AB"])):
        own = draw(st.none() | st.sampled_from(keys))
        bars = [
            Bar([Slot(numeral.realise(own or home))])
            for numeral in draw(st.lists(usual_numerals(), min_size=1, max_size=4))
        ]
        sections.append(Section(bars, name, Settings(own)))
    return Chart(sections, Settings(home))
