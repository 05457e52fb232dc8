"""The generic forms: each reads as a chart, and has the length that the trade gives it."""

import pytest

from gripwright import Chart, UnknownNameError
from gripwright.tune import Key, forms
from gripwright.tune.forms import FORM_KINDS
from gripwright.tune.numeral_chart import numeral_chart, realised

# Bars of one time through: common practice.
LENGTHS = {
    "basic-blues": 12,
    "jazz-blues": 12,
    "minor-blues": 12,
    "aaba-32": 32,
    "turnaround": 2,
    "two-five-one": 4,
    "intro-last-four": 4,
    "intro-last-eight": 8,
    "intro-pedal": 8,
    "ending-tag": 7,
}


@pytest.mark.parametrize("name", forms())
def test_every_form_reads_as_a_chart_of_numerals(name: str) -> None:
    """The text is a chart, printed as it is written, and says something about itself."""
    form = forms()[name]
    assert str(numeral_chart(form.text)) == form.text
    assert form.kind in FORM_KINDS
    assert form.summary.endswith(".")
    assert form.summary[0].isupper()


@pytest.mark.parametrize(("name", "bars"), LENGTHS.items())
def test_lengths(name: str, bars: int) -> None:
    """A blues has twelve bars, a song form thirty-two."""
    assert len(Chart.parse(forms()[name].text, reader=str).unfolded().bars) == bars


def test_the_jazz_blues_bar_by_bar() -> None:
    """The chords of its bars: common practice."""
    chart = Chart.parse(forms()["jazz-blues"].text, reader=str)
    bars = ",".join(" ".join(str(slot.symbol) for slot in bar.slots) for bar in chart.bars)
    assert bars == ("I7,IV7,I7,v7 I7,IV7,#IVdim7,I7,iii7 VI7,ii7,V7,I7 VI7,ii7 V7")


# The chords of the forms in a key: common practice.
@pytest.mark.parametrize(
    ("name", "key", "text"),
    [
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
        ("turnaround-tritone", "C", "| Cmaj7 Eb7 | Ab7 Db7 |"),
        ("turnaround-sharp-one", "Bb", "| Bbmaj7 Bdim7 | Cm7 F7 |"),
        ("backdoor", "C", "| Fm7 | Bb7 | Cmaj7 | % |"),
        ("minor-plagal", "C", "| Fmaj7 | Fm6 | Cmaj7 | % |"),
    ],
)
def test_forms_in_a_key(name: str, key: str, text: str) -> None:
    """What a player would write down."""
    chart = realised(numeral_chart(forms()[name].text), Key.parse(key))
    assert str(chart) == f"key: {key}\n{text}"


@pytest.mark.parametrize("tonic", ["C", "F#", "Ab", "B"])
@pytest.mark.parametrize("name", forms())
def test_every_form_is_realised_in_any_key(name: str, tonic: str) -> None:
    """Major and minor forms, in keys of many flats and sharps."""
    form = forms()[name]
    key = Key.parse(tonic + "m" * form.minor)
    chart = realised(numeral_chart(form.text), key)
    assert chart.key == key
    assert len(chart.bars) == len(numeral_chart(form.text).bars)


def test_every_kind_has_a_form() -> None:
    """Forms, turnarounds, cadences, intros and endings are all there."""
    assert {form.kind for form in forms().values()} == set(FORM_KINDS)


def test_an_unknown_form_brings_the_nearest() -> None:
    """The mapping helps whoever misspells a name."""
    with pytest.raises(UnknownNameError) as caught:
        forms()["jazzblues"]
    assert "jazz-blues" in caught.value.nearest
