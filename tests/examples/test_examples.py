"""Every example runs as its own text says, and shows what it promises."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.server.http.live import served

EXAMPLES = Path(__file__).parents[2] / "examples"


def run(name: str, *arguments: str, folder: Path) -> str:
    """Run an example in a process of its own; return what it prints."""
    program = [sys.executable, "-W", "error", str(EXAMPLES / name), *arguments]
    done = subprocess.run(program, cwd=folder, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def test_every_example_is_run_here_or_beside() -> None:
    """A new one needs a test."""
    assert {path.name for path in EXAMPLES.iterdir() if path.name[0] not in "._"} == {
        *("broken_twins.py", "cigar_box", "http_client.py", "progression.py"),
        *("ten_lines.py", "tour.py"),
    }


def test_voicings_in_ten_lines(tmp_path: Path) -> None:
    """Ten grips of the chord that is asked for, and no more than ten lines of code."""
    lines = run("ten_lines.py", "Am7", folder=tmp_path).splitlines()
    assert len(lines) == 10
    assert all({"b3", "b7"} <= set(line.split()) for line in lines)
    text = (EXAMPLES / "ten_lines.py").read_text(encoding="utf-8")
    code = [line for line in text.splitlines() if line.strip() and '"""' not in line]
    assert len(code) <= 10


def test_progression_is_written_in_three_formats(tmp_path: Path) -> None:
    """Files that begin as their formats do; the JSON holds two attacks a bar of two choruses."""
    printed = run("progression.py", str(tmp_path), folder=tmp_path)
    assert printed.split() == ["progression.mid", "progression.musicxml", "progression.json"]
    assert (tmp_path / "progression.mid").read_bytes().startswith(b"MThd")
    assert (tmp_path / "progression.musicxml").read_bytes().startswith(b"<?xml")
    document = json.loads((tmp_path / "progression.json").read_text(encoding="ascii"))
    assert [event["beat"] for event in document["events"]] == ["2", "4"] * 8


def test_a_client_with_the_standard_library_alone(tmp_path: Path) -> None:
    """Two pages of grips of the server, and what it says of an unreadable symbol."""
    with served() as server:
        *grips, fault = run("http_client.py", server.url, "Cmaj7", folder=tmp_path).splitlines()
    assert len(grips) == 10
    assert all(line.startswith("guitar:x-x-") for line in grips)
    assert len(set(grips)) == 10
    assert fault.startswith("422 ")
    assert "did you mean 'Cmaj7'?" in fault


def test_the_client_imports_nothing_of_ours() -> None:
    """It is for programs that know HTTP alone."""
    text = (EXAMPLES / "http_client.py").read_text(encoding="utf-8")
    modules = [line.split()[1].partition(".")[0] for line in text.splitlines() if "import " in line]
    assert modules
    assert set(modules) <= sys.stdlib_module_names


@pytest.mark.parametrize("words", ["Dm9 ['D', 'F', 'A', 'C', 'E']", "A3", "<svg True"])
def test_the_tour_shows_what_it_says(words: str, tmp_path: Path) -> None:
    """Each cell prints its value."""
    assert words in run("tour.py", folder=tmp_path)
