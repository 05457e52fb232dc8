"""The formats of an answer."""

import csv
import io
import json
from pathlib import Path

import pytest

from tests.server.conftest import Run, RunProcess


def test_json_document_has_schema_request_counts_and_rows(run: Run) -> None:
    """The document is that of the design, with the limit that was asked for."""
    document = json.loads(run("voicings", "Cmaj7", "--limit", "3", "--format", "json").stdout)
    assert list(document) == ["schema", "request", "count", "returned", "voicings"]
    assert document["schema"] == "gripwright/voicings/1"
    assert document["request"]["symbol"] == "Cmaj7"
    assert document["request"]["limit"] == 3
    assert document["returned"] == len(document["voicings"]) == 3
    assert document["count"] > 3


def test_json_document_of_spelled_chords(run: Run) -> None:
    """Every operation answers in the same form of document."""
    document = json.loads(run("spell", "C", "G7", "--format", "json").stdout)
    assert document["schema"] == "gripwright/spell/1"
    assert [row["symbol"] for row in document["chords"]] == ["C", "G7"]
    assert (document["count"], document["returned"]) == (2, 2)


def test_piped_answer_is_ndjson(run: Run) -> None:
    """Without a terminal each line is a row."""
    lines = run("voicings", "Dm7").stdout.splitlines()
    assert len(lines) == 20
    assert all(json.loads(line)["id"].startswith("guitar:") for line in lines)


def test_rows_are_the_same_in_every_machine_format(run: Run) -> None:
    """JSON, NDJSON and CSV differ in form alone."""
    of = {
        name: run("voicings", "G7", "--limit", "5", "--format", name).stdout
        for name in ("json", "ndjson", "csv")
    }
    rows = json.loads(of["json"])["voicings"]
    assert [json.loads(line) for line in of["ndjson"].splitlines()] == rows
    cells = list(csv.DictReader(io.StringIO(of["csv"])))
    assert [row["id"] for row in cells] == [row["id"] for row in rows]
    assert [row["pitches"].split() for row in cells] == [row["pitches"] for row in rows]
    assert [row["frets"] for row in cells] == [
        " ".join("x" if fret is None else str(fret) for fret in row["frets"]) for row in rows
    ]


def test_row_tells_what_the_design_says(run: Run) -> None:
    """A row has its frets with null for muted, its pitches, degrees, reach and presses."""
    text = run("voicings", "Cmaj7", "--strings", "5,4,3,2", "--all").stdout
    rows = {row["id"]: row for row in map(json.loads, text.splitlines())}
    # The grip of the second row of the trade's table of voicings, drop 2 in root position.
    row = rows["guitar:x-3-5-4-5-x"]
    assert row["frets"] == [None, 3, 5, 4, 5, None]
    assert row["pitches"] == ["C3", "G3", "B3", "E4"]
    assert row["degrees"] == ["1", "5", "7", "3"]
    # 648 mm: from fret 3 to fret 5 lie 648 * (2 ** (-3 / 12) - 2 ** (-5 / 12)) mm.
    assert row["reach_mm"] == round(648 * (2 ** (-3 / 12) - 2 ** (-5 / 12)), 1)
    assert row["presses"] == 4
    assert (row["bass_degree"], row["top_degree"]) == ("1", "3")
    assert (row["added"], row["left_out"], row["open_strings"]) == ([], [], 0)


def test_machine_text_is_ascii_and_repeats_itself(run: Run) -> None:
    """Equal requests give equal bytes, whatever signs the symbol was written with."""
    first = run("voicings", "B♭7", "--format", "json").stdout_bytes
    assert first == run("voicings", "B♭7", "--format", "json").stdout_bytes
    assert first.isascii()


def test_all_shows_all(run: Run) -> None:
    """The count of the document is what --all yields."""
    document = json.loads(run("voicings", "C13", "--format", "json", "--all").stdout)
    assert document["request"]["limit"] is None
    assert document["count"] == document["returned"] == len(document["voicings"])


@pytest.mark.parametrize(
    ("suffix", "start"),
    [(".json", "{\n"), (".csv", "id,frets,"), (".ndjson", '{"id"'), (".txt", "C  "), ("", '{"id"')],
)
def test_ending_of_the_file_chooses_the_format(
    run: Run, tmp_path: Path, suffix: str, start: str
) -> None:
    """A file named .csv holds CSV unless --format says otherwise."""
    path = tmp_path / f"answer{suffix}"
    assert run("voicings", "C", "-o", str(path)).exit_code == 0
    assert path.read_text(encoding="utf-8").startswith(start)


def test_format_that_is_not_offered_names_the_nearest(run: Run) -> None:
    """Spelled chords have no CSV: their essential tones do not fit a cell."""
    result = run("spell", "C", "--format", "csv")
    assert result.exit_code == 2
    assert "table, json, ndjson" in result.stderr


def test_warnings_go_to_stderr_in_every_format(run_process: RunProcess) -> None:
    """Data stays data."""
    for name in ("table", "json", "ndjson"):
        result = run_process("spell", "C2", "--format", name)
        assert result.stderr.startswith("Warning: ")
        assert "Warning" not in result.stdout
