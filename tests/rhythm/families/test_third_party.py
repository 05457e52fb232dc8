"""A stranger adds a rhythm family in fifteen lines."""

from pathlib import Path

import pytest

from gripwright import ConditionError, Meter, load_registry
from tests.rhythm.families import third_party


def test_a_stranger_adds_a_family() -> None:
    """The registry has it beside the others, and it answers as they do."""
    registry = load_registry(strict=True, plugins=[("stranger", third_party)])
    family = registry.rhythm_families["after-beats"]
    (pattern,) = family.patterns(Meter(3, 4), seed=0)
    assert str(pattern) == "1.5' 2.5' 3.5'"
    assert Meter(6, 8) not in family.meters
    with pytest.raises(ConditionError, match="'after-beats' cannot be '6/8': expected 4/4, 3/4"):
        family.patterns(Meter(6, 8), seed=0)


def test_in_fifteen_lines() -> None:
    """Without its docstrings and blank lines the module is no longer."""
    lines = Path(third_party.__file__).read_text(encoding="utf-8").splitlines()
    assert len([line for line in lines if line.strip() and '"""' not in line]) <= 15
