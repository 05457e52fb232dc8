"""Top lines of requests."""

import pytest

from gripwright.errors import NotationError
from gripwright_server.operations.top_line import holds_pitches, pitches_of_line


@pytest.mark.parametrize(
    ("text", "is_line"),
    [
        ("E4 F4", True),
        ("-", True),
        ("-,E4", True),
        ("X4 E4", True),
        ("dorian", False),
        ("dorian b2", False),
        ("locrian natural 2", False),
        ("rising", False),
        ("", False),
    ],
)
def test_pitches_are_told_from_names(text: str, is_line: bool) -> None:  # noqa: FBT001 - a case
    """No name of a scale is taken for a line."""
    assert holds_pitches(text) is is_line


def test_unreadable_pitch_has_its_position_in_the_whole_text() -> None:
    """So that a surface can mark it."""
    with pytest.raises(NotationError) as caught:
        pitches_of_line("F4, E4x D4")
    assert (caught.value.text, caught.value.position) == ("F4, E4x D4", 6)
