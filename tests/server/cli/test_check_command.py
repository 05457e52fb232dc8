"""The command check: exit codes, the table, and plugins that are broken in every way."""

import json
import os
from pathlib import Path

from gripwright_server.operations import LOCAL_OPERATIONS, OPERATIONS
from tests.core.plugins.test_entry_points import install
from tests.server.conftest import Run, RunProcess

FAULTY = '''\
"""One right instrument, one wrong strategy, one that hangs."""

import time

from gripwright import Instrument, Recipe, hookimpl


class Third:
    name, summary = "third", "A major third, always."

    def recipes(self, chord, /):
        return [Recipe(("1", "3"))]


class Sleepy:
    name, summary = "sleepy", "Recipes, one day."

    def recipes(self, chord, /):
        time.sleep(60)


@hookimpl
def gripwright_instruments():
    return [Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id="small")]


@hookimpl
def gripwright_voicing_strategies():
    return [Third(), Sleepy()]
'''


def on_path(site: Path) -> dict[str, str]:
    """Return the environment that puts a folder on the path of Python."""
    return {"PYTHONPATH": os.pathsep.join([str(site), os.environ.get("PYTHONPATH", "")])}


def test_kept_laws_end_with_zero(run: Run) -> None:
    """A table of them, and how many there are."""
    result = run("check", "--plugin", "theory", "--examples", "2", "--format", "table")
    assert result.exit_code == 0
    assert "theory  1             chords-read-back" in result.output
    assert result.output.endswith("\n14 kept, 0 broken\n")


def test_broken_laws_end_with_one_and_the_rest_go_on(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """Fault and hang are named by plugin, value and law; the instrument keeps all of its laws."""
    install(tmp_path, modules={"shop_plugin": FAULTY})
    done = run_process(
        *("check", "--plugin", "shop", "--examples", "5", "--time-limit", "0.5"),
        *("--format", "table"),
        **on_path(tmp_path),
    )
    assert done.returncode == 1
    assert "Broken: recipes-keep-to-their-chord, by strategy third of shop" in done.stdout
    assert "  fault  1 3 says that it voices as written, and 3 is not in the chord" in done.stdout
    assert "  again  gripwright check --plugin shop --law recipes-keep-to" in done.stdout
    hang = done.stdout[
        done.stdout.index("Broken: gives-recipes-for-any-chord, by strategy sleepy") :
    ]
    assert "  fault  it took more than 0.5 s\n  also   recipes-repeat, recipes-follow" in hang
    assert hang.count("it took more than") == 1
    assert "by instrument" not in done.stdout
    assert "Traceback" not in done.stderr


def test_the_same_fault_is_told_once_and_fits_a_terminal(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """The first law that it breaks in full, the others by name, in lines of 80 signs."""
    junk = FAULTY.replace("time.sleep(60)", "return None")
    install(tmp_path, modules={"shop_plugin": junk})
    options = ("check", "--plugin", "shop", "--examples", "5", "--format", "table")
    done = run_process(*options, COLUMNS="80", **on_path(tmp_path))
    assert done.stdout.count("it gives None, and no recipes") == 1
    assert "also   recipes-repeat, recipes-follow-the-key, recipes-keep-to" in done.stdout
    lines = [line for line in done.stdout.splitlines() if not line.startswith("  again  ")]
    assert max(map(len, lines)) <= 80
    assert "15 kept, 9 broken" in done.stdout


def test_a_plugin_that_leans_on_the_order_of_a_set_is_caught(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """Within one process it answers alike; in two it does not."""
    shuffled = FAULTY.replace("time.sleep(60)", "return [Recipe(tuple(set(chord.degrees)))]")
    install(tmp_path, modules={"shop_plugin": shuffled})
    law = ("--law", "says-the-same-in-another-process")
    done = run_process("check", "--plugin", "shop", *law, **on_path(tmp_path))
    assert done.returncode == 1
    (row,) = map(json.loads, done.stdout.splitlines())
    assert row["fault"].startswith("strategy sleepy, chord C: at first it gives ")
    assert "and in another process" in row["fault"]


def test_a_plugin_that_remembers_is_caught_even_when_it_settles(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """What other laws have asked before would hide it; a process of its own has asked nothing."""
    body = "self.asked = getattr(self, 'asked', 0) + 1\n        "
    settled = body + "return [Recipe(chord.degrees)] * min(self.asked, 3)"
    install(tmp_path, modules={"shop_plugin": FAULTY.replace("time.sleep(60)", settled)})
    law = ("--law", "says-the-same-in-another-process")
    done = run_process("check", "--plugin", "shop", *law, **on_path(tmp_path))
    (row,) = map(json.loads, done.stdout.splitlines())
    assert "chord C: at first it gives 1 3 5, and asked again 1 3 5, 1 3 5, 1 3 5" in row["fault"]


def test_a_plugin_without_hooks_gives_nothing_and_is_told_so(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """An entry point that names the package, where the hooks stand in a module of it."""
    install(tmp_path, modules={"shop_plugin": "MARK = 1\n"})
    done = run_process("check", "--plugin", "shop", **on_path(tmp_path))
    assert done.returncode == 1
    _, row, _ = map(json.loads, done.stdout.splitlines())
    assert (row["law"], row["kept"]) == ("gives-something", False)
    assert "no hook is answered in shop_plugin" in row["fault"]


def test_the_line_that_is_told_shows_the_same_case(run_process: RunProcess, tmp_path: Path) -> None:
    """Pasted, it finds what was found."""
    install(tmp_path, modules={"shop_plugin": FAULTY})
    law = ("check", "--plugin", "shop", "--law", "recipes-follow-the-key", "--time-limit", "0.5")
    rows = [json.loads(line) for line in run_process(*law, **on_path(tmp_path)).stdout.splitlines()]
    (broken,) = [row for row in rows if not row["kept"]]
    _, *again = broken["again"].split()
    repeated = run_process(*again, **on_path(tmp_path)).stdout.splitlines()
    assert json.loads(repeated[-1])["counterexample"] == broken["counterexample"]


def test_a_plugin_whose_import_fails_is_named(run_process: RunProcess, tmp_path: Path) -> None:
    """It breaks the law of loading; the exit code is that of a broken law."""
    install(tmp_path, modules={"shop_plugin": "raise RuntimeError('no strings')"})
    done = run_process("check", "--plugin", "shop", **on_path(tmp_path))
    assert done.returncode == 1
    (row,) = map(json.loads, done.stdout.splitlines())
    assert (row["plugin"], row["law"], row["kept"]) == ("shop", "loads", False)
    assert "RuntimeError: no strings" in row["fault"]


def test_an_unknown_plugin_is_a_usage_error(run: Run) -> None:
    """Exit code 2, with the nearest name."""
    result = run("check", "--plugin", "rythm")
    assert result.exit_code == 2
    assert "did you mean 'rhythm'?" in result.output


def test_nothing_in_use_is_nothing_found(run: Run) -> None:
    """Exit code 3, and how the theory can be checked even so."""
    off = [f"--disable={name}" for name in ("builtins", "rhythm", "tunings")]
    result = run(*off, "check")
    assert result.exit_code == 3
    assert "--plugin theory" in result.output


def test_missing_hypothesis_says_which_extra(run_process: RunProcess, tmp_path: Path) -> None:
    """A module of that name that is not there to be found."""
    (tmp_path / "sitecustomize.py").write_text(
        "import importlib.util\n"
        "found = importlib.util.find_spec\n"
        "importlib.util.find_spec = lambda name, *rest: (\n"
        "    None if name == 'hypothesis' else found(name, *rest)\n"
        ")\n",
        encoding="utf-8",
    )
    done = run_process("check", **on_path(tmp_path))
    assert done.returncode == 1
    assert "pip install 'gripwright[laws]'" in done.stderr
    assert "Traceback" not in done.stderr


def test_the_check_is_not_offered_over_http(run: Run) -> None:
    """It runs for minutes, and runs code of strangers: a command alone."""
    assert [operation.name for operation in LOCAL_OPERATIONS] == ["check"]
    assert "check" not in {operation.name for operation in OPERATIONS}
    assert "check" in run("--help").output
