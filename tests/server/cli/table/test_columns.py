"""Plain columns."""

from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.columns import aligned, column_lines


def test_last_column_wraps_under_itself() -> None:
    """A long last cell goes on under its own head."""
    lines = list(
        column_lines(("id", "name"), [("a", "one two three four five six")], Screen(width=26))
    )
    assert lines == ["id  name", "a   one two three four", "    five six"]


def test_empty_list_and_empty_cells_leave_lines_in_place() -> None:
    """Nothing to show is no error."""
    assert list(column_lines(("id", "name"), [], Screen())) == ["id  name"]
    assert [line.rstrip() for line in column_lines(("id", "name"), [("a", "")], Screen())] == [
        "id  name",
        "a",
    ]


def test_cells_stand_under_one_another() -> None:
    """The wider of two cells sets the width of both."""
    assert aligned(("F#", "A"), ("1", "b3")) == ("F#  A", "1   b3")
