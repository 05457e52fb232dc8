"""The table of strategies."""

from gripwright import load_registry
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.strategies import lines as strategy_lines
from gripwright_server.operations.strategies import StrategiesRequest, strategies


def _lines(chord: str | None = None) -> list[str]:
    result = strategies(StrategiesRequest(chord=chord), load_registry)
    return [line.rstrip() for line in strategy_lines(result, Screen())]


def test_each_strategy_stands_with_its_sentence() -> None:
    """One line a strategy, and how to see its stacks."""
    lines = _lines()
    assert "guide-tones      Third and seventh (or sixth) alone" in lines
    assert "--chord" in lines[-1]


def test_stacks_of_a_chord_are_written_from_the_lowest_tone() -> None:
    """All of a few, the first of many with the number of the rest, and none where there are none.

    Octave-doubled C13 has 498 stacks.
    """
    lines = _lines("C13")
    assert lines[:2] == ["C13  C  E  G  Bb  D  A", "     1  3  5  b7  9  13"]
    assert "shell            frame       1-3-b7  1-b7-3" in lines
    assert "spread                       none for this chord" in lines
    assert "any              as written  any order" in lines
    assert any(line.endswith("  +490") for line in lines)
    assert max(map(len, lines)) <= 80
