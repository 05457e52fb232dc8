"""Attacks: what they hold, and what is refused."""

import pickle
from fractions import Fraction
from typing import Any, cast

import pytest

from gripwright import Attack, ConditionError
from gripwright.leading.approach import KINDS
from gripwright.meter.attack import APPROACH_ROLES, LATEST, Length, as_length
from gripwright.meter.hit import FINEST, LONGEST


def test_an_attack_is_long_and_plain_unless_it_is_said() -> None:
    """Only the onset has to be given."""
    attack = Attack(2)
    assert attack == Attack(Fraction(2), "long", push=False, approach=None, ring_over=False)
    assert (attack.accent, attack.stroke) == (False, None)
    assert isinstance(attack.onset, Fraction)


@pytest.mark.parametrize("onset", [-1, LATEST + 1, Fraction(1, FINEST + 1), 0.5, True, "1"])
def test_onsets_out_of_range(onset: object) -> None:
    """An onset is exact, and inside the longest pattern."""
    with pytest.raises(ConditionError) as caught:
        Attack(cast("Any", onset))
    assert caught.value.expected.startswith("an integer or a Fraction, 0 to 16,384")


def test_the_last_place_of_the_longest_pattern_is_taken() -> None:
    """Sixty-four bars of the longest metre hold an onset at their end."""
    assert Attack(LATEST - Fraction(1, FINEST)).onset < LATEST == 64 * LONGEST


@pytest.mark.parametrize("length", [0, -1, LONGEST + 1, 0.5, True, "medium", "Long", ""])
def test_lengths_out_of_range(length: object) -> None:
    """An attack lasts: long, short, or quarters above nothing."""
    with pytest.raises(ConditionError):
        Attack(0, cast("Any", length))


@pytest.mark.parametrize(
    ("value", "length"),
    [("long", "long"), ("short", "short"), (3, Fraction(3)), (Fraction(1, 3), Fraction(1, 3))],
)
def test_lengths(value: Length | int, length: object) -> None:
    """Whole quarters become fractions; the two names stay."""
    assert as_length(value) == length
    assert Attack(0, value).length == length


def test_roles_are_those_of_approach_grips() -> None:
    """Every approach that can be found can be played, by the same word."""
    assert APPROACH_ROLES == KINDS


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"approach": "sideways"}, "approach"),
        ({"approach": "above", "push": True}, "approach"),
        ({"stroke": "bow"}, "stroke"),
    ],
)
def test_settings_out_of_range(settings: dict[str, Any], name: str) -> None:
    """The error names the setting; an approach cannot also anticipate."""
    with pytest.raises(ConditionError) as caught:
        Attack(0, **settings)
    assert caught.value.name == name
    assert pickle.loads(pickle.dumps(caught.value)).expected == caught.value.expected
