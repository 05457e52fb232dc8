"""Drills on the command line: every file in one run, and refusals before anything is written."""

import io
import json
import wave
from pathlib import Path

import mido
import pytest
from click.testing import CliRunner

from gripwright import read_score
from gripwright_server.cli import ROOT
from tests.server.conftest import Run

CHART = "title: Two doors\nkey: C\n| Dm7 G7 | Cmaj7 | Am7 | % |\n"
ENDINGS = ("mid", "musicxml", "wav", "svg", "pdf", "json", "csv", "txt")


def test_one_command_gives_sheet_midi_and_sound(run: Run, tmp_path: Path) -> None:
    """Every ending in one run, each file whole and of its kind."""
    outputs = [part for ending in ENDINGS for part in ("-o", str(tmp_path / f"drill.{ending}"))]
    result = run("drill", CHART, "--rung", "2", "--tempo", "60", *outputs)
    assert result.exit_code == 0, result.output
    assert result.stdout == ""
    files = {ending: (tmp_path / f"drill.{ending}").read_bytes() for ending in ENDINGS}
    assert files["pdf"].startswith(b"%PDF-")
    assert files["svg"].startswith(b"<svg")
    assert b"<score-partwise" in files["musicxml"]
    assert mido.MidiFile(file=io.BytesIO(files["mid"])).ticks_per_beat == 960
    with wave.open(io.BytesIO(files["wav"])) as sound:
        assert sound.getsampwidth() == 2
    score = read_score(files["json"].decode())
    assert score.title == "Two doors"
    assert [str(event.chord) for event in score.events] == ["Dm7", "G7", "Cmaj7", "Am7", "Am7"]
    assert files["csv"].count(b"\n") > len(score.events)
    assert b"Two doors" in files["txt"]


def test_files_are_the_same_again(run: Run, tmp_path: Path) -> None:
    """Equal requests give equal bytes."""
    for name in ("one", "other"):
        for ending in ("mid", "pdf", "wav", "musicxml"):
            path = tmp_path / f"{name}.{ending}"
            assert run("drill", CHART, "--pattern", "1 2.5'", "-o", str(path)).exit_code == 0
    for ending in ("mid", "pdf", "wav", "musicxml"):
        one, other = (tmp_path / f"{name}.{ending}" for name in ("one", "other"))
        assert one.read_bytes() == other.read_bytes()


def test_dash_is_tablature_on_stdout(run: Run) -> None:
    """A text that a terminal of 80 columns holds."""
    result = run("drill", CHART, "--rung", "1", "-o", "-")
    assert result.exit_code == 0
    assert "Two doors" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert result.stdout.isascii()


def test_pipe_gets_rows(run: Run) -> None:
    """One row a chord as it is played."""
    rows = [json.loads(line) for line in run("drill", CHART, "--rung", "2").stdout.splitlines()]
    assert [(row["symbol"], row["onset"], row["end"]) for row in rows[:3]] == [
        ("Dm7", "0", "1"),
        ("G7", "2", "3"),
        ("Cmaj7", "4", "5"),
    ]


def test_bytes_go_through_a_pipe() -> None:
    """A binary format is written as it is."""
    result = CliRunner().invoke(ROOT, ["drill", CHART, "--rung", "1", "--format", "midi"])
    assert result.exit_code == 0
    assert result.stdout_bytes.startswith(b"MThd")


def test_existing_file_stops_all_of_them(run: Run, tmp_path: Path) -> None:
    """Nothing is computed and nothing written where one file is in the way."""
    there, new = tmp_path / "there.mid", tmp_path / "new.pdf"
    there.write_text("mine")
    arguments = ("drill", CHART, "--rung", "1", "-o", str(new), "-o", str(there))
    result = run(*arguments)
    assert result.exit_code == 1
    assert "--force" in result.stderr
    assert there.read_text() == "mine"
    assert not new.exists()
    assert run(*arguments, "--force").exit_code == 0
    assert there.read_bytes().startswith(b"MThd")


def test_unwritable_file_says_so(run: Run, tmp_path: Path) -> None:
    """A folder that is not there is named."""
    result = run("drill", CHART, "--rung", "1", "-o", str(tmp_path / "nowhere" / "drill.mid"))
    assert result.exit_code == 1
    assert "nowhere" in result.stderr


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("--rung", "99"), (2, "1 to 34")),
        (("--rung", "12", "--part", "7"), (2, "1 to 6")),
        (("--pattern", "backbeet"), (2, "backbeat")),
        (("--pattern", "1 9"), (4, "a beat of 4/4")),
        (("--pattern", "2 1 2"), (4, "each place once")),
        (("--choruses", "3", "--tempo-step", "-30"), (2, "--tempo-step cannot be -30")),
        (("--rung", "1", "--click", "2 x"), (4, "click")),
        (("--rung", "1", "--tempo", "0"), (2, "2 to 800")),
        (("--rung", "1", "--swing", "5"), (2, "1 to 4")),
        (("--rung", "1", "--swing", "drumers"), (2, "drummers")),
        (("--rung", "1", "-o", "drill.docx"), (2, ".pdf")),
        (("--rung", "1", "-o", "a.mid", "-o", "a.mid"), (2, "once")),
        (("--rung", "1", "--format", "midi", "-o", "a.mid", "-o", "b.mid"), (2, "endings")),
        (("--rung", "1", "--keys", "C F", "--apart", "-o", "a.mid"), (2, "several")),
    ],
)
def test_wrong_usage_says_what_was_expected(
    run: Run,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: tuple[str, ...],
    expected: tuple[int, str],
) -> None:
    """Exit code and a sentence that helps; nothing is written."""
    code, words = expected
    monkeypatch.chdir(tmp_path)
    result = run("drill", CHART, *arguments)
    assert result.exit_code == code, result.output
    assert words in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_keys_apart_are_pages_of_one_sheet(run: Run, tmp_path: Path) -> None:
    """Several keys in one file."""
    path = tmp_path / "keys.svg"
    result = run("drill", CHART, "--rung", "1", "--keys", "C F", "--apart", "-o", str(path))
    assert result.exit_code == 0, result.output
    alone = tmp_path / "alone.svg"
    assert run("drill", CHART, "--rung", "1", "-o", str(alone)).exit_code == 0
    assert path.stat().st_size > 1.5 * alone.stat().st_size


def test_further_tunes_are_pages_of_one_sheet(run: Run, tmp_path: Path) -> None:
    """Several tunes in one file, from text and from a file; one score is all that MIDI holds."""
    waltz = tmp_path / "waltz.txt"
    waltz.write_text("title: Round\nmetre: 3/4\n| D7 | G6 |\n")
    path = tmp_path / "set.pdf"
    tunes = ("drill", CHART, "--also", str(waltz), "--also", "| Em7 | A7 |")
    result = run(*tunes, "-o", str(path))
    assert result.exit_code == 0, result.output
    # Each page object of a PDF file is of this type (ISO 32000).
    data = path.read_bytes()
    assert data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") == 3
    refused = run(*tunes, "-o", str(tmp_path / "set.mid"))
    assert refused.exit_code == 2
    assert "--also cannot be given" in refused.stderr
    assert not (tmp_path / "set.mid").exists()


def test_ladder_prints_on_two_pages_at_most(run: Run, tmp_path: Path) -> None:
    """The whole ladder, with every place of the bar long and short."""
    for paper in ("a4", "letter"):
        path = tmp_path / f"{paper}.pdf"
        assert run("ladder", "--paper", paper, "-o", str(path)).exit_code == 0
        # Each page object of a PDF file is of this type (ISO 32000).
        data = path.read_bytes()
        assert 1 <= data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") <= 2


def test_rhythms_and_ladder_show_what_drill_takes(run: Run) -> None:
    """A name from the list is a pattern, a rung from the ladder is a drill."""
    rows = [json.loads(line) for line in run("rhythms", "--meter", "3/4").stdout.splitlines()]
    waltz = next(row["name"] for row in rows if row["family"] == "waltz")
    chart = "metre: 3/4\n| Dm7 | G7 |"
    assert run("drill", chart, "--pattern", waltz).exit_code == 0
    rungs = {
        json.loads(line)["rung"] for line in run("ladder", "--meter", "3/4").stdout.splitlines()
    }
    for rung in sorted(rungs):
        assert run("drill", chart, "--rung", str(rung)).exit_code == 0
