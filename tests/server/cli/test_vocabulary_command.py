"""The commands on a vocabulary, each as a player would type it."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gripwright.meter import Meter
from gripwright_rhythm.ladder import RUNGS
from gripwright_server.cli import ROOT
from tests.server.conftest import RunProcess

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
At = Callable[..., Result]


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Where the store of a test is."""
    return tmp_path / "grips.db"


@pytest.fixture
def at(store: Path) -> At:
    """Run a command on the store of the test, at a moment."""

    def call(*arguments: str, now: datetime = NOW) -> Result:
        line = ["vocabulary", *arguments, "--store", str(store)]
        return CliRunner().invoke(ROOT, line, obj=lambda: now, prog_name="gripwright")

    return call


@pytest.fixture
def begun(at: At) -> At:
    """The same, where a vocabulary has begun without a starter set."""
    assert at("begin", "--bare").exit_code == 0
    return at


def rows(result: Result) -> list[dict[str, Any]]:
    """The rows that a command wrote."""
    assert result.exit_code == 0, result.stderr
    return [json.loads(line) for line in result.stdout.splitlines()]


def handle(result: Result) -> str:
    """The handle of the one entry that a command wrote."""
    (row,) = rows(result)
    return str(row["handle"])


def test_without_a_store_says_how_to_begin(at: At, store: Path) -> None:
    """The first command of a new user fails with the word that helps, and makes no file."""
    result = at("today")
    assert result.exit_code == 1
    assert "vocabulary begin" in result.stderr
    assert str(store) in result.stderr
    assert not store.exists()


def test_begin_adds_the_starter_set_of_the_instrument(at: At) -> None:
    """A ukulele player begins with a ukulele's grips."""
    found = rows(at("begin", "--instrument", "ukulele"))
    assert len(found) > 5
    assert {row["instrument"] for row in found} == {"ukulele"}
    assert {len(row["frets"].split("-")) for row in found} == {4}


def test_refused_beginning_leaves_no_file(at: At, store: Path) -> None:
    """A misspelt instrument ends before anything is made."""
    result = at("begin", "--instrument", "guitarr")
    assert result.exit_code == 2
    assert "guitar" in result.stderr
    assert not store.exists()


def test_beginning_again_keeps_what_there_is(begun: At) -> None:
    """Twice begun is not begun anew: the entries stay and only missing ones come."""
    begun("add", "Cmaj7", "x-3-5-4-5-x", "--note", "mine")
    begun("begin")
    (row,) = [row for row in rows(begun("list")) if row["id"].endswith(":x-3-5-4-5-x=Cmaj7")]
    assert row["note"] == "mine"


def test_profile_changes_what_is_given(begun: At) -> None:
    """What is left out stays as it is."""
    begun("profile", "--reach-mm", "100", "--handed", "left", "--band", "bass")
    (row,) = rows(begun("profile", "--stroke", "pluck"))
    assert (row["reach_mm"], row["left_handed"]) == (100.0, True)
    assert (row["band"], row["stroke"]) == ("bass", "pluck")
    (row,) = rows(begun("profile", "--band", "none"))
    assert row["band"] is None


def test_grip_of_another_chord_is_questioned(begun: At) -> None:
    """A grip that does not express its symbol is refused with what it could be."""
    result = begun("add", "Cmaj7", "x-3-5-3-5-x")
    assert result.exit_code == 4
    assert "x-3-5-3-5-x is not Cmaj7" in result.stderr
    assert "could be C7" in result.stderr
    assert "--anyway" in result.stderr
    assert begun("list").exit_code == 3
    assert rows(begun("add", "Cmaj7", "x-3-5-3-5-x", "--anyway"))[0]["symbol"] == "Cmaj7"


def test_grip_that_serves_several_chords_is_offered_under_each(begun: At) -> None:
    """Am7 on the top strings is C6 as well (common practice)."""
    result = begun("add", "Am7", "x-x-7-9-8-8", "--format", "json")
    document = json.loads(result.stdout)
    assert "C6" in document["serves"]
    assert document["new"] is True
    again = json.loads(begun("add", "Am7", "x-x-7-9-8-8", "--format", "json").stdout)
    assert again["new"] is False


def test_unreadable_grip_is_shown_with_a_caret(begun: At) -> None:
    """Too many frets for the strings of the profile's instrument."""
    result = begun("add", "Cmaj7", "x-3-5-4-5-x-x")
    assert result.exit_code == 4
    assert "^ expected x or a fret for each of 6 strings" in result.stderr


def test_list_finds_by_kind_state_and_tag(begun: At) -> None:
    """Categories are named by suffix or by symbol."""
    begun("add", "Cm7b5", "x-3-4-3-4-x", "--tag", "drop 2", "--tag", "lesson")
    begun("add", "G7", "3-x-3-4-3-x")
    assert [row["symbol"] for row in rows(begun("list", "--category", "Bm7b5"))] == ["Cm7b5"]
    assert [row["symbol"] for row in rows(begun("list", "--category", "7"))] == ["G7"]
    assert [row["tags"] for row in rows(begun("list", "--tag", "lesson"))] == [["drop 2", "lesson"]]
    assert begun("list", "--state", "retired").exit_code == 3
    empty = begun("list", "--category", "dim7")
    assert empty.exit_code == 3
    assert "--category" in empty.stderr


def test_entry_is_found_by_its_grip_at_any_place(begun: At) -> None:
    """The same grip two frets higher is the same entry."""
    name = handle(begun("add", "Cmaj7", "x-3-5-4-5-x"))
    assert handle(begun("show", "x-5-7-6-7-x=Dmaj7")) == name
    assert handle(begun("show", name.upper())) == name
    unknown = begun("show", "zzzzzz")
    assert unknown.exit_code == 2
    assert "vocabulary list" in unknown.stderr


def test_retired_grip_is_not_asked_for_and_a_reviewed_one_not_removed(begun: At) -> None:
    """The log is kept; what is laid aside rests."""
    name = handle(begun("add", "Cmaj7", "x-3-5-4-5-x"))
    begun("review", name, "--grade", "in-time")
    refused = begun("remove", name)
    assert refused.exit_code == 2
    assert "retire" in refused.stderr
    (row,) = rows(begun("change", name, "--state", "retired", "--tag", "old"))
    assert (row["state"], row["tags"], row["due"]) == ("retired", ["old"], None)
    later = NOW + timedelta(days=90)
    plan = json.loads(begun("today", "--format", "json", now=later).stdout)
    assert plan["prompts"] == []
    other = handle(begun("add", "G7", "3-x-3-4-3-x"))
    assert begun("remove", other).exit_code == 0
    assert len(rows(begun("list"))) == 1


def test_review_counts_once_under_one_name(begun: At) -> None:
    """A retry changes nothing; another review under the same name is refused."""
    name = handle(begun("add", "Cmaj7", "x-3-5-4-5-x"))
    first = rows(begun("review", name, "--grade", "in-time", "--review-id", "monday"))[0]
    again = rows(begun("review", name, "--grade", "in-time", "--review-id", "monday"))[0]
    assert (first["new"], again["new"]) == (True, False)
    assert first["due"] == again["due"] > "2026-01-06"
    other = begun("review", name, "--grade", "looked", "--review-id", "monday")
    assert other.exit_code == 2
    assert "an id that no other review has" in other.stderr


def test_date_without_a_zone_is_refused(begun: At) -> None:
    """A naive date is another moment wherever it is read."""
    name = handle(begun("add", "Cmaj7", "x-3-5-4-5-x"))
    result = begun("review", name, "--grade", "in-time", "--at", "2026-01-05T20:00:00")
    assert result.exit_code == 2
    assert "--at cannot be 2026-01-05T20:00:00: expected a date and time with a time zone" in (
        result.stderr
    )
    row = rows(begun("review", name, "--grade", "slowly", "--at", "2026-01-05T21:00:00+01:00"))[0]
    assert row["reviewed_at"] == "2026-01-05T20:00:00Z"


def test_unknown_grade_names_the_grades(begun: At) -> None:
    """Grades are a player's words, and there are four."""
    name = handle(begun("add", "Cmaj7", "x-3-5-4-5-x"))
    result = begun("review", name, "--grade", "good")
    assert result.exit_code == 2
    assert "looked, slowly, in-time, any-key" in result.stderr


def test_question_of_the_plan_is_the_one_that_is_answered(begun: At) -> None:
    """The day's plan and the command ask put the same question, and hide the grip that it asks."""
    for symbol, frets in (("Cmaj7", "x-3-5-4-5-x"), ("Dm9", "x-5-3-5-5-x"), ("G7", "3-x-3-4-3-x")):
        begun("add", symbol, frets)
    plan = json.loads(begun("today", "--format", "json").stdout)
    assert len(plan["prompts"]) == 3
    assert any(prompt["hidden"] for prompt in plan["prompts"])
    for prompt in plan["prompts"]:
        (asked,) = rows(begun("ask", prompt["handle"]))
        assert asked == prompt
        assert asked["frets"] is None or not asked["hidden"]
    hidden = next(prompt for prompt in plan["prompts"] if prompt["hidden"])
    muted = begun("answer", hidden["handle"], "0-0-0-0-0-0")
    assert rows(muted)[0]["right"] is False
    shape = rows(muted)[0]["sentence"].rpartition(" ")[2]
    assert rows(begun("answer", hidden["handle"], shape))[0]["right"] is True
    unreadable = begun("answer", hidden["handle"], "nonsense")
    assert unreadable.exit_code == 4


def test_plan_on_the_screen_keeps_eighty_columns_and_hides_what_it_asks(begun: At) -> None:
    """What a player sees: minutes, questions by their handles, cautions."""
    name = handle(begun("add", "Dm9", "x-5-3-5-5-x"))
    chart = "| Dm7 | G7 | Cmaj7 | % |"
    result = begun("today", chart, "--rung", "12", "--tempo", "72", "--format", "table")
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[0] == "Monday, 5 January 2026: 20 minutes"
    assert name in result.stdout
    assert "x-5-3-5-5-x" not in result.stdout
    assert "Rung 12: Beat 2, long; click on all beats." in result.stdout
    assert "72 beats a minute" in result.stdout
    assert "Stop on pain" in result.stdout
    minutes = [int(line[:3]) for line in lines if line[3:7] == " min"]
    assert sum(minutes) == 20


@pytest.mark.parametrize("minutes", ["4", "241"])
def test_session_out_of_range_is_refused(begun: At, minutes: str) -> None:
    """Five minutes to four hours."""
    result = begun("today", "--minutes", minutes)
    assert result.exit_code == 2
    assert "--minutes" in result.stderr


def test_rung_of_another_metre_is_refused(begun: At) -> None:
    """Backbeats make no sense in one beat a bar."""
    result = begun("today", "meter: 1/4\n| C | G |", "--rung", "12")
    assert result.exit_code == 2
    assert "rung 12" in result.stderr


def rung_of_day(result: Result) -> dict[str, Any]:
    """The rung in a plan as JSON."""
    assert result.exit_code == 0, result.stderr
    found: dict[str, Any] = json.loads(result.stdout)["rung"]
    return found


def test_place_on_the_ladder_is_kept_from_day_to_day(begun: At) -> None:
    """Without options the plan goes on where the profile stands; with them it looks elsewhere."""
    plan = ("today", "--format", "json")
    assert rung_of_day(begun(*plan))["name"] == "Rung 1"
    (row,) = rows(begun("profile", "--rung", "12", "--part", "3", "--tempo", "72"))
    assert (row["rung"], row["part"], row["tempo"]) == (12, 3, 72.0)
    tomorrow = NOW + timedelta(days=1)
    kept = rung_of_day(begun(*plan, now=tomorrow))
    assert kept["name"] == "Rung 12"
    assert kept["tempo"].startswith("72 beats a minute")
    assert kept == rung_of_day(begun(*plan, "--rung", "12", "--part", "3", now=tomorrow))
    assert rung_of_day(begun(*plan, "--rung", "5", now=tomorrow))["name"] == "Rung 5"
    assert rung_of_day(begun(*plan, now=tomorrow)) == kept
    # Another rung begins with its first drill; another thing of the profile moves nothing.
    assert rows(begun("profile", "--band", "bass"))[0]["part"] == 3
    (row,) = rows(begun("profile", "--rung", "13"))
    assert (row["rung"], row["part"], row["tempo"]) == (13, 1, 72.0)
    assert rows(begun("begin", "--bare")) == []
    assert rows(begun("profile"))[0]["rung"] == 13


def test_plan_says_what_comes_next_on_the_ladder(begun: At) -> None:
    """The next drill of the rung; after its last the next rung; after that the player's choice."""
    plan = ("today", "--format", "json", "--rung")
    assert "go on to drill 2 of its" in rung_of_day(begun(*plan, "12"))["tempo"]
    last = len(RUNGS[11].parts(Meter()))
    assert "go on to rung 13" in rung_of_day(begun(*plan, "12", "--part", str(last)))["tempo"]
    top = len(RUNGS[-1].parts(Meter()))
    ended = rung_of_day(begun(*plan, str(len(RUNGS)), "--part", str(top)))["tempo"]
    assert "this is the last" in ended


def test_drill_that_a_rung_has_not_is_not_kept(begun: At) -> None:
    """The refusal says how many there are, and the profile stays."""
    result = begun("profile", "--rung", "2", "--part", "99")
    assert result.exit_code == 2
    assert "part of rung 2" in result.stderr
    assert rows(begun("profile"))[0]["rung"] == 1


def test_kept_rung_does_not_keep_a_tune_in_another_metre_away(begun: At) -> None:
    """The ladder is then played in four, and the plan says so."""
    begun("profile", "--rung", "12")
    result = begun("today", "meter: 1/4\n| C | G |", "--format", "json")
    assert rung_of_day(result)["name"] == "Rung 12"
    assert "rung 12 has no such drill in 1/4: it is in 4/4" in result.stderr


@pytest.mark.parametrize("number", range(1, len(RUNGS) + 1))
def test_every_rung_can_be_kept(number: int) -> None:
    """Each has a drill in common time, by which a place is judged."""
    assert RUNGS[number - 1].parts(Meter())


def test_new_grip_of_the_day_is_learned_once(begun: At) -> None:
    """One a day: after it the plan has none, and says why."""
    row = rows(begun("learn"))[0]
    assert row["source"] == "the plan of the day"
    again = begun("learn")
    assert again.exit_code == 3
    assert "one a day" in again.stderr
    plan = json.loads(begun("today", "--format", "json").stdout)
    assert plan["new"] is None
    assert "one a day" in plan["paused"]


def test_gaps_get_fewer_as_they_are_filled(begun: At) -> None:
    """The first gap is what the first grip fills."""
    before = rows(begun("gaps", "--limit", "3"))
    assert before[0]["sentence"] == "no major seventh"
    begun("learn")
    after = rows(begun("gaps", "--limit", "3"))
    assert before[0] not in after
    document = json.loads(begun("gaps", "--limit", "1", "--format", "json").stdout)
    assert [kind["category"] for kind in document["categories"]] == ["maj7"]


def test_every_table_keeps_eighty_columns(at: At) -> None:
    """What people read fits the narrowest usual terminal."""
    at("begin")
    name = rows(at("list"))[0]["handle"]
    for line in (
        ("begin",),
        ("list",),
        ("gaps", "--limit", "5"),
        ("show", name),
        ("ask", name),
        ("review", name, "--grade", "looked"),
        ("show", name),
        ("profile",),
        ("book", "--category", "7"),
        ("export",),
        ("check",),
        ("change", name, "--note", "a word"),
        ("add", "Dm9", "x-5-3-5-5-x"),
    ):
        result = at(*line, "--format", "table")
        assert result.exit_code == 0, (line, result.stderr)
        widest = max(result.stdout.splitlines(), key=len)
        # A path is as long as it is.
        assert len(widest) <= 80 or ".db" in widest, (line, widest)


def test_store_comes_from_the_environment(run_process: RunProcess, store: Path) -> None:
    """What is not said on the line is taken from the environment."""
    result = run_process("vocabulary", "begin", "--bare", GRIPWRIGHT_STORE=str(store))
    assert result.returncode == 0, result.stderr
    assert store.exists()


def test_store_is_in_the_data_folder_by_default(run_process: RunProcess, tmp_path: Path) -> None:
    """The XDG Base Directory Specification says where; other systems have their own."""
    if os.name != "posix":
        pytest.skip("the folder of this system is not chosen by the environment")
    environment = {"XDG_DATA_HOME": str(tmp_path), "GRIPWRIGHT_STORE": ""}
    result = run_process("vocabulary", "begin", "--bare", **environment)
    assert result.returncode == 0, result.stderr
    assert (tmp_path / "gripwright" / "vocabulary.db").exists()


def test_unknown_command_names_the_nearest(at: At) -> None:
    """A misspelt word of the group is told like one of the top."""
    result = at("todai")
    assert result.exit_code == 2
    assert "did you mean 'today'" in result.stderr


@pytest.mark.parametrize("library", ["sqlalchemy", "fsrs", "platformdirs"])
def test_missing_extra_says_what_to_install(library: str, store: Path) -> None:
    """Without its libraries the group says which extra brings them, and other commands work."""
    code = (
        f"import sys; sys.modules[{library!r}] = None\n"
        "from gripwright_server.cli import ROOT\n"
        "ROOT(sys.argv[1:], prog_name='gripwright')"
    )
    line = [sys.executable, "-c", code, "vocabulary", "list", "--store", str(store)]
    result = subprocess.run(line, check=False, capture_output=True, text=True, timeout=60)
    assert result.returncode == 1
    assert result.stderr == (
        f"Error: {library} is not installed: pip install 'gripwright-server[store]'\n"
    )
