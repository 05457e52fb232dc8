"""Words for places of any bar."""

import pytest

from gripwright import ConditionError, Meter
from gripwright_rhythm.ladder.bar_words import places_named, sayings_in, texts_in


@pytest.mark.parametrize(
    ("word", "meter", "labels"),
    [
        ("2", "4/4", [["2"]]),
        ("4 on", "4/4", [["4"]]),
        ("4 on", "6/4", [["4"], ["5"], ["6"]]),
        ("off 2", "3/4", [["2.5"]]),
        ("off 2", "6/8", [["8th-6"]]),
        ("off 4 on", "5/4", [["4.5"], ["5.5"]]),
        ("last", "2/4", [["2"]]),
        ("last but one", "3/4", [["2"]]),
        ("every", "3/8", [["1", "2", "3"]]),
        ("strong", "3/4", [["1", "3"]]),
        ("strong", "3+2/4", [["1", "4"]]),
        ("backbeats", "9/8", [["8th-4", "8th-7"]]),
        ("off last", "2/2", [["2.5"]]),
        ("off before middle", "7/4", [["4.5"]]),
    ],
)
def test_places(word: str, meter: str, labels: list[list[str]]) -> None:
    """A word stands for one choice of places or several."""
    found = places_named(word, Meter.parse(meter))
    assert [[place.label for place in choice] for choice in found] == labels


@pytest.mark.parametrize(
    ("word", "meter", "expected"),
    [
        ("5", "4/4", "a metre of 5 beats or more"),
        ("off 3", "6/8", "a metre of 3 beats or more"),
        ("4 on", "3/4", "a metre of 4 beats or more"),
        ("last", "1/4", "a metre of 2 beats or more"),
        ("last but one", "2/4", "a metre of 3 beats or more"),
        ("backbeats", "2/4", "a metre of groups"),
        ("strong", "11/8", "a metre of groups"),
        ("off before middle", "11/8", "a metre of groups"),
    ],
)
def test_places_that_a_metre_has_not(word: str, meter: str, expected: str) -> None:
    """The refusal says which metres have it."""
    with pytest.raises(ConditionError) as caught:
        places_named(word, Meter.parse(meter))
    assert caught.value.value == meter
    assert caught.value.expected.startswith(expected)


def test_texts() -> None:
    """Marks after the braces go to every place; what is not in braces stays."""
    assert texts_in("{every}:0.5", Meter(3, 4)) == ("1:0.5 2:0.5 3:0.5",)
    assert texts_in("1' | {4 on}>", Meter(5, 4)) == ("1' | 4>", "1' | 5>")
    assert texts_in("1 | 2", Meter()) == ("1 | 2",)


def test_sayings() -> None:
    """What is said has words in the place of braces, and starts large."""
    assert sayings_in("{strong}, then {off 2}", Meter()) == (
        "Beat 1 and beat 3, then the and of 2",
    )
    assert sayings_in("{off 4 on}", Meter(5, 4)) == ("The and of 4", "The and of 5")
