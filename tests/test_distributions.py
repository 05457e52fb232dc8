"""The four distributions keep step, and what goes out with them is whole."""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

import gripwright

ROOT = Path(__file__).parents[1]
FOLDERS = ("core", "rhythm", "server", "tunings")


def project(folder: str) -> dict[str, Any]:
    """Return the project table of a distribution."""
    text = (ROOT / "packages" / folder / "pyproject.toml").read_text(encoding="utf-8")
    table: dict[str, Any] = tomllib.loads(text)["project"]
    return table


def test_versions_are_in_lockstep() -> None:
    """One version for all four, which is also the one that the core tells."""
    assert {project(folder)["version"] for folder in FOLDERS} == {gripwright.__version__}


@pytest.mark.parametrize("folder", FOLDERS)
def test_siblings_are_wanted_in_the_same_minor_version(folder: str) -> None:
    """A sibling of another minor version is never installed beside."""
    table = project(folder)
    extras = table.get("optional-dependencies", {}).values()
    wanted = [*table["dependencies"], *(name for extra in extras for name in extra)]
    siblings = [name for name in wanted if name.startswith("gripwright")]
    minor = re.fullmatch(r"(\d+\.\d+)\.\d+", table["version"])
    assert minor
    assert siblings
    assert all(name.endswith(f"~={minor[1]}.0") for name in siblings)


@pytest.mark.parametrize("folder", FOLDERS)
def test_each_distribution_is_typed_and_carries_its_licence(folder: str) -> None:
    """The mark of typed packages (PEP 561) and the licence's text go out with each."""
    package = ROOT / "packages" / folder
    module = project(folder)["name"].replace("-", "_")
    assert (package / "src" / module / "py.typed").is_file()
    licence = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert "Apache License" in licence
    assert (package / "LICENSE").read_text(encoding="utf-8") == licence
    version = re.escape(project(folder)["version"])
    changes = (package / "CHANGELOG.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {version}$", changes, flags=re.MULTILINE)


def test_constraints_are_exact_and_hold_no_address() -> None:
    """Every line pins one version; where it is fetched from is the user's affair."""
    text = (ROOT / "packages" / "constraints.txt").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    assert all(re.fullmatch(r"[A-Za-z0-9_.-]+==[0-9][A-Za-z0-9.]*", line) for line in lines)
    pinned = {re.sub(r"[-_.]+", "-", line.split("==")[0]).lower() for line in lines}
    for folder in FOLDERS:
        table = project(folder)
        extras = table.get("optional-dependencies", {}).values()
        for name in (*table["dependencies"], *(name for extra in extras for name in extra)):
            bare = re.sub(r"[-_.]+", "-", re.split(r"[~<>=\[]", name)[0]).lower()
            assert bare in pinned or bare.startswith("gripwright")
