"""Neck diagrams in text, against boxes drawn by hand as players do (common practice)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Instrument, InstrumentString, Pitch, Voicing, find_voicings
from gripwright.neck.diagram import DOT, box, box_frets, box_width, under_strings

GUITAR = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22, scale_mm=648.0, id="guitar")
BANJO = Instrument(
    id="banjo",
    name="banjo",
    strings=tuple(
        InstrumentString(Pitch.parse(pitch), 670.0, first_fret=first)
        for pitch, first in (("G4", 5), ("D3", 0), ("G3", 0), ("B3", 0), ("D4", 0))
    ),
    frets=22,
)


def _grip(symbol: str, shape: str, instrument: Instrument = GUITAR) -> Voicing:
    return next(one for one in find_voicings(Chord.parse(symbol), instrument) if one.shape == shape)


def _drawn(voicing: Voicing, frets: int | None = None) -> list[str]:
    return [line.rstrip() for line in box(voicing, frets=frets)]


def test_open_chord_stands_under_the_nut() -> None:
    """The first frets are drawn under a double line and need no number."""
    assert _drawn(_grip("C", "x-3-2-0-1-0")) == [
        "   x        o     o",
        "   ════════════════",
        "   │  │  │  │  ●  │",
        "   │  │  ●  │  │  │",
        "   │  ●  │  │  │  │",
        "   │  │  │  │  │  │",
    ]


def test_grip_up_the_neck_has_its_first_fret_beside_it() -> None:
    """The number stands beside the first line, two digits too."""
    assert _drawn(_grip("Cmaj7", "x-10-10-9-12-x")) == [
        "   x              x",
        "   ────────────────",
        " 9 │  │  │  ●  │  │",
        "   │  ●  ●  │  │  │",
        "   │  │  │  │  │  │",
        "   │  │  │  │  ●  │",
    ]


def test_short_string_is_drawn_from_where_it_starts() -> None:
    """The fifth string of a banjo has no place below its own nut, and can ring open."""
    assert _drawn(_grip("G", "0-0-0-0-0", BANJO)) == [
        "   o  o  o  o  o",
        "      ══════════",
        "      │  │  │  │",
        "      │  │  │  │",
        "      │  │  │  │",
        "      │  │  │  │",
    ]
    grip = _grip("C", "10-10-9-8-10", BANJO)
    assert _drawn(grip)[:3] == [
        "",
        "   ─────────────",
        " 8 │  │  │  ●  │",
    ]


def test_grip_from_the_second_fret_has_its_number() -> None:
    """The first fret alone needs none, since the nut stands above it."""
    assert _drawn(_grip("D", "x-5-4-2-3-2"))[1:4] == [
        "   ────────────────",
        " 2 │  │  │  ●  │  ●",
        "   │  │  │  │  ●  │",
    ]


def test_short_string_that_starts_at_the_first_fret_shown_is_not_there_yet() -> None:
    """The fifth string of a banjo lies open from fret 5, and is pressed from fret 6 on."""
    assert _drawn(_grip("C", "0-5-5-5-5", BANJO)) == [
        "   o",
        "      ──────────",
        " 5    ●  ●  ●  ●",
        "   │  │  │  │  │",
        "   │  │  │  │  │",
        "   │  │  │  │  │",
    ]


@pytest.mark.parametrize(
    ("firsts", "nut"), [((0,), "   ═"), ((7, 7), ""), ((7, 0, 0, 7, 0), "      ════     ═")]
)
def test_nut_lies_over_the_strings_that_reach_it(firsts: tuple[int, ...], nut: str) -> None:
    """Over neighbours without a gap; over no other."""
    strings = tuple(InstrumentString(Pitch.parse("C4"), 670.0, first_fret=n) for n in firsts)
    neck = Instrument(id="odd", name="odd", strings=strings, frets=22)
    assert _drawn(Voicing(Chord.parse("C"), neck, (0,) * len(firsts)))[1] == nut


def test_taller_box_goes_on_and_stays_on_the_neck() -> None:
    """Boxes in a row have one height; the strings go on, but not past the last fret."""
    grip = _grip("C", "x-3-2-0-1-0")
    assert _drawn(grip, 6) == [*_drawn(grip), *["   │  │  │  │  │  │"] * 2]
    short = Instrument.from_text("G4 C4 E4 A4", frets=12, scale_mm=345.0)
    top = _grip("C", "12-12-12-x", short)
    assert box(top)[2].startswith(" 9 ")
    assert box(top)[5].count(DOT) == 3


def test_texts_stand_under_the_sounding_strings() -> None:
    """Muted strings have nothing under them; a wide text pushes the next ones on."""
    grip = _grip("Cmaj7", "x-3-5-4-5-x")
    assert under_strings(grip, grip.degrees) == "      1  5  7  3"
    assert under_strings(grip, ["b13", "b9", "5", "#11"]) == "      b13 b9 5 #11"
    # Open strings sound as well.
    grip = _grip("C", "x-3-2-0-1-0")
    assert under_strings(grip, grip.degrees) == "      1  3  5  1  3"


def test_texts_must_be_as_many_as_strings_that_sound() -> None:
    """A missing text is an error, not a shifted line."""
    with pytest.raises(ValueError, match="zip"):
        under_strings(_grip("Cmaj7", "x-3-5-4-5-x"), ["1", "5"])


@pytest.mark.parametrize("symbol", ["C7", "Am"])
@given(data=st.data())
def test_box_shows_each_press_once_and_all_its_lines_are_equally_wide(
    symbol: str, data: st.DataObject
) -> None:
    """Dots are as many as fretted strings, marks as many as the others, in a plain rectangle."""
    instrument = data.draw(st.sampled_from([GUITAR, BANJO]))
    table = find_voicings(Chord.parse(symbol), instrument)
    voicing = table[data.draw(st.integers(0, len(table) - 1))]
    frets = data.draw(st.integers(0, 8))
    lines = box(voicing, frets=frets)
    assert {len(line) for line in lines} == {box_width(instrument)}
    assert len(lines) == 2 + max(frets, box_frets(voicing))
    text = "".join(lines)
    assert text.count(DOT) == sum(fret > 0 for fret in voicing.frets)
    assert lines[0].count("x") == voicing.frets.count(-1)
    assert lines[0].count("o") == voicing.frets.count(0)
