"""The operation study: what of a request reaches the study, and what comes back."""

from typing import Any, get_args

import pytest

from gripwright import (
    Chord,
    ConditionError,
    NotationError,
    Pitch,
    Registry,
    UnknownNameError,
    load_registry,
)
from gripwright.errors import NoCandidateError
from gripwright.leading.study import Contour
from gripwright.leading.study import study as core_study
from gripwright.theory.scale import scales
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.study import CONTOURS, StudyRequest, StudyResult, study

REGISTRY: Registry = load_registry()


def _study(symbol: str = "Dm7", **values: Any) -> StudyResult:
    usual = {"string_sets": "4,3,2,1", "no_doubles": True, "highest_fret": 12}
    return study(StudyRequest(symbol=symbol, **{**usual, **values}), lambda: REGISTRY)


def test_words_are_those_of_the_library() -> None:
    """What a request can name is what there is."""
    assert set(CONTOURS) == set(get_args(Contour))


def test_rows_are_the_steps_of_the_study_of_the_library() -> None:
    """Nothing is added and nothing lost."""
    made = core_study(
        Chord.parse("Dm7"),
        REGISTRY.instruments["guitar"],
        top=next(scale for scale in scales() if scale.name == "dorian"),
        contour="arch",
        lowest=Pitch.parse("A4"),
        highest=Pitch.parse("E5"),
        string_sets=[(4, 3, 2, 1), (5, 4, 3, 2)],
        strategy=REGISTRY.strategies["any"],
        no_doubles=True,
        highest_fret=12,
    )
    result = _study(
        top="Dorian",
        contour="arch",
        lowest="A4",
        highest="E5",
        string_sets="4,3,2,1 / 5,4,3,2",
    )
    rows = list(result.rows())
    assert [row.id for row in rows] == [voicing.id for voicing in made.voicings]
    assert [row.step for row in rows] == list(range(1, len(rows) + 1))
    assert result.facts["top_line"] == tuple(map(str, made.top_line))
    assert round(result.facts["cost"]["total"] * 1000) == made.cost
    assert len(rows) == result.count == result.returned


def test_line_that_is_given_is_on_top() -> None:
    """The ninth and the thirteenth are named for the chord."""
    rows = list(_study("G7", top="A4, B4 E5").rows())
    assert [row.top for row in rows] == ["A4", "B4", "E5"]
    assert [row.top_degree for row in rows] == ["9", "3", "13"]
    assert rows[0].added == ("9",)


def test_known_grips_are_marked() -> None:
    """A known one is taken where alternating is dear."""
    known = "x-x-7-7-6-8"
    rows = list(_study(top="A4 C5 D5", known=known, alternation=500.0).rows())
    assert [row.known for row in rows] == [row.shape == known for row in rows]
    assert any(row.known for row in rows)


@pytest.mark.parametrize(
    ("values", "error", "field"),
    [
        ({"top": "dorin"}, UnknownNameError, None),
        ({"top": "E4 X4"}, NotationError, None),
        ({"top": "E4 -"}, ConditionError, "top"),
        ({"top": "C9"}, NoCandidateError, None),
        ({"top": ","}, UnknownNameError, None),
        ({"string_sets": "4,3;2"}, NotationError, None),
        ({"string_sets": "9,8,7"}, ConditionError, "string_sets"),
        ({"known": "x-x-7"}, NotationError, None),
        ({"lowest": "low"}, NotationError, None),
        ({"lowest": "C5", "highest": "C4"}, NoCandidateError, None),
    ],
)
def test_wrong_request_is_told(
    values: dict[str, Any], error: type[Exception], field: str | None
) -> None:
    """What cannot be read, what is unknown and what no voicing has."""
    with pytest.raises(error) as caught:
        _study(**values)
    assert not isinstance(caught.value, NothingFoundError)
    assert getattr(caught.value, "name", None) == field or field is None


def test_place_of_a_bad_set_is_told() -> None:
    """The position is the first that does not fit."""
    with pytest.raises(NotationError) as caught:
        _study(string_sets="4,3;2")
    assert caught.value.position == 3
