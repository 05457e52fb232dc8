"""The conditions of a request as the search takes them."""

import inspect

import pytest

from gripwright import Note, Pitch, find_voicings
from gripwright.errors import NotationError
from gripwright.neck.conditions import ROOT_POLICIES, STROKES, Conditions
from gripwright.neck.instrument import MOST_FRETS, MOST_STRINGS
from gripwright_server.operations import request_schema
from gripwright_server.operations.conditions import ConditionOptions, conditions_of


def test_defaults_are_those_of_the_library() -> None:
    """A request that says nothing asks for what the library gives by default."""
    defaults = Conditions()
    for name, value in conditions_of(ConditionOptions()).items():
        assert getattr(defaults, name) == value, name


def test_ranges_are_those_of_the_library() -> None:
    """What the library refuses by range, the request refuses by its declaration."""
    schema = request_schema(ConditionOptions)["properties"]
    for name in ("min_notes", "max_notes", "strings"):
        limits = schema[name].get("items", schema[name])
        assert (limits["minimum"], limits["maximum"]) == (1, MOST_STRINGS)
    for name in ("lowest_fret", "highest_fret"):
        assert (schema[name]["minimum"], schema[name]["maximum"]) == (0, MOST_FRETS)
    assert schema["stroke"]["enum"] == list(STROKES)
    assert sorted(schema["root"]["enum"]) == sorted(ROOT_POLICIES)


def test_every_condition_of_the_library_can_be_asked_for() -> None:
    """Save the bound on rows, which is the surface's own to keep."""
    offered = conditions_of(ConditionOptions()).keys()
    known = inspect.signature(Conditions).parameters.keys()
    assert known - offered == {"row_bound"}
    assert offered <= known
    assert find_voicings is not None


@pytest.mark.parametrize(
    ("text", "note"),
    [("E", Note("E", 0)), ("Bb", Note("B", -1)), ("Bb3", Pitch(Note("B", -1), 3))],
)
def test_top_note_has_an_octave_or_has_none(text: str, note: Note | Pitch) -> None:
    """A note is any octave, a pitch is one."""
    assert conditions_of(ConditionOptions(top_note=text))["top_note"] == note


def test_unreadable_top_note_is_marked() -> None:
    """The text and the place are kept."""
    with pytest.raises(NotationError) as caught:
        conditions_of(ConditionOptions(top_note="H"))
    assert caught.value.text == "H"
