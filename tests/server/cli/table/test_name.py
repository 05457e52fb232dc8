"""The table of names, as a player sees it."""

import pytest

from gripwright import Registry, load_registry
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.name import lines
from gripwright_server.operations.name import NameRequest, name

REGISTRY: Registry = load_registry()


def _lines(request: NameRequest, width: int = 80) -> list[str]:
    result = name(request, lambda: REGISTRY)
    return [line.rstrip() for line in lines(result, Screen(width=width))]


def test_each_chord_stands_with_degrees_notes_and_what_is_left_out() -> None:
    """Degrees and notes stand in columns, one a string."""
    assert _lines(NameRequest(notes="x-7-9-7-8-x", limit=6)) == [
        "chord   degrees    notes    left out",
        "Em7     1 5 b7 b3  E B D G",
        "G6/E    6 3 5  1   E B D G",
        "Cmaj9   3 7 9  5   E B D G  1",
        "A11     5 9 11 b7  E B D G  1",
        "A9sus4  5 9 4  b7  E B D G  1",
        "Em9     1 5 b7 b3  E B D G  (9)",
        "",
        "In brackets: essential to the chord",
        "The first 6 of 40 are shown. More: --limit N or --all",
    ]


def test_marks_are_explained_only_where_they_stand() -> None:
    """Without a bracket nothing is said of brackets."""
    assert not any("brackets" in line for line in _lines(NameRequest(notes="C E G", limit=1)))


def test_foot_says_that_all_are_shown() -> None:
    """The last line tells whether there is more."""
    assert _lines(NameRequest(notes="C E G B", limit=None))[-1].startswith("All are shown")


@pytest.mark.parametrize("width", [80, 120])
def test_table_fits_the_screen(width: int) -> None:
    """A grip of six strings keeps to the width."""
    found = _lines(NameRequest(notes="0-2-2-1-3-0", limit=None), width)
    assert max(map(len, found)) <= width
