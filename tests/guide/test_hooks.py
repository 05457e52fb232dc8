"""A hook or a law that nobody can read about, or that nothing tries, does not pass."""

import inspect
import re
from pathlib import Path

import pytest

from gripwright.laws import LAWS
from gripwright.plugins import Hooks
from gripwright.plugins.host import HOOK_NAMES
from tests.guide.fences import ROOT

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")
TESTS = Path(__file__).parents[1]


def section_of(hook: str) -> str:
    """The part of the guide under the heading of a hook; empty where there is none."""
    match = re.search(rf"^#+ `{hook}\(\)`\n(.*?)(?=^#+ |\Z)", GUIDE, flags=re.MULTILINE | re.DOTALL)
    return match[1] if match else ""


def undocumented(hook: str, section: str, signature: str) -> list[str]:
    """What the reference of a hook lacks: its signature, when it is called, what can go wrong."""
    faults = []
    if f"{hook}() -> {signature}" not in section:
        faults.append(f"the signature {hook}() -> {signature}")
    faults += [part for part in ("*Called*", "*Gives*", "*Errors*") if part not in section]
    return faults


@pytest.mark.parametrize("hook", HOOK_NAMES)
def test_the_guide_documents_each_hook(hook: str) -> None:
    """With its signature as the code has it, when it is called, what it gives and its errors."""
    signature = inspect.get_annotations(getattr(Hooks, hook))["return"]
    assert undocumented(hook, section_of(hook), signature) == []
    assert f"`{hook}`" in README


def test_a_hook_that_is_not_documented_is_found() -> None:
    """The check above can fail."""
    assert section_of("gripwright_absent") == ""
    assert len(undocumented("gripwright_absent", "", "Iterable[Absent]")) == 4


@pytest.mark.parametrize("hook", HOOK_NAMES)
def test_each_hook_is_answered_in_a_test(hook: str) -> None:
    """Some test answers it as a plugin does, beside the library's own plugins."""
    answer = re.compile(rf"@hookimpl\n +def {hook}\(|^def {hook}\(", flags=re.MULTILINE)
    files = (path for path in TESTS.glob("core/**/*.py"))
    others = (path for path in TESTS.glob("rhythm/**/*.py"))
    assert any(answer.search(path.read_text(encoding="utf-8")) for path in (*files, *others))


def laws_in_the_guide() -> dict[str, list[str]]:
    """The laws that the guide lists, by the kind of value that they are about."""
    rows = re.findall(r"^\| ([a-z ]+) \| (`[a-z-]+`(?:, `[a-z-]+`)*) \|$", GUIDE, re.MULTILINE)
    return {kind: re.findall(r"`([a-z-]+)`", names) for kind, names in rows if kind in LAWS}


def test_the_guide_lists_each_law_of_plugins_in_its_order() -> None:
    """Whoever writes a plugin sees what it is held to."""
    expected = {kind: [law.name for law in laws] for kind, laws in LAWS.items() if kind != "theory"}
    assert laws_in_the_guide() == expected
