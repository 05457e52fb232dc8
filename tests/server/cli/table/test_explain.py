"""The explanation of a shape, as a player sees it."""

import pytest

from gripwright import Registry, load_registry
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.explain import lines as explain_lines
from gripwright_server.operations.explain import ExplainRequest, explain

REGISTRY: Registry = load_registry()


def _lines(symbol: str, shape: str, *, width: int = 80, instrument: str = "guitar") -> list[str]:
    request = ExplainRequest(symbol=symbol, shape=shape, instrument=instrument)
    result = explain(request, lambda: REGISTRY)
    return [line.rstrip() for line in explain_lines(result, Screen(width=width))]


def test_faulty_shape_is_drawn_with_its_reasons_and_what_to_play_instead() -> None:
    """From top to bottom: chord, shape, what sounds, what is wrong, what would be right."""
    lines = _lines("Cmaj7", "x-3-5-3-5-x")
    assert lines[:3] == [
        "Cmaj7  C  E  G  B",
        "       1  3  5  7",
        "x-3-5-3-5-x on guitar, standard (E2 A2 D3 G3 B3 E4)",
    ]
    assert "      1  5  b7 3" in lines
    place = lines.index("This is no playable voicing of Cmaj7:")
    assert lines[place + 1 : place + 5] == [
        "- string 3 at fret 3 sounds Bb3 (b7), which is no tone of Cmaj7",
        "- the 7 (B) is missing",
        "",
        "Instead:",
    ]
    assert lines[place + 6].split()[0] == "x-3-5-4-5-x"


def test_playable_shape_is_told_with_inversion_families_and_fingers() -> None:
    """A right answer is worth as many words as a wrong one."""
    lines = _lines("Cmaj7", "x-3-5-4-5-x")
    place = lines.index("This is a playable voicing of Cmaj7:")
    assert lines[place + 1] == "- root position"
    assert lines[place + 2].startswith("- families: drop-2")
    assert lines[place + 3].startswith("- fingering: index on string 5 at fret 3")
    assert "Instead:" not in lines


def test_tones_left_out_and_the_inversion_are_told() -> None:
    """C13 without its root and fifth has its seventh in the bass."""
    lines = _lines("C13", "x-x-8-9-10-10")
    assert "- left out: 1 5" in lines
    assert any(line.endswith(" inversion") for line in lines)


@pytest.mark.parametrize(
    ("symbol", "shape", "instrument"),
    [
        ("Cmaj7", "x-3-x-8-x-12", "guitar"),
        ("C", "x-x-x-x-x-x", "guitar"),
        ("Am7", "0-0-0-0", "ukulele"),
        ("C", "0-0-0-0-3", "banjo"),
        ("F#m7b5", "0-1-2-3-4-5-6-7", "eight-string"),
    ],
)
@pytest.mark.parametrize("width", [40, 80])
def test_no_line_is_wider_than_the_screen(
    symbol: str, shape: str, instrument: str, width: int
) -> None:
    """Reasons are wrapped, and diagrams stand below one another where they must."""
    *_, _ = lines = _lines(symbol, shape, width=width, instrument=instrument)
    assert max(map(len, lines[3:])) <= width
