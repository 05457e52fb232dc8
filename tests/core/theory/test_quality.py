"""Qualities: degrees in order, and the tones without which the ear does not hear the chord.

The rule of essential tones is common practice: third and seventh speak, the fifth is left out
first, and what a symbol names must sound.
"""

from __future__ import annotations

import pytest

from gripwright import Degree
from gripwright.theory import QUALITIES
from gripwright.theory.quality import Quality, essential_groups, in_order, minimal


def _degrees(text: str) -> tuple[Degree, ...]:
    return tuple(map(Degree, text.split()))


@pytest.mark.parametrize(
    ("degrees", "named", "essential"),
    [
        # A triad needs its root; a perfect fifth may always go.
        ("1 3 5", "", "1 3"),
        ("1 b3 5", "", "1 b3"),
        # With a seventh or a sixth the root may go.
        ("1 3 5 b7", "", "3 b7"),
        ("1 3 5 7", "", "3 7"),
        ("1 b3 b5 bb7", "", "b3 b5 bb7"),
        ("1 3 5 6", "", "3 6"),
        # A flat sixth is none of the chord's own: the root stays.
        ("1 3 5 b6", "b6", "1 3 b6"),
        # A fourth or a second stands for the third.
        ("1 4 5", "", "1 4"),
        ("1 2 5", "", "1 2"),
        ("1 2 4 5 b7", "", "2 4 b7"),
        # An altered fifth, ninth, eleventh or thirteenth is heard, a natural one only if named.
        ("1 3 b5 b7", "", "3 b5 b7"),
        ("1 3 #5", "", "1 3 #5"),
        ("1 3 5 b7 9", "", "3 b7"),
        ("1 3 5 b7 9", "9", "3 b7 9"),
        ("1 3 5 b7 b9", "", "3 b7 b9"),
        ("1 3 5 b7 9 #11", "9", "3 b7 9 #11"),
        ("1 3 5 b7 9 11", "11", "3 b7 11"),
        ("1 3 5 b7 9 13", "13", "3 b7 13"),
        ("1 3 5 b7 9 b13", "", "3 b7 b13"),
        # The order of the degrees does not matter, nor a name that the chord has not.
        ("b7 5 3 1", "13", "3 b7"),
    ],
)
def test_essential_tones(degrees: str, named: str, essential: str) -> None:
    """One group a tone, in order."""
    groups = essential_groups(_degrees(degrees), _degrees(named))
    assert groups == tuple((degree,) for degree in _degrees(essential))


@pytest.mark.parametrize(
    ("groups", "kept"),
    [
        (["b5 #5", "#5"], ["#5"]),
        (["3", "b9 #9", "b7"], ["3", "b7", "b9 #9"]),
        (["9 13", "3"], ["3"]),
        (["#9 b9", "b9 #9"], ["b9 #9"]),
        (["13 3"], ["3"]),
        ([], []),
    ],
)
def test_groups_are_as_few_as_say_the_same(groups: list[str], kept: list[str]) -> None:
    """Without tones that the chord lacks, and without what another group implies."""
    chord = _degrees("1 3 b5 #5 b7 b9 #9")
    assert minimal(map(_degrees, groups), chord) == tuple(map(_degrees, kept))


def test_degrees_stand_by_number_and_from_flat_to_sharp() -> None:
    """Each once."""
    assert in_order(_degrees("13 #9 1 b9 5 b5 1 9 #5")) == _degrees("1 b5 5 #5 b9 9 #9 13")


def test_a_row_says_what_a_quality_is() -> None:
    """What a row leaves out is empty, or follows from its degrees."""
    plain = Quality.from_row({"name": "7", "degrees": "b7 1 3 5"})
    assert plain.degrees == _degrees("1 3 5 b7")
    assert (plain.tensions, plain.avoid, plain.aliases, plain.scale) == ((), (), (), None)
    assert (plain.named, plain.own_groups) == (frozenset(), False)
    full = Quality.from_row(
        {
            "name": "9",
            "degrees": "1 3 5 b7 9",
            "number": "9",
            "essential": ["3", "1 b7", "13"],
            "tensions": "13 #11",
            "avoid": "11",
            "aliases": ["dom9"],
            "scale": "mixolydian",
        }
    )
    assert full.essential == tuple(map(_degrees, ("1 b7", "3")))
    assert (full.tensions, full.avoid) == (_degrees("13 #11"), _degrees("11"))
    assert (full.aliases, full.scale) == (("dom9",), "mixolydian")
    assert (full.named, full.own_groups) == (frozenset(_degrees("9")), True)


def test_the_table_holds_each_quality_by_its_name() -> None:
    """In the order of the file, which is that in which names are preferred."""
    assert [quality.name for quality in QUALITIES.values()] == list(QUALITIES)
    assert next(iter(QUALITIES)) == ""
    with pytest.raises(TypeError):
        QUALITIES["x"] = QUALITIES[""]  # type: ignore[index]
