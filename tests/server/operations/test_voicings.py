"""The search as an operation."""

from typing import Any

import pytest

import gripwright
from gripwright import Chord, Registry, find_voicings, load_registry
from gripwright.errors import ConditionError, UnknownNameError
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.voicings import ORDERS, VoicingsRequest, voicing_row, voicings


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
    """Each name that a request can give is an order of the ranking."""
    for name in ORDERS:
        assert callable(getattr(gripwright.ranking, name))


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
    [{"strings": (9,)}, {"bass_degree": "99"}, {"lowest_fret": 9, "highest_fret": 3}],
)
def test_condition_that_cannot_be_met_by_any_grip_is_refused(
    registry: Registry, conditions: dict[str, Any]
) -> None:
    """What contradicts the instrument, the chord or itself ends in an error that says so."""
    with pytest.raises((ConditionError, NothingFoundError)):
        voicings(VoicingsRequest(symbol="C", **conditions), lambda: registry)


def test_row_of_a_reentrant_instrument_names_lowest_and_highest_by_pitch(
    registry: Registry,
) -> None:
    """Bass and top are those that sound lowest and highest, whatever string they are on."""
    ukulele = registry.instruments["ukulele"]
    grip = find_voicings(Chord.parse("C"), ukulele).where(shape="0-0-0-3")[0]
    row = voicing_row(grip)
    assert row.pitches == ("G4", "C4", "E4", "C5")
    assert (row.bass_degree, row.top_degree) == ("1", "1")
    assert (row.notes, row.open_strings) == (4, 3)
