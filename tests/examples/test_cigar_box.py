"""The stranger's distribution: built, installed with the core alone, and checked.

It is installed into an environment of its own from wheels that are built here, without any index:
the libraries of others that the core needs are linked in from the environment of the tests.
"""

import importlib.metadata
import json
import shutil
import subprocess
import sys
import venv
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
STRANGER = ROOT / "examples" / "cigar_box"
OURS = "gripwright"


@attrs.frozen
class Environment:
    """An environment of Python with the core and the stranger's plugin.

    Args:
        folder: Where it is.
        source: A copy of the stranger's folder.
    """

    folder: Path
    source: Path

    @property
    def python(self) -> Path:
        """Its interpreter."""
        return self.folder / "bin" / "python"

    def run(self, *arguments: str, cwd: Path | None = None) -> "subprocess.CompletedProcess[str]":
        """Run its interpreter."""
        program = [str(self.python), *arguments]
        return subprocess.run(program, cwd=cwd, capture_output=True, text=True, check=False)


def needed(name: str, extras: frozenset[str] = frozenset()) -> Iterator[str]:
    """The distributions of others that one needs, and what they need in turn."""
    for line in importlib.metadata.requires(name) or ():
        wanted = Requirement(line)
        marker = wanted.marker
        if marker and not any(marker.evaluate({"extra": extra}) for extra in ("", *extras)):
            continue
        if not wanted.name.startswith(OURS):
            yield wanted.name
            yield from needed(wanted.name)


def link(name: str, site: Path) -> None:
    """Link a distribution of the tests' environment into another's packages."""
    found = importlib.metadata.distribution(name)
    for top in {file.parts[0] for file in found.files or () if ".." not in file.parts}:
        source, target = Path(str(found.locate_file(top))), site / top
        if top != "__pycache__" and source.exists() and not target.exists():
            target.symlink_to(source)


@pytest.fixture(scope="module", name="environment")
def _environment(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    """Build both wheels and install them."""
    folder = tmp_path_factory.mktemp("stranger")
    wheels, copy = folder / "wheels", folder / "source"
    shutil.copytree(STRANGER, copy, ignore=shutil.ignore_patterns(".*", "__pycache__"))
    for source in (ROOT / "packages" / "core", copy):
        build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(wheels)]
        subprocess.run(build, cwd=source, check=True, capture_output=True)
    own = Environment(folder / "environment", copy)
    venv.create(own.folder, with_pip=False, symlinks=True)
    (site,) = (own.folder / "lib").glob("python*/site-packages")
    for name in {*needed(OURS, frozenset({"laws"})), "pytest", *needed("pytest")}:
        link(name, site)
    pip = [sys.executable, "-m", "pip", "--python", str(own.python), "install", "--quiet"]
    offline = ["--no-index", "--no-build-isolation", "--find-links", str(wheels)]
    subprocess.run([*pip, *offline, "gripwright-cigar-box[test]"], check=True)
    return own


def test_it_depends_on_the_core_alone(environment: Environment) -> None:
    """No other distribution of ours is there, and what it declares is all that it needs."""
    done = environment.run(
        "-c",
        "import importlib.metadata as found, json\n"
        "names = {one.metadata['Name'] for one in found.distributions()}\n"
        "print(json.dumps(sorted(name for name in names if name.startswith('gripwright'))))\n",
    )
    assert json.loads(done.stdout) == ["gripwright", "gripwright-cigar-box"]


def test_it_gives_a_value_for_each_hook(environment: Environment) -> None:
    """The registry has them by their names, and nothing failed."""
    done = environment.run(
        "-W",
        "error",
        "-c",
        "from gripwright import load_registry\n"
        "registry = load_registry(strict=True)\n"
        "(info,) = [one for one in registry.plugins if one.name == 'cigar-box']\n"
        "print(info.distribution, info.version, *info.instruments, *info.strategies,"
        " *info.rhythm_families, *info.exporters)\n",
    )
    expected = "gripwright-cigar-box 1.0.0 cigar-box octave-power train chord-list\n"
    assert (done.stdout, done.stderr) == (expected, "")


def test_its_own_tests_pass(environment: Environment) -> None:
    """The laws in one line, and what it is for."""
    done = environment.run(
        *("-m", "pytest", "-q", "-W", "error", "-p", "no:cacheprovider", "--rootdir", "."),
        cwd=environment.source,
    )
    assert done.returncode == 0, done.stdout
    assert " passed" in done.stdout
    assert "failed" not in done.stdout


def test_the_laws_are_tried_on_it(environment: Environment) -> None:
    """Three of plugins, seven of instruments and strategies, eight of families, six of files."""
    done = environment.run(
        *("-m", "pytest", "-q", "--collect-only", "-p", "no:cacheprovider", "--rootdir", "."),
        "tests/test_laws.py",
        cwd=environment.source,
    )
    names = [line for line in done.stdout.splitlines() if "::test_laws[" in line]
    assert len(names) == 3 + 7 + 7 + 8 + 6


@pytest.mark.parametrize("name", ["README.md", "pyproject.toml", "tests/test_laws.py"])
def test_it_is_a_distribution_of_its_own(name: str) -> None:
    """With what every distribution has."""
    assert (STRANGER / name).is_file()
