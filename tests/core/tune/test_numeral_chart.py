"""Charts of numerals, and the generic forms in every key."""

from __future__ import annotations

import pytest

from gripwright import Chart, ChartError, ConditionError
from gripwright.tune import Key, forms
from gripwright.tune.numeral_chart import as_numerals, numeral_chart, realised
from tests.core.tune.numeral_strategies import MAJOR_KEYS, MINOR_KEYS


@pytest.mark.parametrize("name", forms())
def test_every_form_reads_out_in_every_key_as_it_was_written(name: str) -> None:
    """Realised and read back, a form is the same numerals; in its chords no root is far-fetched."""
    form = forms()[name]
    chart = numeral_chart(form.text)
    for key in MINOR_KEYS if form.minor else MAJOR_KEYS:
        chords = realised(chart, key)
        assert as_numerals(chords).sections == chart.sections
        assert chords.key == key
        assert Chart.parse(str(chords)) == chords


@pytest.mark.parametrize("name", forms())
def test_the_text_of_a_form_prints_back_to_itself(name: str) -> None:
    """The forms are written as the library writes numerals."""
    chart = numeral_chart(forms()[name].text)
    assert numeral_chart(str(chart)) == chart


@pytest.mark.parametrize(
    ("name", "key", "text"),
    [
        # Common practice: the blues of the trade, in F and in C minor.
        (
            "jazz-blues",
            "F",
            (
                "| F7 | Bb7 | F7 | Cm7 F7 |\n| Bb7 | Bdim7 | F7 | Am7 D7 |\n"
                "| Gm7 | C7 | F7 D7 | Gm7 C7 |"
            ),
        ),
        (
            "minor-blues",
            "Cm",
            "| Cm7 | % | % | % |\n| Fm7 | % | Cm7 | % |\n| Ab7 | G7 | Cm7 | Dm7b5 G7 |",
        ),
        ("backdoor", "C", "| Fm7 | Bb7 | Cmaj7 | % |"),
        ("turnaround-tritone", "Bb", "| Bbmaj7 Db7 | Gb7 B7 |"),
        ("turnaround-flat-three", "Gb", "| Gbmaj7 Adim7 | Abm7 Db7 |"),
    ],
)
def test_forms_in_a_key(name: str, key: str, text: str) -> None:
    """The chords that players expect."""
    assert str(realised(numeral_chart(forms()[name].text), Key.parse(key))) == f"key: {key}\n{text}"


def test_a_chart_of_numerals_may_say_its_keys() -> None:
    """Then nobody need name one; and named, the keys of sections move along."""
    chart = numeral_chart("key: C\n[A] | ii7 V7 | Imaj7 |\n[B]\nkey: Ab\n| ii7 V7 | Imaj7 |")
    plain = [str(bar.slots[0].symbol) for bar in realised(chart).bars]
    assert plain == ["Dm7", "Cmaj7", "Bbm7", "Abmaj7"]
    moved = realised(chart, Key.parse("D"))
    assert [str(bar.slots[0].symbol) for bar in moved.bars] == ["Em7", "Dmaj7", "Cm7", "Bbmaj7"]
    assert moved.sections[1].settings.key == Key.parse("Bb")


def test_no_chord_stays_no_chord() -> None:
    """Both ways."""
    chart = numeral_chart("key: F\n| N.C. | <I6/9> {1'} |")
    chords = realised(chart)
    assert chords.bars[0].slots[0].symbol is None
    assert as_numerals(chords) == chart


def test_bare_numerals_of_a_blues() -> None:
    """As the trade abbreviates it."""
    assert str(numeral_chart("| I | IV | I | V |", blues=True)) == "| I7 | IV7 | I7 | V7 |"


def test_without_a_key_numerals_are_refused() -> None:
    """Neither chords nor numerals can be had."""
    with pytest.raises(ConditionError, match="a key, in the chart or beside it"):
        realised(numeral_chart("| ii7 V7 |"))
    with pytest.raises(ConditionError, match="a key, in the chart or beside it"):
        as_numerals(Chart.parse("| Dm7 G7 |"))
    assert str(as_numerals(Chart.parse("| Dm7 G7 |"), Key.parse("C"))) == "| ii7 V7 |"
    with pytest.raises(ConditionError, match="a minor key"):
        realised(numeral_chart("key: Am\n| i6 |"), Key.parse("C"))


def test_all_faults_of_a_chart_of_numerals_come_at_once() -> None:
    """With line and column, as in a chart of chords."""
    with pytest.raises(ChartError) as caught:
        numeral_chart("| ii77 V7 |\n| Imaj7 | Vi7 |")
    faults = [(fault.line, fault.column, fault.nearest) for fault in caught.value.faults]
    assert faults == [(1, 6, "ii7"), (2, 12, "V7")]
