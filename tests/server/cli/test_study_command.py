"""The study on the command line."""

import json
from xml.etree.ElementTree import Element

import pytest
from defusedxml import ElementTree  # type: ignore[import-untyped]

from tests.server.conftest import Run

SVG = "{http://www.w3.org/2000/svg}"
ASKED = ("study", "Dm7", "--string-sets", "4,3,2,1", "--no-doubles", "--highest-fret", "12")


def test_document_has_the_top_line_alone(run: Run) -> None:
    """To be sung before it is played."""
    document = json.loads(run(*ASKED, "--format", "json").stdout)
    assert document["schema"] == "gripwright/study/1"
    assert document["symbol"] == "Dm7"
    assert document["top_line"] == [step["top"] for step in document["steps"]]
    assert len(document["top_line"]) == document["count"] > 5
    total = sum(step["cost"]["total"] for step in document["steps"])
    assert document["cost"]["total"] == pytest.approx(total)


@pytest.mark.parametrize("columns", ["50", "80"])
def test_table_fits_the_screen(run: Run, monkeypatch: pytest.MonkeyPatch, columns: str) -> None:
    """Every voicing has a line with the degree on top, known ones a mark."""
    monkeypatch.setenv("COLUMNS", columns)
    result = run(*ASKED, "--known", "x-x-7-7-6-8", "--format", "table")
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= int(columns)
    rows = [line.split() for line in lines if " new " in line or " known " in line]
    steps = [json.loads(line) for line in run(*ASKED, "--known", "x-x-7-7-6-8").stdout.splitlines()]
    assert [row[1] for row in rows if row[0].isdigit()] == [step["top_degree"] for step in steps]
    assert any(line.startswith("To sing: ") for line in lines)


def test_picture_has_the_voicings_in_order(run: Run) -> None:
    """One diagram each."""
    steps = [json.loads(line) for line in run(*ASKED).stdout.splitlines()]
    root: Element = ElementTree.fromstring(run(*ASKED, "--format", "svg").stdout)
    cells = [[text.text for text in cell.iter(f"{SVG}text")] for cell in root.iter(f"{SVG}g")]
    assert [cell[1] for cell in cells] == [step["shape"] for step in steps]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("Dm77",), 4, ("^",)),
        (("Dm7", "--top", "dorin"), 2, ("did you mean 'dorian'",)),
        (("Dm7", "--top", "C9"), 3, ("without C9 on top",)),
        (("Dm7", "--string-sets", "9,8"), 2, ("--string-sets cannot be",)),
        (("Dm7", "--contour", "risng"), 2, ("rising",)),
    ],
)
def test_wrong_request_is_refused_with_what_helps(
    run: Run, arguments: tuple[str, ...], code: int, words: tuple[str, ...]
) -> None:
    """The exit code tells the kind, stderr tells how to go on, stdout stays empty."""
    result = run("study", *arguments)
    assert result.exit_code == code, result.stderr
    assert result.stdout == ""
    for word in words:
        assert word in result.stderr
