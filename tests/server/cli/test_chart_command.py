"""Charts on the command line: shown, written and refused."""

import io
import json
import zipfile
from pathlib import Path

import pytest

from gripwright.tune.leadsheet import read_leadsheet
from tests.server.conftest import Run

CHART = "title: Étude\nkey: F\n[A]\n|: Gm7 | C7 :|\n[B]\n| Fmaj7 | Bb6 |"


def test_text_prints_back_to_itself(run: Run, tmp_path: Path) -> None:
    """To stdout and to a file, where the ending says what is meant."""
    text = run("chart", CHART, "--format", "text").stdout
    assert text == f"{CHART}\n"
    path = tmp_path / "tune.txt"
    assert run("chart", CHART, "-o", str(path)).exit_code == 0
    assert path.read_text(encoding="utf-8") == text
    assert run("chart", str(path), "--format", "text").stdout == text


def test_document_has_the_bars_and_the_text(run: Run) -> None:
    """Its rows are the bars as written."""
    document = json.loads(run("chart", CHART, "--capo", "5", "--format", "json").stdout)
    assert document["schema"] == "gripwright/chart/1"
    assert document["text"] == CHART
    assert document["gripped_text"].startswith("title: Étude\nkey: C\n")
    assert (document["count"], document["bars_as_played"], document["quarters"]) == (4, 6, "24")
    assert [bar["symbols"] for bar in document["bars"]] == [["Gm7"], ["C7"], ["Fmaj7"], ["Bb6"]]
    assert [bar["gripped"] for bar in document["bars"]] == [["Dm7"], ["G7"], ["Cmaj7"], ["F6"]]


def test_chart_is_written_as_a_lead_sheet(run: Run, tmp_path: Path) -> None:
    """ASCII, also where the title is not; it reads back to the chart, packed too."""
    path = tmp_path / "tune.musicxml"
    assert run("chart", CHART, "-o", str(path)).exit_code == 0
    data = path.read_bytes()
    assert data.isascii()
    assert read_leadsheet(data).chart.title == "Étude"
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("score.xml", data)
    (tmp_path / "tune.mxl").write_bytes(packed.getvalue())
    for name in ("tune.musicxml", "tune.mxl"):
        back = run("chart", str(tmp_path / name), "--format", "text").stdout
        assert [line for line in back.splitlines() if line.startswith("|")] == [
            line for line in CHART.splitlines() if line.startswith("|")
        ]


def test_warnings_of_a_lead_sheet_go_to_stderr(run: Run, tmp_path: Path) -> None:
    """A packed file that does not name its score is read all the same, and it is said."""
    with zipfile.ZipFile(tmp_path / "tune.mxl", "w") as archive:
        archive.writestr("score.xml", run("chart", "| C6 |", "--format", "musicxml").stdout)
    result = run("chart", str(tmp_path / "tune.mxl"), "--format", "text")
    assert result.stdout.splitlines()[-1] == "| C6 |"
    assert result.stderr.startswith("Warning: ")


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("| Cmaj77 |",), 4, ("Line 1, column 8:", "did you mean Cmaj7?")),
        (("| C |", "--to-key", "H"), 4, ("key",)),
        (("| C |", "--to-key", "F"), 2, ("--key cannot be left open",)),
        (("--form", "minor-blues", "--key", "Dm", "--to-key", "F"), 2, ("--to-key cannot be F",)),
        (("--form", "jaz-blues", "--key", "F"), 2, ("did you mean 'jazz-blues'",)),
        (("| C |", "--capo", "12"), 2, ("--capo", "0 to 11")),
        (("| C |", "--format", "csv"), 2, ("csv",)),
    ],
)
def test_wrong_request_is_refused_with_what_helps(
    run: Run, arguments: tuple[str, ...], code: int, words: tuple[str, ...]
) -> None:
    """The exit code tells the kind, stderr tells how to go on, stdout stays empty."""
    result = run("chart", *arguments)
    assert result.exit_code == code, result.stderr
    assert result.stdout == ""
    for word in words:
        assert word in result.stderr
