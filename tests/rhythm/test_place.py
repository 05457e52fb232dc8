"""Places of the bar: beats, what lies between, and groups."""

from fractions import Fraction

import pytest
from hypothesis import given

from gripwright import Meter
from gripwright.laws.drawing import meters
from gripwright_rhythm.place import beats, group_beats, groups, middle_beat, off_beats, places


# Groups of beats: common practice.
@pytest.mark.parametrize(
    ("text", "grouped", "backbeats", "middle"),
    [
        ("4/4", (2, 2), (2, 4), 3),
        ("3/4", (3,), (2,), 3),
        ("2/4", (2,), (2,), 2),
        ("2/2", (2,), (2,), 2),
        ("5/4", (3, 2), (2, 5), 4),
        ("2+3/4", (2, 3), (2, 4), 3),
        ("7/4", (4, 3), (2, 6), 5),
        ("3+4/4", (3, 4), (2, 5), 4),
        ("6/8", (2,), (2,), 2),
        ("9/8", (3,), (2,), 3),
        ("12/8", (2, 2), (2, 4), 3),
        ("2+2+3/8", (2, 2, 3), (2, 4, 6), 3),
        ("1+4/4", (1, 4), (), 2),
        ("7/8", (), (), None),
        ("1/4", (), (), None),
    ],
)
def test_groups(
    text: str, grouped: tuple[int, ...], backbeats: tuple[int, ...], middle: int | None
) -> None:
    """Written groups count; else the usual ones, where there are any."""
    meter = Meter.parse(text)
    assert groups(meter) == grouped
    assert group_beats(meter, 2) == backbeats
    assert middle_beat(meter) == middle


def test_places_of_a_simple_metre() -> None:
    """Beats and their halves, by their numbers."""
    assert [place.label for place in places(Meter(2, 2))] == ["1", "1.5", "2", "2.5"]
    assert [place.words for place in off_beats(Meter(2, 2))] == ["the and of 1", "the and of 2"]


def test_places_of_compound_metres() -> None:
    """Units, by their numbers; the off-beat is the last of each beat."""
    nine = Meter(9, 16)
    assert [place.label for place in places(nine)] == [f"16th-{unit}" for unit in range(1, 10)]
    assert [place.words for place in off_beats(nine)] == [
        "sixteenth 3",
        "sixteenth 6",
        "sixteenth 9",
    ]
    assert [place.words for place in beats(nine)] == ["beat 1", "beat 2", "beat 3"]
    assert off_beats(nine)[1].beat == Fraction(8, 3)


@given(meters())
def test_places_divide_the_bar(meter: Meter) -> None:
    """Places lie equally far apart, from the first beat to before the bar line."""
    found = places(meter)
    onsets = [meter.onset_of(place.beat) for place in found]
    assert onsets == [index * meter.length / len(found) for index in range(len(found))]
    assert len({place.label for place in found}) == len(found)
    assert len(beats(meter)) == len(off_beats(meter)) == meter.pulses


@given(meters())
def test_groups_add_up_to_the_beats(meter: Meter) -> None:
    """Where there are groups, every beat is in one."""
    assert sum(groups(meter)) in {0, meter.pulses}
