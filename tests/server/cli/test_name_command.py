"""Naming on the command line."""

import json

import pytest

from tests.server.conftest import Run


def test_json_document_has_the_names_best_first(run: Run) -> None:
    """The document is that of every operation."""
    document = json.loads(run("name", "x-7-9-7-8-x", "--format", "json").stdout)
    assert document["schema"] == "gripwright/name/1"
    assert document["request"]["notes"] == "x-7-9-7-8-x"
    assert document["returned"] == len(document["names"]) == 20
    assert document["count"] > 20
    assert document["names"][0]["symbol"] == "Em7"
    assert document["names"][0]["rooted"] is True
    assert document["names"][2]["symbol"] == "Cmaj9"
    assert document["names"][2]["rooted"] is False


def test_piped_answer_is_rows(run: Run) -> None:
    """Each line is one chord, in ASCII, and repeats itself."""
    first = run("name", "C E♭ G B♭", "--all")
    rows = [json.loads(line) for line in first.stdout.splitlines()]
    assert rows[0]["symbol"] == "Cm7"
    assert first.stdout_bytes.isascii()
    assert first.stdout_bytes == run("name", "C E♭ G B♭", "--all").stdout_bytes


def test_close_and_spaced_frets_are_the_same(run: Run) -> None:
    """x35453 is x-3-5-4-5-3."""
    assert run("name", "x35453").stdout == run("name", "x-3-5-4-5-3").stdout


def test_bass_player_makes_another_chord(run: Run) -> None:
    """--over states the bass."""
    rows = run("name", "x-7-9-7-8-x", "--over", "C").stdout.splitlines()
    assert json.loads(rows[0])["symbol"] == "Cmaj9"


@pytest.mark.parametrize(
    ("arguments", "shown"),
    [
        (("x-3-5-4",), ["  x-3-5-4", "         ^ expected x or a fret for each of 6 strings"]),
        (("x-3-23-4-5-x",), ["  x-3-23-4-5-x", "      ^ expected x, 0 or a fret from 1 to 22"]),
        (("x-3-q-4-5-x",), ["  x-3-q-4-5-x", "      ^ expected x or a fret"]),
        (("C E H",), ["  C E H", "      ^ expected a letter from A to G"]),
        (("q",), ["  q", "  ^ expected frets such as x-7-9-7-8-x, or notes such as C E G B"]),
        (("C E G", "--over", "Q"), ["  Q", "  ^ expected a letter from A to G"]),
    ],
)
def test_unreadable_input_is_marked(run: Run, arguments: tuple[str, ...], shown: list[str]) -> None:
    """Exit code 4, and the caret under the place."""
    result = run("name", *arguments)
    assert result.exit_code == 4
    assert result.stdout == ""
    text, caret = result.stderr.splitlines()[1:3]
    assert text == shown[0]
    assert caret.startswith(shown[1])


@pytest.mark.parametrize("form", ["table", "json", "ndjson"])
def test_no_common_name_ends_with_3_and_the_intervals(run: Run, form: str) -> None:
    """Nothing found is said on stderr, and no data are made up."""
    result = run("name", "C Db D", "--format", form)
    assert result.exit_code == 3
    assert result.stdout == ""
    assert result.stderr.startswith("No common name")
    assert result.stderr.endswith("m2 M2\n")


def test_muted_shape_ends_with_3(run: Run) -> None:
    """A grip that does not sound has no name."""
    result = run("name", "xxxxxx")
    assert result.exit_code == 3
    assert "muted" in result.stderr
