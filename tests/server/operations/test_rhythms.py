"""The operations rhythms and ladder: what there is in a metre."""

from typing import Any

import pytest

from gripwright import ConditionError, NotationError, UnknownNameError
from gripwright.meter import Meter, RhythmPattern
from gripwright_rhythm import RUNGS
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.ladder import LadderRequest, LadderResult, ladder
from gripwright_server.operations.rhythms import RhythmsRequest, RhythmsResult, rhythms
from tests.server.operations.rhythm_registry import REGISTRY


def _rhythms(**values: Any) -> RhythmsResult:
    return rhythms(RhythmsRequest(**values), lambda: REGISTRY)


def _ladder(**values: Any) -> LadderResult:
    return ladder(LadderRequest(**values), lambda: REGISTRY)


@pytest.mark.parametrize("meter", ["4/4", "3/4", "5/4", "3+2/4", "6/8", "12/8", "7/8"])
def test_patterns_read_back_from_their_text(meter: str) -> None:
    """The text of a row is what drill --pattern takes."""
    rows = list(_rhythms(meter=meter).rows())
    assert rows
    for row in rows:
        pattern = RhythmPattern.parse(row.text, Meter.parse(row.meter))
        assert pattern.bars == row.bars
        assert str(pattern) == row.text


def test_names_are_unique_in_a_metre() -> None:
    """A name means one pattern."""
    names = [row.name for row in _rhythms(meter="4/4").rows()]
    assert len(set(names)) == len(names)


def test_one_family_alone() -> None:
    """A family asked for by its name comes alone."""
    result = _rhythms(family="backbeat")
    assert {row.family for row in result.rows()} == {"backbeat"}
    assert list(result.facts["families"]) == ["backbeat"]


def test_family_outside_its_metre_refuses_by_its_name() -> None:
    """The error names the family and the metres that it knows."""
    with pytest.raises(ConditionError, match=r"'waltz'.*3/4"):
        _rhythms(family="waltz", meter="4/4")


def test_unknown_family_and_unreadable_metre() -> None:
    """Both are told what was expected."""
    with pytest.raises(UnknownNameError, match="did you mean 'waltz'"):
        _rhythms(family="walz")
    with pytest.raises(NotationError, match="metre"):
        _rhythms(meter="4")


def test_no_family_at_all() -> None:
    """Without plugins the answer is empty and says so."""
    from gripwright import load_registry  # noqa: PLC0415 - this test alone

    bare = load_registry(disabled=["rhythm"])
    with pytest.raises(NothingFoundError, match="no rhythm family knows 4/4"):
        rhythms(RhythmsRequest(), lambda: bare)


def test_ladder_has_every_rung_in_common_time() -> None:
    """Numbered as they are, from the first to the last."""
    result = _ladder()
    assert [one.number for one, _ in result.rungs] == [one.number for one in RUNGS]
    assert result.left_out == ()
    assert result.count == sum(len(one.parts(Meter())) for one in RUNGS)


def test_ladder_leaves_out_what_a_metre_has_not() -> None:
    """A bar of three beats has no fourth."""
    assert _ladder(meter="3/4").left_out == (14, 20, 32)


def test_one_rung_with_its_drills() -> None:
    """Long, short and alternating with all clicks, then the same with 2 and 4."""
    rows = list(_ladder(rung=12).rows())
    assert [row.click for row in rows] == ["all"] * 3 + ["2 4"] * 3
    assert [row.pattern for row in rows] == ["2", "2'", "2 | 2'"] * 2
    assert [row.part for row in rows] == [1, 2, 3, 4, 5, 6]


def test_rung_outside_its_metre() -> None:
    """The error names the rung and what it needs."""
    with pytest.raises(ConditionError, match="rung 14"):
        _ladder(rung=14, meter="3/4")
