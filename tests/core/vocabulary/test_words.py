"""Words: every kind of chord and degree can be said."""

import pytest

from gripwright import QUALITIES, Degree
from gripwright.vocabulary import string_groups
from gripwright.vocabulary.strings import in_words
from gripwright.vocabulary.words import _table, degree_in_words, listed, quality_in_words


def test_no_two_qualities_are_said_alike() -> None:
    """A gap names one kind of chord."""
    said = [quality_in_words(name) for name in QUALITIES]
    assert all(said)
    assert len(set(said)) == len(said)


def test_words_are_of_qualities_that_there_are() -> None:
    """No row of the table is left over."""
    assert set(_table()["quality"]) <= set(QUALITIES)


def test_no_two_tones_of_a_quality_are_said_alike() -> None:
    """A prompt names one tone on top."""
    for quality in QUALITIES.values():
        said = [degree_in_words(degree) for degree in (*quality.degrees, *quality.tensions)]
        assert len(set(said)) == len(said), quality.name


@pytest.mark.parametrize(
    ("degree", "words"),
    [("bb7", "diminished seventh"), ("#9", "sharp ninth"), ("13", "thirteenth"), ("5", "fifth")],
)
def test_degrees_are_said_as_players_do(degree: str, words: str) -> None:
    """Common practice."""
    assert degree_in_words(Degree(degree)) == words


def test_lists_are_read_aloud() -> None:
    """None, one, two and three."""
    found = [listed(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])]
    assert found == ["", "a", "a and b", "a, b and c"]


@pytest.mark.parametrize("count", range(1, 13))
def test_groups_cover_every_string(count: int) -> None:
    """On any number of strings each string is in a group, and no two groups are called alike."""
    groups = string_groups(count)
    assert {string for group in groups for string in group.strings} == set(range(1, count + 1))
    assert len({group.words for group in groups}) == len(groups)
    for group in groups:
        assert group.words == in_words(group.strings, count)


def test_the_groups_of_six_strings_are_the_trades() -> None:
    """Inner 5 to 2, top 4 to 1, low 6 to 3 (common practice)."""
    assert {group.words: group.strings for group in string_groups(6)} == {
        "the inner strings": (5, 4, 3, 2),
        "the top strings": (4, 3, 2, 1),
        "the low strings": (6, 5, 4, 3),
    }


@pytest.mark.parametrize(
    ("strings", "words"),
    [((1,), "string 1"), ((6, 4, 3), "strings 6, 4 and 3"), ((6, 5, 4, 3, 2, 1), "all strings")],
)
def test_any_strings_can_be_said(strings: tuple[int, ...], words: str) -> None:
    """Neighbours by their ends, others one by one."""
    assert in_words(strings, 6) == words
