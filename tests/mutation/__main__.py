"""Change the code a little, again and again, and see that some test notices each time.

Run from the root of the repository (needs ``pip install mutmut``)::

    python -m tests.mutation                                 # every module of theory and neck
    python -m tests.mutation theory/interval neck/presses

`mutmut` works on a copy in a folder of its own, with the tests of the module's own package and its
doctests. A change that no test notices must stand, with the reason why it may, in
``tests/mutation/survivors.toml``, by itself (``[[survivor]]``, its lines in ``change``; in one
``module`` alone where that is given) or as one of a kind (``[[rule]]``, a regular expression over
all of its lines in ``pattern``); exit code 1 where one does not.
"""

import argparse
import ast
import difflib
import functools
import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
CORE = ROOT / "packages" / "core" / "src"
KEPT = Path(__file__).with_name("survivors.toml")
AREAS = ("theory", "neck")
SLOW = (
    "test_search_outside.py",
    "test_search_laws.py",
    "test_naming_outside.py",
    "test_naming_laws.py",
)
"""Tests that compare whole searches, which would take hours over every change."""
ASKED_BY = {
    "neck/halves": ("halves", "search"),
    "neck/join": ("join", "search"),
    "neck/pairs": ("table",),
    "neck/settle": ("settle", "search"),
    "neck/diagram/neck": ("neck", "geometry", "svg"),
}
"""Modules of which others' tests ask most, each with what those tests are named for."""

_BRIEFLY = {"HYPOTHESIS_PROFILE": "brief"}
_LONGER = {"HYPOTHESIS_PROFILE": "ci"}
_AFRESH = {"MUTANTS_AFRESH": "1"}
_SURVIVED = re.compile(r"^\s*(\S+): (survived|no tests|suspicious)$", flags=re.MULTILINE)
_SETTINGS = """\
[mutmut]
source_paths=
    {sources}
pytest_add_cli_args_test_selection=
    {tests}
pytest_add_cli_args=
    -p
    no:cacheprovider
also_copy=
    src
    tests
    pyproject.toml
    conftest.py
"""


def modules() -> list[str]:
    """The modules that can be changed, such as ``theory/interval``."""
    package = CORE / "gripwright"
    found = (path for area in AREAS for path in sorted((package / area).rglob("*.py")))
    return [
        path.relative_to(package).with_suffix("").as_posix()
        for path in found
        if path.stem != "__init__"
    ]


def tests_of(name: str, *, own: bool) -> list[Path]:
    """The quick tests of a module's package; of those named for the module the plain ones."""
    folder = ROOT / "tests" / "core" / Path(name).parent
    quick = [path for path in sorted(folder.glob("test_*.py")) if path.name not in SLOW]
    if not own:
        return quick
    plain = [path for path in quick if not path.stem.endswith(("_laws", "_outside"))]
    asked = tuple(f"test_{subject}" for subject in ASKED_BY.get(name, (Path(name).name,)))
    return [path for path in plain if path.stem.startswith(asked)] or plain


def survivors(names: list[str], folder: Path) -> list[tuple[str, str]]:
    """Change modules in a copy; return the changes that no test noticed: name, and lines.

    The tests of the modules come first, with few examples of each law. What they do not notice,
    and nothing explains, meets them with the library imported anew, and then all quick tests of
    the package.
    """
    first = folder / "first"
    unnoticed = _unnoticed(names, first, _BRIEFLY, own=True)
    changes = {name: change_of(name, first) for name in unnoticed}
    unexplained = [name for name in unnoticed if not is_explained(name, changes[name])]
    left = unexplained
    for how, own in ((_BRIEFLY | _AFRESH, True), (_LONGER | _AFRESH, False)):
        if left:
            left = _unnoticed(names, folder / str(own), how, *left, own=own)
    return [(name, changes[name]) for name in unnoticed if name in left or name not in unexplained]


def _unnoticed(
    names: list[str], folder: Path, how: dict[str, str], *mutants: str, own: bool
) -> list[str]:
    """Those of some mutants, or of all, that the tests let through in an environment."""
    nothing = shutil.ignore_patterns("__pycache__", ".*")
    shutil.copytree(CORE, folder / "src", ignore=nothing)
    shutil.copytree(ROOT / "tests", folder / "tests", ignore=nothing)
    shutil.copy(ROOT / "pyproject.toml", folder)
    shutil.copy(Path(__file__).with_name("afresh.py"), folder / "conftest.py")
    sources = [f"src/gripwright/{name}.py" for name in names]
    paths = {str(path.relative_to(ROOT)) for name in names for path in tests_of(name, own=own)}
    settings = _SETTINGS.format(
        sources="\n    ".join(sources), tests="\n    ".join([*sorted(paths), *sources])
    )
    (folder / "setup.cfg").write_text(settings, encoding="utf-8")
    environment = {**os.environ, **how}

    def mutmut(*arguments: str) -> str:
        command = [sys.executable, "-m", "mutmut", *arguments]
        done = subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, text=True, check=False
        )
        return done.stdout if done.stdout.strip() else done.stderr

    said = mutmut("run", *mutants)
    if "mutations/second" not in said:
        raise SystemExit(said[-3000:])
    print(said.replace("\r", "\n").strip().splitlines()[-2].strip())
    return [name for name, _how in _SURVIVED.findall(mutmut("results"))]


def change_of(name: str, folder: Path) -> str:
    """The lines that a change takes out and puts in, each with its sign."""
    module, _, function = name.rpartition(".")
    changed = folder / "mutants" / "src" / Path(*module.split(".")).with_suffix(".py")
    bodies = _bodies(changed)
    original = bodies[f"{function.rpartition('__mutmut_')[0]}__mutmut_orig"]
    lines = difflib.ndiff(original, bodies[function])
    return "\n".join(f"{line[0]} {line[2:].strip()}" for line in lines if line[0] in "+-")


@functools.cache
def _bodies(path: Path) -> dict[str, list[str]]:
    """The lines of each function of a file, without its name."""
    source = path.read_text(encoding="utf-8")
    lines = source.splitlines()
    return {
        node.name: lines[node.lineno : node.end_lineno]
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef)
    }


def is_explained(name: str, change: str) -> bool:
    """Whether what is kept says why no test can notice a change; it has the name of its mutant."""
    module = name.rpartition(".")[0].removeprefix("gripwright.").replace(".", "/")
    kept = _kept()
    return any(
        row["change"].strip() == change and row.get("module", module) == module
        for row in kept["survivor"]
    ) or any(re.fullmatch(row["pattern"].strip(), change) for row in kept["rule"])


@functools.cache
def _kept() -> dict[str, list[dict[str, str]]]:
    """The changes that may go unnoticed, and why."""
    return tomllib.loads(KEPT.read_text(encoding="utf-8"))


def main() -> int:
    """Run on the modules that the command line names; return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("modules", nargs="*", metavar="MODULE")
    names = parser.parse_args().modules or modules()
    unknown = [name for name in names if name not in modules()]
    if unknown:
        parser.error(f"unknown module {unknown[0]!r}; known are {', '.join(modules())}")
    with tempfile.TemporaryDirectory() as folder:
        found = survivors(names, Path(folder))
    new = [(name, change) for name, change in found if not is_explained(name, change)]
    for name, change in new:
        print(f"\n{name}\n{change}")
    print(f"{len(found)} changes went unnoticed; {len(found) - len(new)} of them are explained")
    return 1 if new else 0


if __name__ == "__main__":
    sys.exit(main())
