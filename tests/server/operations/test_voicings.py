"""The search as an operation."""

from typing import Any

import pytest

import gripwright
from gripwright import Chord, Registry, find_voicings, load_registry
from gripwright.errors import ConditionError, UnknownNameError
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.voicings import ORDERS, VoicingsRequest, voicings


@pytest.fixture(scope="module")
def registry() -> Registry:
    """The plugins that are installed."""
    return load_registry()


def test_answer_is_that_of_the_library(registry: Registry) -> None:
    """The operation adds names and a limit, and nothing else."""
    request = VoicingsRequest(symbol="Dm7", top_degree="b3", no_open=True, order="ease")
    result = voicings(request, lambda: registry)
    table = find_voicings(
        Chord.parse("Dm7"), registry.instruments["guitar"], top_degree="b3", no_open=True
    ).order_by(gripwright.ranking.ease)
    assert result.count == len(table)
    assert [row.id for row in result.rows()] == [voicing.id for voicing in table[:20]]


def test_no_limit_shows_all(registry: Registry) -> None:
    """None is no limit."""
    request = VoicingsRequest(symbol="C", strings=(4, 3, 2), limit=None)
    result = voicings(request, lambda: registry)
    assert result.returned == result.count == len(list(result.rows()))


def test_orders_are_those_of_the_library() -> None:
    """Every order of the ranking can be named, and no other."""
    assert tuple(gripwright.ranking.RANKINGS) == ORDERS


def test_nothing_found_is_an_error_with_a_reason(registry: Registry) -> None:
    """An empty table is never answered; the sentence names a condition."""
    request = VoicingsRequest(symbol="C", highest_fret=1, no_open=True)
    with pytest.raises(NothingFoundError) as caught:
        voicings(request, lambda: registry)
    assert len(caught.value.sentence) > 20


def test_unknown_strategy_names_the_nearest(registry: Registry) -> None:
    """A misspelt strategy is told what there is."""
    with pytest.raises(UnknownNameError) as caught:
        voicings(VoicingsRequest(symbol="C", strategy="anyy"), lambda: registry)
    assert "any" in caught.value.nearest


@pytest.mark.parametrize(
    "conditions",
    [{"strings": (9,)}, {"bass_degree": "#4"}, {"lowest_fret": 9, "highest_fret": 3}],
)
def test_condition_that_cannot_be_met_by_any_grip_is_refused(
    registry: Registry, conditions: dict[str, Any]
) -> None:
    """What contradicts the instrument, the chord or itself ends in an error that says so."""
    with pytest.raises((ConditionError, NothingFoundError)):
        voicings(VoicingsRequest(symbol="C", **conditions), lambda: registry)
