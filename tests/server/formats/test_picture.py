"""Voicings as a picture: the sheet of the format svg."""

from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from defusedxml import ElementTree  # type: ignore[import-untyped]

from gripwright.neck import diagram
from gripwright_server.operations import picture
from tests.server.conftest import Run, RunProcess

SVG = "{http://www.w3.org/2000/svg}"


def _parsed(text: str) -> Element:
    root: Element = ElementTree.fromstring(text)
    assert root.tag == f"{SVG}svg"
    return root


def _texts(root: Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def test_file_that_ends_in_svg_gets_the_sheet(run: Run, tmp_path: Path) -> None:
    """The limit holds, and the head says of how many voicings these are the first."""
    path = tmp_path / "sheet.svg"
    result = run("voicings", "Cmaj7", "--strategy", "drop-2", "-o", str(path))
    assert (result.exit_code, result.stdout) == (0, "")
    root = _parsed(path.read_text(encoding="ascii"))
    assert len(list(root.iter(f"{SVG}g"))) == 20
    head = _texts(root)[:2]
    assert head[0] == "Cmaj7, drop-2"
    assert head[1].startswith("The first 20 of ")
    assert head[1].endswith("on guitar, standard (E2 A2 D3 G3 B3 E4)")


def test_sheet_has_the_rows_of_the_other_formats(run: Run) -> None:
    """Order and limit are those of the request."""
    asked = ("voicings", "G7", "--order", "ease", "--limit", "7")
    lines = run(*asked, "--format", "csv").stdout.splitlines()[1:]
    root = _parsed(run(*asked, "--format", "svg").stdout)
    shapes = [_texts(cell)[1] for cell in root.iter(f"{SVG}g")]
    assert shapes == [line.partition(",")[0].removeprefix("guitar:") for line in lines]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--label", "note"), {"G", "B", "F"}),
        (("--label", "interval"), {"P1", "M3", "m7"}),
        (("--label", "finger"), {"1", "2"}),
        (("--keyboard",), {"Close: close position. Grip: as gripped."}),
    ],
)
def test_options_reach_the_picture(run: Run, options: tuple[str, ...], words: set[str]) -> None:
    """What the dots carry and what stands beside the necks is what was asked for."""
    plain = run("voicings", "G7", "--format", "svg").stdout
    result = run("voicings", "G7", "--format", "svg", *options)
    assert result.stdout != plain
    assert words <= {" ".join(text.split()) for text in _texts(_parsed(result.stdout))}


def test_left_handed_and_theme_reach_the_picture(run: Run) -> None:
    """The neck is mirrored; the page of the dark theme is dark."""
    plain = _parsed(run("voicings", "Cmaj7", "--limit", "1", "--format", "svg").stdout)
    left = _parsed(
        run("voicings", "Cmaj7", "--limit", "1", "--format", "svg", "--left-handed").stdout
    )
    anchors = [
        {one.attrib["x"]: one.text for one in next(root.iter(f"{SVG}g")).iter(f"{SVG}text")}
        for root in (plain, left)
    ]
    assert list(anchors[0].values()) == list(anchors[1].values())
    assert anchors[0].keys() != anchors[1].keys()
    dark = run("voicings", "Cmaj7", "--format", "svg", "--theme", "dark").stdout
    assert "#FFFFFF" not in next(_parsed(dark).iter(f"{SVG}rect")).attrib["fill"]


@pytest.mark.parametrize(
    ("option", "value", "words"),
    [("--label", "fingers", "finger"), ("--theme", "drak", "dark")],
)
def test_unknown_look_is_refused(run: Run, option: str, value: str, words: str) -> None:
    """A misspelt name exits with 2 and says which are known."""
    result = run("voicings", "C", "--format", "svg", option, value)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert words in result.stderr


def test_fingers_are_those_of_the_hand_asked_for(run: Run) -> None:
    """A hand of two fingers uses no third."""
    result = run("voicings", "C", "--fingers", "2", "--label", "finger", "--format", "svg")
    described = [one.text or "" for one in _parsed(result.stdout).iter(f"{SVG}desc")]
    assert any("with finger 2" in text for text in described)
    assert not any("with finger 3" in text for text in described)


def test_sheet_repeats_itself_in_ascii(run_process: RunProcess) -> None:
    """Equal requests give equal bytes, in processes of their own."""
    first, second = (
        run_process("voicings", "B♭7", "--format", "svg", PYTHONHASHSEED=seed)
        for seed in ("1", "2")
    )
    assert first.stdout == second.stdout
    assert first.stdout.isascii()


def test_pictures_are_offered_only_where_there_are_any(run: Run) -> None:
    """Spelled chords have none."""
    result = run("spell", "C", "--format", "svg")
    assert result.exit_code == 2
    assert "table, json, ndjson" in result.stderr


def test_names_of_looks_are_those_of_the_library() -> None:
    """The lists of the request and of the diagrams agree."""
    assert tuple(diagram.LABELS) == picture.LABELS
    assert tuple(diagram.THEMES) == picture.THEMES
