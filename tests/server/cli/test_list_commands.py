"""The lists of instruments, plugins and strategies on the command line."""

import json

from tests.server.conftest import Run


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
