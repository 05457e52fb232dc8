"""The explanation of a shape on the command line."""

import json

import pytest

from tests.server.conftest import Run


def test_document_holds_request_and_row(run: Run) -> None:
    """A faulty shape is an answer and no error."""
    result = run("explain", "Cmaj7", "x-3-5-3-5-x", "--format", "json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    assert document["schema"] == "gripwright/explain/1"
    assert document["request"]["shape"] == "x-3-5-3-5-x"
    assert (document["count"], document["returned"]) == (1, 1)
    (row,) = document["shapes"]
    assert row["playable"] is False
    assert row["faults"][0]["strings"] == [3]
    assert row["frets"] == [None, 3, 5, 3, 5, None]
    assert row["instead"][0] == "guitar:x-3-5-4-5-x"


@pytest.mark.parametrize("shape", ["x-3-5-4-5-x", "x3545x", "X3545X"])
def test_both_ways_to_write_a_shape_are_read(run: Run, shape: str) -> None:
    """With hyphens or without, with a small or a large x."""
    row = json.loads(run("explain", "Cmaj7", shape).stdout)
    assert (row["id"], row["playable"]) == ("guitar:x-3-5-4-5-x", True)


@pytest.mark.parametrize(
    ("arguments", "code", "marked"),
    [
        (("Cmaj7", "x-3-5-4-5"), 4, "           ^ expected x or a fret for each of 6 strings"),
        (("Cmaj7", "x-3-25-4-5-x"), 4, "      ^ expected x, 0 or a fret from 1 to 22"),
        (("Cmaj7", "x3?45x"), 4, "    ^ expected x or a fret"),
        (("Cmaj77", "x3545x"), 4, "       ^ expected"),
        (("Cmaj7", "x3545x", "--instrument", "gitar"), 2, "guitar"),
        (("Cmaj7", "x3545x", "--no-open"), 2, "--no-open"),
        (("Cmaj7",), 2, "FRETS"),
    ],
)
def test_wrong_request_is_refused_with_the_place(
    run: Run, arguments: tuple[str, ...], code: int, marked: str
) -> None:
    """The caret stands under what does not fit; stdout stays empty."""
    result = run("explain", *arguments)
    assert result.exit_code == code
    assert result.stdout == ""
    assert marked in result.stderr
