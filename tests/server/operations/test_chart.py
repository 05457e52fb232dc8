"""The operation chart: shown, transposed, behind a capo, as numerals."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, ConditionError, load_registry
from gripwright.tune.forms import forms
from gripwright_server.operations.chart import ChartRequest, ChartResult, chart


def _chart(text: str | None = None, **values: Any) -> ChartResult:
    return chart(ChartRequest(chart=text, **values), load_registry)


def test_rows_are_the_bars_as_written() -> None:
    """A row says what holds in its bar, and the signs in the words of a chart."""
    text = (
        "key: F\nmetre: 3/4\npickup: 1\n| C7 |\n[A]\n|: F7 | <Bb7> |1. % :|2. N.C. Fine |\n"
        "[B]\nfeel: swing\n| Segno C7@2.5 | / / / D.S. al Fine |"
    )
    rows = list(_chart(text).rows())
    assert [row.bar for row in rows] == list(range(1, 8))
    assert [row.section for row in rows] == [None, "A", "A", "A", "A", "B", "B"]
    assert (rows[0].beats, rows[5].beats, rows[6].beats) == (("3",), ("5/2",), ())
    assert (rows[2].symbols, rows[2].held) == (("Bb7",), (True,))
    assert (rows[3].same, rows[3].symbols) == (True, ("Bb7",))
    assert rows[4].symbols == (None,)
    assert [row.signs for row in rows] == [
        (),
        ("|:",),
        (),
        ("1.", ":|"),
        ("2.", "Fine"),
        ("Segno",),
        ("D.S. al Fine",),
    ]
    assert {(row.key, row.metre) for row in rows} == {("F", "3/4")}
    assert (rows[4].feel, rows[5].feel) == (None, "swing")


def test_facts_say_how_long_the_form_is() -> None:
    """The text reads back to itself, and repeats count."""
    result = _chart("|:Dm7|G7:|C6|")
    assert result.text == result.facts["text"] == str(Chart.parse("|:Dm7|G7:|C6|"))
    assert (result.count, result.facts["bars_as_played"], result.facts["quarters"]) == (3, 5, "20")


@pytest.mark.parametrize(("text", "sign"), [(":| x3", ":| x3"), (":| open", ":| open")])
def test_number_of_times_is_a_sign(text: str, sign: str) -> None:
    """Three times in all, or as often as one likes."""
    (row,) = _chart(f"|: C6 {text}").rows()
    assert row.signs == ("|:", sign)


def test_chart_goes_into_another_key() -> None:
    """Into a key by its name, or by half steps, with flats where the key has them."""
    text = "key: C\n| Dm7 G7 | C6 |"
    assert _chart(text, to_key="Ab").text == "key: Ab\n| Bbm7 Eb7 | Ab6 |"
    assert _chart(text, by=-4).text == "key: Ab\n| Bbm7 Eb7 | Ab6 |"
    assert _chart("| F#m7 B7 |", by=1).text == "| Gm7 C7 |"


@pytest.mark.parametrize(
    ("text", "values", "field"),
    [
        ("| C |", {"to_key": "F"}, "key"),
        ("| C |", {"numerals": True}, "key"),
        ("key: C\n| C |", {"to_key": "Fm"}, "to_key"),
        ("key: C\n| C |", {"to_key": "F", "by": 5}, "by"),
    ],
)
def test_what_stands_in_the_way_is_named(text: str, values: dict[str, Any], field: str) -> None:
    """The error carries the field of the request to change."""
    with pytest.raises(ConditionError) as caught:
        _chart(text, **values)
    assert caught.value.name == field


def test_capo_shows_what_is_gripped() -> None:
    """With a capo at the first fret, Ab is gripped as G (common practice)."""
    result = _chart("key: Ab\n| Ab Fm7 | % | N.C. |", capo=1)
    assert result.text == "key: Ab\n| Ab Fm7 | % | N.C. |"
    assert [row.gripped for row in result.rows()] == [("G", "Em7"), ("G", "Em7"), (None,)]
    assert result.facts["gripped_text"].startswith("key: G\n")
    assert next(_chart("| C |").rows()).gripped is None


@given(name=st.sampled_from(list(forms())), fifths=st.integers(-5, 5))
def test_realising_a_form_and_reading_its_numerals_is_the_form(name: str, fifths: int) -> None:
    """Numerals to chords and back again."""
    form = forms()[name]
    major = ("Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B")
    minor = ("Bbm", "Fm", "Cm", "Gm", "Dm", "Am", "Em", "Bm", "F#m", "C#m", "G#m")
    key = (minor if form.minor else major)[fifths + 5]
    result = _chart(form=name, key=key, numerals=True)
    plain = _chart(form.text, key=key, numerals=True)
    assert result.text == plain.text
    assert [row.symbols for row in result.rows()] == [
        tuple(str(slot.symbol) for slot in bar.slots)
        for bar in Chart.parse(form.text, reader=str).written
    ]
