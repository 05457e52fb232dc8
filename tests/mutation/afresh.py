"""How the tests run over the changed code: `conftest.py` of the copy that is changed.

`mutmut` forks a process that has the library loaded. What was worked out there in a cache was
worked out by the code before the change, and would hide it: each run begins with empty caches.
What was worked out at import is so too where ``MUTANTS_AFRESH`` is set, which imports the library
anew in each run; that takes longer, and is for the changes that no test noticed without. Every test
then counts as one that reaches what is called at import, such as the making of a validator.
The quickest tests go first.
"""

import json
import os
import sys
from pathlib import Path

import pytest

_OURS = (
    "gripwright",
    "gripwright_rhythm",
    "gripwright_server",
    "gripwright_tunings",
    "tests",
    "src",
)
_TIMES = Path("mutmut-stats.json")
_AT_IMPORT: set[str] = set()
"""Functions that were called before any test, as `mutmut` names them."""


def pytest_sessionstart() -> None:
    """Forget what was worked out before the tests are collected."""
    if os.environ.get("MUTANTS_AFRESH"):
        for name in list(sys.modules):
            if name.partition(".")[0] in _OURS:
                del sys.modules[name]
    else:
        _empty_caches()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the quickest tests first, once it is known how long each takes."""
    if _TIMES.exists():
        times = json.loads(_TIMES.read_text(encoding="utf-8"))["duration_by_test"]
        items.sort(key=lambda item: times.get(item.nodeid, 0.0))


def pytest_collection_finish() -> None:
    """Note what the import of the library and of the tests called, where it will be anew."""
    if os.environ.get("MUTANT_UNDER_TEST") == "stats" and os.environ.get("MUTANTS_AFRESH"):
        reached = sys.modules["mutmut.state"].state()._stats  # noqa: SLF001 - there is no other way
        _AT_IMPORT.update(reached)


@pytest.fixture(autouse=True)
def _each_alone() -> None:
    """Let each test begin with empty caches while it is noted which tests reach what.

    Else none but the first would be known to reach what is kept.
    """
    if os.environ.get("MUTANT_UNDER_TEST") == "stats":
        _empty_caches()
        for function in _AT_IMPORT:
            sys.modules["mutmut.stats"].record_trampoline_hit(function)


def _empty_caches() -> None:
    """Empty every cache of the library."""
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] == "gripwright":
            for value in list(vars(module).values()):
                clear = getattr(value, "cache_clear", None)
                if clear is not None:
                    clear()
