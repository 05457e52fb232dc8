"""Transposition: cases. What is not marked otherwise is common practice."""

from __future__ import annotations

import pytest

from gripwright import Chart, ConditionError, Interval
from gripwright.tune import Key
from gripwright.tune.transpose import interval_for, transposed

TURNAROUND = "key: Eb\n| Ebmaj7 Gb7 | B7 E7 | Fm7 Bb7/D | F#dim7 N.C. |"


@pytest.mark.parametrize(
    ("to", "text"),
    [
        ("F#", "key: F#\n| F#maj7 A7 | D7 G7 | G#m7 C#7/E# | Adim7 N.C. |"),
        ("C#", "key: C#\n| C#maj7 E7 | A7 D7 | D#m7 G#7/B# | Edim7 N.C. |"),
        ("Gb", "key: Gb\n| Gbmaj7 A7 | D7 G7 | Abm7 Db7/F | Adim7 N.C. |"),
        ("C", "key: C\n| Cmaj7 Eb7 | Ab7 Db7 | Dm7 G7/B | D#dim7 N.C. |"),
        ("A", "key: A\n| Amaj7 C7 | F7 Bb7 | Bm7 E7/G# | Cdim7 N.C. |"),
    ],
)
def test_a_turnaround_in_other_keys(to: str, text: str) -> None:
    """Substitutes lose their needless accidentals, chords of the key have its signature."""
    assert str(transposed(Chart.parse(TURNAROUND), Key.parse(to))) == text


@pytest.mark.parametrize(
    ("key", "interval", "new"),
    [
        ("C", "m2", "Db"),
        ("C", "A1", "Db"),
        ("B", "M2", "Db"),
        ("Eb", "m3", "Gb"),
        ("Eb", "A2", "F#"),
        ("C", "d5", "Gb"),
        ("C", "A4", "F#"),
        ("F#", "m3", "A"),
        ("Am", "-m2", "G#m"),
        ("Am", "m2", "Bbm"),
        ("Fm", "-M2", "Ebm"),
        ("Bm", "M3", "D#m"),
        ("Em", "M9", "F#m"),
    ],
)
def test_keys_take_the_name_of_fewer_accidentals(key: str, interval: str, new: str) -> None:
    """And of six flats and six sharps that which the interval says."""
    tonic = "Cm" if key.endswith("m") else "C"
    chart = Chart.parse(f"key: {key}\n| {tonic} |")
    assert str(transposed(chart, Interval.parse(interval)).key) == new


def test_sections_move_with_their_own_keys() -> None:
    """A bridge in another key stays as far from home, and is spelled for itself."""
    chart = Chart.parse("key: G\n[A] | Am7 D7 | Gmaj7 |\n[B]\nkey: Eb\n| Fm7 Bb7 | Ebmaj7 |")
    assert str(transposed(chart, Interval.parse("A4"))) == (
        "key: Db\n[A]\n| Ebm7 Ab7 | Dbmaj7 |\n[B]\nkey: A\n| Bm7 E7 | Amaj7 |"
    )


def test_everything_but_chords_and_keys_stays() -> None:
    """Bars, hits, repeats, signs, comments and settings are those of the chart."""
    text = (
        "title: Ours\nmetre: 3/4\npickup: 1\n; slowly\n[A]\n|: C {3 3.5'} | F/A :| x3\n| <G7> | % |"
    )
    chart = Chart.parse(text)
    moved = transposed(chart, Interval.parse("M2"))
    assert str(moved) == str(chart).replace(" C ", " D ").replace("F/A", "G/B").replace(
        "<G7>", "<A7>"
    )


@pytest.mark.parametrize(
    ("text", "interval", "moved"),
    [
        ("| F#7 B7/D# |", "m3", "| A7 D7/F# |"),
        ("| Bb7 Gb7 |", "-m3", "| G7 Eb7 |"),
        ("| Gbmaj7 |", "m2", "| Gmaj7 |"),
        ("| Gbmaj7 |", "m3", "| Amaj7 |"),
        ("| D#m7/A# |", "A1", "| Em7/B |"),
        ("| C/Db |", "d2", "| C/Db |"),
        ("| Fdim7/Ebb |", "m2", "| Gbdim7/Eb |"),
    ],
)
def test_without_a_key_the_interval_spells(text: str, interval: str, moved: str) -> None:
    """Save where a root or bass would take two accidentals."""
    assert str(transposed(Chart.parse(text), Interval.parse(interval))) == moved


def test_by_nothing_nothing_changes() -> None:
    """However the chords are spelled, and in whatever octave."""
    chart = Chart.parse("key: C#\n| Fb7 | Abb |")
    for interval in ("P1", "P8", "-P15"):
        assert transposed(chart, Interval.parse(interval)) == chart
    assert transposed(chart, Key.parse("C#")) == chart


def test_into_a_key_only_from_a_key_of_the_same_mode() -> None:
    """Else nobody knows the interval."""
    with pytest.raises(ConditionError, match="a key in the chart"):
        transposed(Chart.parse("| C |"), Key.parse("D"))
    with pytest.raises(ConditionError, match="a minor key, since the chart is in Am"):
        transposed(Chart.parse("key: Am\n| Am |"), Key.parse("D"))


@pytest.mark.parametrize(
    ("text", "semitones", "interval"),
    [
        ("key: C\n| C |", 1, "m2"),
        ("key: E\n| E |", -1, "-A1"),
        ("key: B\n| B |", 2, "d3"),
        ("key: Eb\n| Eb |", 3, "m3"),
        ("key: A\n| A |", -3, "-m3"),
        ("key: A\n| A |", 9, "M6"),
        ("key: C\n| C |", 6, "A4"),
        ("key: F\n| F |", 13, "m2"),
        ("| Ab Eb Bb |", -1, "-m2"),
        ("| F#m7 B7 |", -1, "-A1"),
        ("| C |", 0, "P1"),
    ],
)
def test_semitones_become_an_interval(text: str, semitones: int, interval: str) -> None:
    """The one that leads to few accidentals."""
    assert str(interval_for(Chart.parse(text), semitones)) == interval
