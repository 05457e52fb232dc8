"""Import the library anew in each run of the tests: `conftest.py` of the copy that is changed.

`mutmut` forks a process that has the library loaded. What was worked out there, at import or in a
cache, was worked out by the code before the change, and would hide it. Which tests reach a function
is noted in a run of its own, in which each test begins with empty caches: else none but the first
would be known to reach what is kept.
"""

import os
import sys

import pytest

_OURS = (
    "gripwright",
    "gripwright_rhythm",
    "gripwright_server",
    "gripwright_tunings",
    "tests",
    "src",
)


def pytest_sessionstart() -> None:
    """Forget what was imported before the tests are collected."""
    for name in list(sys.modules):
        if name.partition(".")[0] in _OURS:
            del sys.modules[name]


@pytest.fixture(autouse=True)
def _empty_caches() -> None:
    """Empty every cache of the library while it is noted which tests reach what."""
    if os.environ.get("MUTANT_UNDER_TEST") != "stats":
        return
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] == "gripwright":
            for value in list(vars(module).values()):
                clear = getattr(value, "cache_clear", None)
                if clear is not None:
                    clear()
