"""The lists of instruments, plugins and strategies on the command line."""

import json
from pathlib import Path

from tests.core.plugins.test_entry_points import install
from tests.server.cli.test_check_command import on_path
from tests.server.conftest import Run, RunProcess


def test_instruments_are_listed_for_people_and_for_programs(run: Run) -> None:
    """Both forms hold the same instruments."""
    rows = [json.loads(line) for line in run("instruments").stdout.splitlines()]
    table = run("instruments", "--format", "table").stdout
    assert {"guitar", "ukulele", "eight-string"} <= {row["id"] for row in rows}
    assert all(row["id"] in table for row in rows)
    assert max(map(len, table.splitlines())) <= 80


def test_plugins_are_listed_with_what_they_give(run: Run) -> None:
    """A plugin that is switched off stays in the list."""
    result = run("--disable", "tunings", "plugins", "--format", "json")
    plugins = {row["name"]: row for row in json.loads(result.stdout)["plugins"]}
    assert plugins["tunings"]["status"] == "switched off"
    assert "any" in plugins["builtins"]["strategies"]
    assert "tunings" in run("plugins", "--format", "table").stdout


def test_what_a_plugin_prints_when_it_is_loaded_is_no_row(
    run_process: RunProcess, tmp_path: Path
) -> None:
    """It goes to stderr, whether it is printed by the import or by a hook."""
    chatty = "from gripwright import hookimpl\nprint('imported')\n\n"
    chatty += "@hookimpl\ndef gripwright_instruments():\n    print('asked')\n    return []\n"
    install(tmp_path, modules={"shop_plugin": chatty})
    done = run_process("instruments", **on_path(tmp_path))
    assert "guitar" in {json.loads(line)["id"] for line in done.stdout.splitlines()}
    assert done.stderr.splitlines()[:2] == ["imported", "asked"]


def test_strategies_are_listed_for_people_and_for_programs(run: Run) -> None:
    """Both forms hold the same strategies; with a chord, how each stacks it."""
    rows = [json.loads(line) for line in run("strategies").stdout.splitlines()]
    table = run("strategies", "--format", "table").stdout
    assert {"any", "drop-2", "rootless"} <= {row["name"] for row in rows}
    assert all(row["name"] in table for row in rows)
    assert max(map(len, table.splitlines())) <= 80
    stacked = run("strategies", "--chord", "Cmaj7", "--format", "json")
    (drop_2,) = (r for r in json.loads(stacked.stdout)["strategies"] if r["name"] == "drop-2")
    assert ["1", "5", "7", "3"] in [recipe["degrees"] for recipe in drop_2["recipes"]]
