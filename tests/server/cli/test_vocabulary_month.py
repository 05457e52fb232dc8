"""A month with a vocabulary, as a new player would spend it, through the command line."""

import json
import random
import shutil
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from click.testing import CliRunner

from gripwright.vocabulary import GRADES
from gripwright_server.cli import ROOT

# A month in which clocks are put forward.
BEGIN = datetime(2026, 3, 8, 19, 30, tzinfo=ZoneInfo("Europe/Berlin"))
DAYS = 30
MINUTES = 20
TUNE = "title: Evening\n| Dm9 | G13 | Cmaj9 | A7alt | Dm7b5 | G7b9 | Cm6 | % |"
OF_ONES_OWN = {
    3: ("Bm11", "x-2-0-2-3-0"),
    9: ("C6/9", "x-3-2-2-3-3"),
    17: ("F/G", "3-x-3-2-1-1"),
}
# A player who knows most of it: worst grade first, as often as these say.
GRADED = (2, 3, 5, 1)


class Player:
    """A player at a command line, whose clock the test holds."""

    def __init__(self, store: Path) -> None:
        self.store = store
        self.now = BEGIN

    def run(self, *line: str) -> str:
        """Run a command that works, and give what it wrote."""
        arguments = ["vocabulary", *line, "--store", str(self.store)]
        result = CliRunner().invoke(ROOT, arguments, obj=lambda: self.now, prog_name="gripwright")
        assert result.exit_code == 0, (line, result.stderr)
        return result.stdout

    def rows(self, *line: str) -> list[dict[str, Any]]:
        """The rows of a command."""
        return [json.loads(row) for row in self.run(*line).splitlines()]

    def plan(self) -> dict[str, Any]:
        """The plan of the day."""
        options = ("--minutes", str(MINUTES), "--rung", "12", "--format", "json")
        plan: dict[str, Any] = json.loads(self.run("today", TUNE, *options))
        return plan

    def review(self, plan: dict[str, Any], dice: random.Random) -> int:
        """Answer and grade all that a plan asks; how many it was."""
        for prompt in plan["prompts"]:
            (grade,) = dice.choices(list(GRADES), GRADED)
            self.now += timedelta(seconds=40)
            (row,) = self.rows("review", prompt["handle"], "--grade", grade)
            assert row["new"] is True
            assert row["due"] > row["reviewed_at"]
        return len(plan["prompts"])


def test_a_month_of_practice(tmp_path: Path) -> None:
    """Starter set, entries, reviews, gaps closing, backlog held, the book; then the copies."""
    player = Player(tmp_path / "grips.db")
    dice = random.Random("march")  # noqa: S311 - variety, no secret
    starter = player.rows("begin", "--band", "bass")
    assert len(starter) > 20
    for row in starter[: len(starter) // 2]:
        player.run("change", row["handle"], "--known")
    first_gaps = [row["sentence"] for row in player.rows("gaps", "--limit", "12")]

    waiting, learned, filled, asked = [], [], [], 0
    for day in range(DAYS):
        player.now = BEGIN + timedelta(days=day)
        plan = player.plan()
        assert plan["day"] == player.now.date().isoformat()
        assert sum(block["minutes"] for block in plan["blocks"]) == MINUTES
        kinds = {block["kind"] for block in plan["blocks"]}
        assert {"warm-up", "tune", "ladder", "break"} <= kinds
        assert plan["rung"]["name"] == "Rung 12"
        assert plan["cautions"]
        # The backlog is capped by the time, and while it is, nothing new comes.
        assert (plan["new"] is None) == (plan["paused"] is not None)
        waiting.append(plan["waiting"])
        # Not every day is a day for something new.
        if plan["new"] is not None and day % 2 == 0:
            (row,) = player.rows("learn", TUNE, "--minutes", str(MINUTES), "--rung", "12")
            assert row["frets"] == plan["new"]["frets"]
            learned.append(row["id"])
            filled.append(plan["new"]["gap"])
        if day in OF_ONES_OWN:
            player.run("add", *OF_ONES_OWN[day], "--tag", "my own")
        asked += player.review(plan, dice)

    assert asked > 5 * DAYS
    assert len(learned) == len(set(learned)) >= DAYS // 4
    # What waits at first, as the starter set does, is worked off and stays so.
    assert max(waiting[DAYS // 2 :]) <= max(waiting[: DAYS // 2])
    assert waiting[-1] <= 10
    last_gaps = [row["sentence"] for row in player.rows("gaps", "--limit", "12")]
    assert not set(filled) & set(last_gaps)
    assert len(set(first_gaps) - set(last_gaps)) >= len(first_gaps) // 3
    assert {row["symbol"] for row in player.rows("list", "--tag", "my own")} == {
        symbol for symbol, _ in OF_ONES_OWN.values()
    }
    assert json.loads(player.run("check", "--format", "json"))["sound"] is True

    book, sheet = tmp_path / "book.pdf", tmp_path / "plan.pdf"
    player.run("book", "-o", str(book))
    player.run("today", TUNE, "-o", str(sheet))
    assert book.read_bytes().startswith(b"%PDF-")
    assert sheet.read_bytes().startswith(b"%PDF-")

    player.now = BEGIN + timedelta(days=DAYS)
    expected = player.plan()
    assert expected["prompts"]
    assert _moved(player, tmp_path).plan() == expected
    assert _imported(player, tmp_path).plan() == expected


def _moved(player: Player, folder: Path) -> Player:
    """The same player, whose file was copied away, lost, and copied back."""
    away = folder / "stick" / "copy.db"
    away.parent.mkdir()
    shutil.copyfile(player.store, away)
    for name in (player.store.name, f"{player.store.name}-wal", f"{player.store.name}-shm"):
        player.store.with_name(name).unlink(missing_ok=True)
    shutil.copyfile(away, player.store)
    return player


def _imported(player: Player, folder: Path) -> Player:
    """The same player with a new store, into which the old one was imported."""
    document = folder / "vocabulary.json"
    player.run("export", "-o", str(document))
    other = Player(folder / "other.db")
    other.now = player.now
    other.run("import", str(document))
    assert other.run("export") == document.read_text(encoding="ascii")
    return other
