"""The place on the ladder that a profile keeps."""

from typing import Any

import pytest

from gripwright.errors import ConditionError
from gripwright.vocabulary import LadderPlace


@pytest.mark.parametrize(
    "wrong",
    [
        {"rung": 0},
        {"rung": True},
        {"rung": 1.5},
        {"part": 0},
        {"part": "2"},
        {"tempo_bpm": 1.9},
        {"tempo_bpm": 800.5},
        {"tempo_bpm": float("nan")},
        {"tempo_bpm": True},
        {"tempo_bpm": "60"},
    ],
)
def test_numbers_out_of_range_are_refused(wrong: dict[str, Any]) -> None:
    """Rungs and drills count from one; a tempo is one that a drill takes."""
    with pytest.raises(ConditionError):
        LadderPlace(**wrong)


def test_ends_of_the_range_are_taken() -> None:
    """The slowest and the fastest tempo, and the foot of the ladder."""
    assert LadderPlace(tempo_bpm=2).tempo_bpm == 2
    assert LadderPlace(tempo_bpm=800).tempo_bpm == 800
    assert LadderPlace() == LadderPlace(rung=1, part=1, tempo_bpm=60)
