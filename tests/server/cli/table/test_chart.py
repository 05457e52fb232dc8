"""The table of a chart, as a player reads it."""

from typing import Any

import pytest

from gripwright import load_registry
from gripwright.tune.forms import forms
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.chart import lines as chart_lines
from gripwright_server.operations.chart import ChartRequest, chart


def _lines(text: str | None = None, *, width: int = 80, **values: Any) -> list[str]:
    result = chart(ChartRequest(chart=text, **values), load_registry)
    return [line.rstrip() for line in chart_lines(result, Screen(width=width))]


def test_bars_stand_under_one_another_with_their_numbers() -> None:
    """Four in a line, the first one numbered."""
    assert _lines("key: F\n[A]\n| F7 | Bb7 Bdim7 | F7 | % | Gm7 | C7 |") == [
        "key: F",
        "[A]",
        "  1 | F7  | Bb7 Bdim7 | F7 | % |",
        "  5 | Gm7 | C7        |",
        "",
        "6 bars. To be read again: --format text",
    ]


def test_signs_and_the_number_of_times_stay_on_their_bar_lines() -> None:
    """A repeat counts in what is played."""
    lines = _lines("|: C6 | Dm7 :| x3")
    assert lines[0] == "  1 |: C6 | Dm7 :| x3"
    assert lines[-1].startswith("2 bars, 6 as played")


def test_pickup_stands_before_the_first_four_bars() -> None:
    """So that the lines begin where phrases do."""
    lines = _lines("pickup: 1\n| G7 | C | F | C | G7 | C | F |")
    assert [line.split()[0] for line in lines[1:3]] == ["1", "6"]


def test_what_is_gripped_stands_below_what_sounds() -> None:
    """Each chord under its own."""
    lines = _lines("key: Ab\n| Ab Fm7 | Eb7/G |", capo=1)
    assert lines[0] == "key: Ab  (gripped key: G)"
    above, below = lines[1:3]
    assert below.split() == ["G", "Em7", "D7/F#"]
    assert above.index("Eb7/G") == below.index("D7/F#")
    assert lines[-1] == "Capo at fret 1: above what sounds, below what is gripped"


def test_comment_with_a_bar_line_is_no_bar() -> None:
    """Only bars are taken apart."""
    lines = _lines("; played | as written\n| C |")
    assert lines[:2] == ["; played | as written", "  1 | C |"]


@pytest.mark.parametrize("name", forms())
@pytest.mark.parametrize("width", [40, 80])
def test_no_form_is_wider_than_the_screen(name: str, width: int) -> None:
    """Fewer bars stand in a line where four have no room."""
    key = "Bbm" if forms()[name].minor else "Gb"
    lines = _lines(form=name, key=key, width=width, capo=1)
    rows = [line for line in lines if "|" in line]
    assert max(map(len, rows)) <= width
    assert sum(line.count("|") for line in lines) >= 2
