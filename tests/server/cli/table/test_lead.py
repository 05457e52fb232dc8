"""The table of a line, as a player sees it."""

from typing import Any

import pytest

from gripwright import Registry, load_registry
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.lead import lines as lead_lines
from gripwright_server.operations.lead import LeadRequest, lead

REGISTRY: Registry = load_registry()
FULL = "| Abm7b5/Gb Db13b9 | Gbmaj7#11 Cb9#11 | Ebm11 Ab7alt@2.5 Dbmaj9@4 | Gb6/9 |"


def _lines(chart: str, *, width: int = 80, **values: Any) -> list[str]:
    result = lead(LeadRequest(chart=chart, **values), lambda: REGISTRY)
    return [line.rstrip() for line in lead_lines(result, Screen(width=width))]


def test_each_chord_has_a_line_with_place_grip_top_and_cost() -> None:
    """From top to bottom: what is led, the chords, what to sing, what it costs."""
    lines = _lines("title: Sketch\n| Dm7 G7 | Cmaj7 |", strategy="drop-2", strings=(5, 4, 3, 2))
    assert lines[0] == "Sketch: 3 chords on guitar, standard (E2 A2 D3 G3 B3 E4)"
    assert lines[2].split() == [
        *("bar", "chord", "grip", "pitches", "top"),
        *("cost", "voices", "hand", "top", "grip"),
    ]
    rows = [line.split() for line in lines[3:6]]
    assert [row[:2] for row in rows] == [["1.1", "Dm7"], ["1.3", "G7"], ["2.1", "Cmaj7"]]
    sung = next(line for line in lines if line.startswith("To sing: "))
    assert sung.split()[2:] == [row[7] for row in rows]
    for row in rows:
        total, *parts = map(float, row[8:])
        assert total == pytest.approx(sum(parts), abs=0.21)
    (cost,) = (line for line in lines if line.startswith("Cost: "))
    assert "used" not in cost


def test_choruses_follow_one_another_with_what_used_grips_pay() -> None:
    """Each has its number, its top line and its cost."""
    lines = _lines("| C6 |", choruses=3, surcharge=2.0, candidates=2)
    assert [line for line in lines if line.startswith("Chorus")] == [
        "Chorus 1",
        "Chorus 2",
        "Chorus 3",
    ]
    assert sum(line.startswith("To sing: ") for line in lines) == 3
    (paid,) = (line for line in lines if "used 2.0" in line)
    assert lines.index(paid) > lines.index("Chorus 3")


@pytest.mark.parametrize(
    ("instrument", "values"),
    [("guitar", {"choruses": 2, "lowest_fret": 9}), ("ukulele", {}), ("seven-string", {})],
)
def test_no_line_is_wider_than_the_screen(instrument: str, values: dict[str, Any]) -> None:
    """Pitches stand below the grip where they have no room beside it."""
    chart = "| Dm7 | G7alt |" if instrument == "ukulele" else FULL
    request = LeadRequest(chart=chart, instrument=instrument, **values)
    result = lead(request, lambda: REGISTRY)
    for width in (50, 60, 80):
        lines = [line.rstrip() for line in lead_lines(result, Screen(width=width))]
        assert max(map(len, lines)) <= width


def test_pitches_stand_below_where_the_screen_is_narrow() -> None:
    """None is lost."""
    wide, narrow = _lines("| Dm7 |"), _lines("| Dm7 |", width=50)
    pitches = " ".join(wide[3].split()[3:-5])
    assert narrow[4].strip() == pitches
