"""The one line in a stranger's test file."""

import subprocess
import sys
from pathlib import Path

import pytest

from gripwright import UnknownNameError, load_registry
from gripwright.laws import LawBrokenError, suite
from tests.core.plugins.samples import Gives, NoRecipes

REGISTRY = load_registry(plugins=[("sample", Gives(strategies=[NoRecipes()]))])

test_builtins = suite("builtins", examples=3)


def run(folder: Path, text: str, *options: str) -> "subprocess.CompletedProcess[str]":
    """Run pytest on a test file of that text."""
    (folder / "test_laws.py").write_text(text, encoding="utf-8")
    program = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *options]
    return subprocess.run(
        [*program, str(folder)], cwd=folder, capture_output=True, text=True, check=False
    )


def test_each_law_and_value_is_a_test(tmp_path: Path) -> None:
    """Both stand in the name of the test."""
    text = "import gripwright.laws\n\ntest_laws = gripwright.laws.suite('builtins')\n"
    done = run(tmp_path, text, "--collect-only")
    assert "test_laws[recipes-repeat-drop-2]" in done.stdout
    assert "test_laws[loads]" in done.stdout
    assert done.returncode == 0


def test_a_broken_law_fails_with_its_words(tmp_path: Path) -> None:
    """The law, the value, the case, and a line that tries it again."""
    text = """
import gripwright.laws
from gripwright import Recipe, hookimpl, load_registry


class Third:
    name, summary = "third", "A major third, always."

    def recipes(self, chord, /):
        return [Recipe(("1", "3"))]


class Plugin:
    @hookimpl
    def gripwright_voicing_strategies(self):
        return [Third()]


REGISTRY = load_registry(plugins=[("own", Plugin())])
test_laws = gripwright.laws.suite("own", registry=REGISTRY)
"""
    done = run(tmp_path, text)
    assert done.returncode == 1
    assert "A recipe of the chord as written, or of its frame" in done.stdout
    assert "strategy third of own breaks recipes-keep-to-their-chord: chord C" in done.stdout
    line = "gripwright.laws.examine('own', law='recipes-keep-to-their-chord')\n"
    assert f"Again: import gripwright.laws; {line}" in done.stdout
    # No line of the laws' own code stands between.
    assert "suites.py" not in done.stdout


def test_without_pytest_all_laws_are_tried_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The function then takes nothing, and every broken law stands in what it raises."""
    monkeypatch.setattr("gripwright.laws.suites.find_spec", lambda _name: None)
    test = suite("sample", examples=3, registry=REGISTRY)
    with pytest.raises(LawBrokenError, match="no-recipes of sample breaks serves-some-chord"):
        test()


def test_an_unknown_plugin_is_told_when_tests_are_collected() -> None:
    """A plugin that is not installed must not pass by having no laws to break."""
    with pytest.raises(UnknownNameError, match="unknown plugin 'absent'"):
        suite("absent")
