"""What is public says what it does and shows it: a summary and an example that runs.

Public is what stands in ``__all__`` of a package. The examples themselves run as doctests.
"""

import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from types import ModuleType

import pytest

import gripwright
import gripwright_rhythm
import gripwright_server
import gripwright_tunings

DISTRIBUTIONS = (gripwright, gripwright_rhythm, gripwright_server, gripwright_tunings)


def packages() -> Iterator[ModuleType]:
    """Every package of the four distributions."""
    for top in DISTRIBUTIONS:
        yield top
        for found in pkgutil.walk_packages(top.__path__, f"{top.__name__}."):
            if found.ispkg:
                yield importlib.import_module(found.name)


def public() -> dict[str, object]:
    """Classes, functions and modules that are public, by where they are first public."""
    found: dict[int, tuple[str, object]] = {}
    for package in packages():
        for name in getattr(package, "__all__", ()):
            value = getattr(package, name)
            if inspect.isclass(value) or inspect.isroutine(value) or inspect.ismodule(value):
                found.setdefault(id(value), (f"{package.__name__}.{name}", value))
    return dict(found.values())


PUBLIC = public()


def fault_of(value: object) -> str:
    """What the docstring of an object lacks; empty where all is there."""
    text = getattr(value, "__doc__", None) or ""
    if not text.strip():
        return "it has no docstring"
    if not text.strip().splitlines()[0].rstrip().endswith((".", ":")):
        return "its first line is no sentence"
    if ">>> " not in text:
        return "it has no example"
    return ""


def test_there_is_something_public() -> None:
    """An empty list would pass unseen."""
    assert len(PUBLIC) > 200
    assert PUBLIC["gripwright.Chord"] is gripwright.Chord


def test_a_docstring_without_an_example_is_found() -> None:
    """The check can fail."""
    assert fault_of(fault_of) == "it has no example"
    assert fault_of(()) == "it has no example"
    assert fault_of(lambda: None) == "it has no docstring"


@pytest.mark.parametrize("name", sorted(PUBLIC))
def test_public_object_has_an_example(name: str) -> None:
    """A summary line and a runnable example."""
    assert fault_of(PUBLIC[name]) == ""


@pytest.mark.parametrize("package", list(packages()), ids=lambda package: package.__name__)
def test_package_has_a_docstring_and_a_sorted_list(package: ModuleType) -> None:
    """A package says what it holds; its public names are sorted as the linter sorts them."""
    assert (package.__doc__ or "").strip()
    names = list(getattr(package, "__all__", ()))
    assert len(names) == len(set(names))
    assert all(hasattr(package, name) for name in names)
