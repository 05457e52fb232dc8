"""The overview of the bar."""

import pytest

from gripwright import Meter
from gripwright_rhythm.ladder import place_rows


# By the ladder of the table: beats from rung 12 on, off-beats from 17 on.
@pytest.mark.parametrize(
    ("meter", "rungs"),
    [
        ("4/4", {"1": 1, "1.5": 17, "2": 12, "2.5": 18, "3": 13, "3.5": 19, "4": 14, "4.5": 20}),
        ("3/4", {"1": 1, "1.5": 17, "2": 12, "2.5": 18, "3": 13, "3.5": 19}),
        # The middle eighths are no off-beats of the ladder.
        (
            "6/8",
            {"8th-1": 1, "8th-2": None, "8th-3": 17, "8th-4": 12, "8th-5": None, "8th-6": 18},
        ),
    ],
)
def test_rungs_of_the_places(meter: str, rungs: dict[str, int | None]) -> None:
    """Each place has the rung that takes it up first."""
    rows = place_rows(Meter.parse(meter))
    assert {row.place.label: row.rung for row in rows} == rungs
