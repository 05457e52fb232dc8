"""The search as an operation."""

import pickle
from typing import Any

import attrs
import pytest

import gripwright
from gripwright import Chord, Registry, find_voicings, load_registry
from gripwright.errors import ConditionError, UnknownNameError
from gripwright.neck.diversity import diverse
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.voicing_row import VoicingRow
from gripwright_server.operations.voicings import (
    ORDERS,
    NoVoicingError,
    VoicingsRequest,
    voicings,
)


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


@pytest.mark.parametrize("limit", [1, 20])
def test_diverse_voicings_are_those_that_the_library_chooses(
    registry: Registry, limit: int
) -> None:
    """Every voicing is counted; those shown differ, the first of the order first."""
    request = VoicingsRequest(symbol="Cmaj7", order="ease", limit=limit, diverse=True)
    result = voicings(request, lambda: registry)
    plain = voicings(attrs.evolve(request, diverse=False), lambda: registry)
    shown = [row.id for row in result.rows()]
    assert (result.count, result.returned) == (plain.count, limit)
    assert shown == [voicing.id for voicing in diverse(plain.table, limit)]
    assert shown[0] == next(plain.rows()).id


def test_diverse_voicings_cover_more_of_the_neck_than_the_first(registry: Registry) -> None:
    """Twenty of them lie in more places, with no fewer families and top degrees."""
    request = VoicingsRequest(symbol="Cmaj7")
    first = list(voicings(request, lambda: registry).rows())
    spread = list(voicings(attrs.evolve(request, diverse=True), lambda: registry).rows())
    assert len(_places(spread)) > len(_places(first))
    assert len(_families(spread)) >= len(_families(first))
    assert len({row.top_degree for row in spread}) >= len({row.top_degree for row in first})


def _families(rows: list[VoicingRow]) -> set[str]:
    return {name for row in rows for name in row.families}


def _places(rows: list[VoicingRow]) -> set[int]:
    return {min((fret for fret in row.frets if fret), default=0) for row in rows}


def test_diverse_without_a_limit_is_refused(registry: Registry) -> None:
    """To choose, one must know how many."""
    request = VoicingsRequest(symbol="C", limit=None, diverse=True)
    with pytest.raises(ConditionError, match="limit") as caught:
        voicings(request, lambda: registry)
    assert caught.value.name == "limit"


def test_chord_with_too_many_tones_is_told_the_nearest_reductions(registry: Registry) -> None:
    """A chord of five essential tones on four strings: each reduction is found when asked for."""
    request = VoicingsRequest(symbol="C13b9#11", instrument="ukulele")
    with pytest.raises(NoVoicingError) as caught:
        voicings(request, lambda: registry)
    reductions = caught.value.reductions
    assert {str(tone) for one in reductions for tone in one.gives_up} == {"13", "#11", "b9"}
    for reduction in reductions:
        reduced = attrs.evolve(request, symbol=str(reduction.chord))
        assert voicings(reduced, lambda: registry).count == reduction.count
    copy = pickle.loads(pickle.dumps(caught.value))
    assert copy.reductions == reductions


def test_reductions_are_offered_where_a_hand_is_too_small_and_not_for_a_condition(
    registry: Registry,
) -> None:
    """One finger is a fact of the player; a condition of the request is to be loosened."""
    one_finger = VoicingsRequest(symbol="Ab7#9b13", instrument="ukulele", fingers=1)
    with pytest.raises(NoVoicingError) as caught:
        voicings(one_finger, lambda: registry)
    assert caught.value.condition == "fingers"
    assert caught.value.reductions
    with pytest.raises(NoVoicingError) as caught:
        voicings(VoicingsRequest(symbol="C", highest_fret=1, no_open=True), lambda: registry)
    assert caught.value.condition in {"highest_fret", "no_open"}
    assert caught.value.reductions == ()


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
