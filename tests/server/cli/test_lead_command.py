"""The line on the command line: charts from everywhere, good answers and helpful refusals."""

import json
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from click.testing import CliRunner
from defusedxml import ElementTree  # type: ignore[import-untyped]

from gripwright import Chart
from gripwright.tune.leadsheet_writer import write_leadsheet
from gripwright_server.cli import ROOT
from tests.server.conftest import Run, RunProcess

SVG = "{http://www.w3.org/2000/svg}"
CHART = "key: F\n| Gm7 | C7 | Fmaj7 | % |\n"


def _symbols(text: str) -> list[str]:
    return [json.loads(line)["symbol"] for line in text.splitlines()]


def test_argument_file_and_stdin_are_the_same(run: Run, tmp_path: Path) -> None:
    """A chart is read from wherever it comes; a byte order mark does not matter."""
    path = tmp_path / "tune.txt"
    path.write_text(CHART, encoding="utf-8-sig")
    whole = run("lead", CHART).stdout
    assert _symbols(whole) == ["Gm7", "C7", "Fmaj7", "Fmaj7"]
    assert run("lead", str(path)).stdout == whole
    piped = CliRunner().invoke(ROOT, ["lead", "-"], input=CHART)
    assert piped.stdout == whole


def test_chart_comes_through_a_pipe(run_process: RunProcess) -> None:
    """As a shell does it: the text of one command is the chart of the next."""
    text = run_process("chart", "--form", "turnaround", "--key", "Eb", "--format", "text").stdout
    result = run_process("lead", text)
    assert _symbols(result.stdout) == ["Ebmaj7", "Cm7", "Fm7", "Bb7"]
    assert result.stderr == ""


@pytest.mark.parametrize("name", ["tune.musicxml", "tune.xml", "tune"])
def test_lead_sheet_is_read_by_its_ending_or_its_start(run: Run, tmp_path: Path, name: str) -> None:
    """A file of a notation program gives the line of its chart."""
    path = tmp_path / name
    path.write_bytes(write_leadsheet(Chart.parse(CHART)))
    result = run("lead", str(path))
    assert result.stdout == run("lead", CHART).stdout


def test_document_holds_the_lines_as_a_whole(run: Run) -> None:
    """The schema is named, the request repeated, and the top line can be had alone."""
    document = json.loads(run("lead", CHART, "--band", "bass", "--format", "json").stdout)
    assert list(document) == [
        "schema",
        "request",
        "count",
        "returned",
        "chart_text",
        "lines",
        "steps",
    ]
    assert document["schema"] == "gripwright/lead/1"
    assert document["request"]["chart"] == CHART
    assert document["request"]["band"] == "bass"
    assert document["count"] == len(document["steps"]) == 4
    (line,) = document["lines"]
    assert line["top_line"] == [step["top"] for step in document["steps"]]
    step = document["steps"][1]
    assert (step["bar"], step["beat"], step["onset"], step["length"]) == (2, "1", "4", "4")
    assert set(step["cost"]) == {"motion", "travel", "top", "ease", "surcharge", "total"}


def test_equal_requests_give_equal_bytes(run: Run) -> None:
    """Choruses by seed too."""
    asked = ("lead", CHART, "--choruses", "3", "--seed", "7", "--format", "json")
    assert run(*asked).stdout == run(*asked).stdout


def test_faults_come_all_at_once_under_their_lines(run: Run) -> None:
    """Line, column, the line itself with a caret, what was expected, and the nearest text."""
    result = run("lead", "| Dm7 Qm7 |\n| C / |")
    assert (result.exit_code, result.stdout) == (4, "")
    assert result.stderr.splitlines() == [
        "Error: cannot read the chart: 2 faults",
        "Line 1, column 7:",
        "  | Dm7 Qm7 |",
        "        ^ expected a root from A to G (did you mean C?)",
        "Line 2, column 3:",
        "  | C / |",
        "    ^ expected 4 beats, not 2 (did you mean C / / /?)",
    ]


def test_one_fault_of_a_file_has_no_number(run: Run, tmp_path: Path) -> None:
    """The line is that of the file."""
    path = tmp_path / "tune.txt"
    path.write_text("key: F\n; a comment\n| F6 | Gmaj77 |\n", encoding="utf-8")
    result = run("lead", str(path))
    assert result.exit_code == 4
    assert result.stderr.splitlines()[:3] == [
        "Error: cannot read the chart",
        "Line 3, column 13:",
        "  | F6 | Gmaj77 |",
    ]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("| C13b9#11 |", "--instrument", "ukulele"), 3, ("C13b9#11 in bar 1", "4 strings")),
        (("| C |", "--highest-fret", "1", "--no-open"), 3, ("No voicing for C in bar 1",)),
        (("| C |", "--top", "C9"), 3, ("bar 1", "without the condition 'C9 on top'")),
        (("| N.C. |",), 3, ("no chord",)),
        (("nothing.txt",), 2, ("'nothing.txt' is no file", "| Dm7 G7 |")),
        (("",), 2, ("'' is no file", "| Dm7 G7 |")),
        ((".",), 2, ("'.' is no file",)),
        (("| C |", "--form", "turnaround"), 2, ("CHART cannot be", "--form")),
        (("--loop",), 2, ("CHART cannot be left open", "jazz-blues")),
        (("| ii7 V7 |",), 2, ("--key cannot be left open",)),
        (("| C |", "--band", "bas"), 2, ("did you mean 'bass'",)),
        (("| C |", "--top", "risng"), 2, ("did you mean 'rising'",)),
        (("| C |", "--top", "E4 F4"), 2, ("--top cannot be 2 notes",)),
        (("| C |", "--first", "x-x-x-1-1-1"), 2, ("--first cannot be",)),
        (("| C |", "--weigh-motion", "-1"), 2, ("--weigh-motion", "0 to 100")),
        (("| C |", "--choruses", "0"), 2, ("--choruses",)),
        (
            ("| C |", "--under-melody"),
            2,
            ("--under-melody cannot be given: expected a lead sheet",),
        ),
        (("| C |", "--format", "csv"), 2, ("csv",)),
    ],
)
def test_wrong_request_is_refused_with_what_helps(
    run: Run, arguments: tuple[str, ...], code: int, words: tuple[str, ...]
) -> None:
    """The exit code tells the kind, stderr tells how to go on, stdout stays empty."""
    result = run("lead", *arguments)
    assert result.exit_code == code, result.stderr
    assert result.stdout == ""
    for word in words:
        assert word in " ".join(result.stderr.split())
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize(
    ("data", "name", "words"),
    [
        (b"| C \xff |", "tune.txt", ("Line 1, column 5:", "text in UTF-8")),
        (b"no score", "tune.musicxml", ("cannot read lead sheet",)),
        (b"PK\x03\x04 broken", "tune.mxl", ("cannot read lead sheet", "broken")),
        (b"", "tune.txt", ("cannot read the chart", "a bar")),
    ],
)
def test_broken_file_is_refused(
    run: Run, tmp_path: Path, data: bytes, name: str, words: tuple[str, ...]
) -> None:
    """Bytes that are no text, and files that are no score, count as unreadable."""
    path = tmp_path / name
    path.write_bytes(data)
    result = run("lead", str(path))
    assert (result.exit_code, result.stdout) == (4, "")
    for word in words:
        assert word in result.stderr
    assert "Traceback" not in result.stderr


def test_directory_is_no_chart(run: Run, tmp_path: Path) -> None:
    """It is refused as a value of CHART, as any other name of no file is."""
    result = run("lead", str(tmp_path))
    assert result.exit_code == 2
    assert "is no file" in result.stderr


def test_document_that_is_too_large_is_not_read_to_its_end(run: Run, tmp_path: Path) -> None:
    """More than any chart or lead sheet can be."""
    path = tmp_path / "tune.txt"
    with path.open("wb") as stream:
        stream.truncate(1_000_000_000)
    result = run("lead", str(path))
    assert result.exit_code == 2
    assert "8,000,000 bytes" in result.stderr


def test_warnings_of_the_chart_go_to_stderr(run: Run) -> None:
    """What else it could mean is said with its bar, beside the answer."""
    result = run("lead", "| C6 | Dm7 G7 Em7 |")
    assert result.exit_code == 0
    assert result.stderr.startswith("Warning: bar 2: 3 chords share 4 beats equally")


def test_picture_has_the_grips_in_their_order(run: Run) -> None:
    """Each stands under its symbol, also where the same grip comes twice."""
    rows = [json.loads(line) for line in run("lead", CHART).stdout.splitlines()]
    root: Element = ElementTree.fromstring(
        run("lead", f"title: Sketch\n{CHART}", "--format", "svg").stdout
    )
    texts = [[text.text for text in cell.iter(f"{SVG}text")] for cell in root.iter(f"{SVG}g")]
    assert [cell[0] for cell in texts] == [row["symbol"] for row in rows]
    assert [cell[1] for cell in texts] == [row["shape"] for row in rows]
    head = [text.text for text in root.iter(f"{SVG}text")]
    assert "Sketch" in head
    assert "One line on guitar, standard (E2 A2 D3 G3 B3 E4)" in head


def test_help_names_where_a_chart_comes_from(run: Run) -> None:
    """A bare command shows it too."""
    assert "standard input" in " ".join(run("lead", "--help").stdout.split())
    result = run("lead")
    assert result.exit_code == 2
    assert "Usage: gripwright lead" in result.stderr
