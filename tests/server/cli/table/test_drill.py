"""The table of a drill: tablature as wide as the screen, as far as it can be."""

import pytest

from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table import drill as table
from gripwright_server.operations.drill import DrillRequest, DrillResult, drill
from tests.server.operations.rhythm_registry import REGISTRY


def _drilled(**values: object) -> DrillResult:
    request = DrillRequest(chart="| Dm7 | G7 | C2 |", max_notes=4, **values)  # type: ignore[arg-type]
    return drill(request, lambda: REGISTRY)


@pytest.mark.parametrize(("screen", "expected"), [(20, 60), (60, 60), (80, 80), (1000, 400)])
def test_any_screen_has_its_tablature(screen: int, expected: int) -> None:
    """A window too narrow for a tablature, or wider than any, is no reason to show none."""
    lines = list(table.lines(_drilled(), Screen(width=screen)))
    assert any(line.lstrip().startswith("E4|") for line in lines)
    assert max(map(len, lines)) <= expected


def test_every_drill_is_shown() -> None:
    """One after the other, with a blank line between."""
    lines = list(table.lines(_drilled(also=("title: Other\n| A7 |",)), Screen()))
    assert lines[lines.index("Other") - 1] == ""
    assert sum(line.startswith("Rhythm:") for line in lines) == 2


def test_warnings_are_left_to_stderr() -> None:
    """The command says them once for every format."""
    result = _drilled()
    assert any("added ninth" in warning for warning in result.warnings)
    assert not any("added ninth" in line for line in table.lines(result, Screen()))
