"""Charts as values: what they refuse, what they warn of, what maps over them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any, cast

import pytest

from gripwright import Chart, Chord, ConditionError, Interval
from gripwright.meter import Hit, Meter
from gripwright.tune import Bar, Key, Section, Settings, Slot


def chart_of(*bars: Bar[str], pickup: Fraction | int = 0) -> Chart[str]:
    """A chart of one section."""
    return Chart([Section(bars)], pickup=pickup)


ONE = Bar([Slot("I")])


@pytest.mark.parametrize(
    ("make", "name"),
    [
        (lambda: Chart([]), "sections"),
        (lambda: Section([]), "bars"),
        (lambda: Section([ONE], "A|B"), "name"),
        (lambda: Section([ONE], ""), "name"),
        (lambda: Section([ONE], "A\nB"), "name"),
        (lambda: Section([ONE], comments=["a\nb"]), "comments"),
        (lambda: Section([ONE], comments=[" a"]), "comments"),
        (lambda: Settings(tempo_bpm=9), "tempo_bpm"),
        (lambda: Settings(tempo_bpm=401), "tempo_bpm"),
        (lambda: Settings(tempo_bpm=cast("Any", 92.5)), "tempo_bpm"),
        (lambda: Settings(feel="a;b"), "feel"),
        (lambda: Chart([Section([ONE])], title=" x"), "title"),
        (lambda: Slot(None, held=True), "held"),
        (lambda: Slot("I", -1), "quarters"),
        (lambda: Bar([Slot("I", 1), Slot("V", 1)]), "slots"),
        (lambda: Bar([Slot("I")], hits=[Hit(1), Hit(0)]), "hits"),
        (lambda: Bar([Slot("I")], same=True), "same"),
        (lambda: Bar(hits=[], same=True), "same"),
        (lambda: Bar(repeat_end=1), "repeat_end"),
        (lambda: Bar(repeat_end=100), "repeat_end"),
        (lambda: Bar(endings=[0]), "endings"),
        (lambda: Bar(endings=[2, 1]), "endings"),
        (lambda: Bar(endings=[100]), "endings"),
        (lambda: Bar(jump=cast("Any", "D.X.")), "jump"),
        (lambda: chart_of(Bar()), "slots of bar 1"),
        (lambda: chart_of(ONE, Bar([Slot("I", 4)])), "slots of bar 2"),
        (lambda: chart_of(ONE, Bar([Slot("I")], hits=[Hit(4)])), "hits of bar 2"),
        (lambda: chart_of(Bar([Slot("I")], meter=Meter(3, 4)), Bar(same=True)), "same of bar 2"),
        (lambda: chart_of(ONE, pickup=4), "pickup"),
        (lambda: chart_of(ONE, pickup=Fraction(9, 2)), "pickup"),
        (lambda: chart_of(Bar([Slot("I")], repeat_start=True)), "repeat_start of bar 1"),
        (lambda: chart_of(ONE, Bar([Slot("I")], jump="D.S.")), "jump of bar 2"),
    ],
)
def test_what_cannot_be_played_is_refused(make: Callable[[], object], name: str) -> None:
    """By the name of the field and, in a chart, the bar counted from 1."""
    with pytest.raises(ConditionError) as caught:
        make()
    assert caught.value.name == name


def test_the_settings_of_a_section_hold_in_it_alone() -> None:
    """What a section does not say, the chart says."""
    chart = Chart.parse(
        "key: F\nmetre: 3/4\ntempo: 90\n[A] | F |\n[B]\nkey: Dm\nmetre: 4/4\n| Dm |\n[C] | 2/4 F |"
    )
    first, second, third = chart.written
    assert (first.key, first.meter, first.tempo_bpm) == (Key.parse("F"), Meter(3, 4), 90)
    assert (second.key, second.meter, second.tempo_bpm) == (Key.parse("Dm"), Meter(4, 4), 90)
    assert (third.key, third.meter, third.length) == (Key.parse("F"), Meter(2, 4), Fraction(2))
    assert (chart.key, chart.meter) == (Key.parse("F"), Meter(3, 4))
    assert Chart.parse("| C |").meter == Meter(4, 4)


def test_a_pickup_is_the_end_of_its_bar() -> None:
    """Its beats are the last of the metre."""
    first, second = Chart.parse("pickup: 1\n| G7 {4.5} | C |").written
    assert [first.lead_in, first.length, second.lead_in] == [Fraction(3), Fraction(1), Fraction(0)]
    assert first.hits == (Hit(Fraction(1, 2)),)


def test_chords_map_and_everything_else_stays() -> None:
    """Transposing by hand: N.C., places, signs and settings are not touched."""
    text = "key: F\n[A]\n|: C7 N.C. {1 2.5>} | % | <F>@1 F7@3.5 :| x3\n[Coda]\n| Bb / / / |"
    chart = Chart.parse(text)
    fourth = Interval.parse("P4")
    moved = chart.mapped(lambda chord: chord.transposed(fourth))
    assert str(moved) == str(chart).replace("Bb", "Eb").replace("<F> F7", "<Bb> Bb7").replace(
        "C7", "F7"
    )
    assert moved.settings == chart.settings


def test_keyed_gives_each_chord_its_key() -> None:
    """That of the section, else that of the chart, else none."""
    chart = Chart.parse("| C |\n[B]\nkey: G\n| G |")
    keys: list[Key | None] = []

    def note_key(chord: Chord, key: Key | None) -> Chord:
        keys.append(key)
        return chord

    assert chart.keyed(note_key) == chart
    assert keys == [None, Key.parse("G")]


def test_warnings_name_their_bar() -> None:
    """What the chords could also mean, and shares that no player counts."""
    chart = Chart.parse("| C F G | C2 |\n| C F G Am |\n| C F G |")
    assert [warning.partition(":")[0] for warning in chart.warnings] == ["bar 1", "bar 2", "bar 4"]
    assert Chart.parse("metre: 3/4\n| C G7 | C F G |").warnings == ()


def test_equal_charts_print_equal_text() -> None:
    """However they were written."""
    one = Chart.parse("|Cmaj7|F/G|\n|% |")
    two = Chart.parse("| CΔ | F/G | % |")
    assert one == two
    assert str(one) == str(two)
    assert hash(one) == hash(two)
