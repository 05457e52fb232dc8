"""Rhythm families from TOML: what is read, and what is refused."""

import tomllib
from typing import Any

import pytest

from gripwright import ConditionError, Meter, NotationError
from gripwright_rhythm.families import read_families
from gripwright_rhythm.families.definitions import families_when_asked

TEXT = """
[[family]]
name = "own"
summary = "Ours."

[[family.pattern]]
name = "own-1"
meter = "3/4"
summary = "Grows."
text = "1 | 2"
bass = "1"
dynamic = 50
later = [{ text = "1 3 | 2", dynamic = 70 }, { text = "1 2 | 3" }]
"""


def test_all_that_a_pattern_has() -> None:
    """Bass, dynamics and later choruses are read; later ones are as loud unless they say."""
    (family,) = read_families(TEXT)
    assert (family.name, family.summary) == ("own", "Ours.")
    (pattern,) = family.patterns(Meter(3, 4))
    assert (pattern.name, pattern.summary, pattern.dynamic) == ("own-1", "Grows.", 50)
    assert [attack.onset for attack in pattern.bass] == [0, 3]
    assert [(str(one), one.dynamic, one.name) for one in pattern.later] == [
        ("1 3 | 2", 70, "own-1-chorus-2"),
        ("1 2 | 3", 50, "own-1-chorus-3"),
    ]
    assert all(one.bass == pattern.bass for one in pattern.later)


def test_families_read_when_asked_are_the_same() -> None:
    """They have the same names, lines, metres and patterns, and refuse the same."""
    (first,), (other,) = read_families(TEXT), families_when_asked(TEXT)
    assert (first.name, first.summary) == (other.name, other.summary)
    assert list(first.meters) == list(other.meters)
    assert first.patterns(Meter(3, 4)) == other.patterns(Meter(3, 4))
    for family in (first, other):
        with pytest.raises(ConditionError, match="'own' cannot be '4/4': expected 3/4"):
            family.patterns(Meter(4, 4))


def test_no_families() -> None:
    """An empty text holds none."""
    assert read_families("") == ()


@pytest.mark.parametrize(
    ("old", "new", "error"),
    [
        ('name = "own-1"', "", ConditionError),
        ('meter = "3/4"', 'metre = "3/4"', ConditionError),
        ("dynamic = 50", "loudness = 50", ConditionError),
        ("dynamic = 50", "dynamic = 500", ConditionError),
        ('{ text = "1 2 | 3" }', '{ words = "1 2 | 3" }', ConditionError),
        ('summary = "Ours."', "", ConditionError),
        ('meter = "3/4"', 'meter = "3/5"', NotationError),
        ('text = "1 | 2"', 'text = "1 | 4"', NotationError),
        ('text = "1 | 2"', 'text = "1 1 | 2"', NotationError),
        ('bass = "1"', 'bass = "1 | 1 | 1"', ConditionError),
        ('name = "own-1"', "name = own-1", tomllib.TOMLDecodeError),
    ],
)
def test_rows_that_do_not_stand(old: str, new: str, error: Any) -> None:  # noqa: ANN401 - a class
    """A row is whole and has nothing unknown."""
    assert TEXT.count(old) == 1
    with pytest.raises(error):
        read_families(TEXT.replace(old, new))


def test_wrong_keys_are_named() -> None:
    """The error says which row, and what is missing or unknown."""
    with pytest.raises(ConditionError) as caught:
        read_families(TEXT.replace('meter = "3/4"', 'metre = "3/4"'))
    assert caught.value.name == "keys of pattern 'own-1'"
    assert caught.value.expected.endswith("missing or unknown: meter, metre")
