"""Import the library anew in each run of the tests: `conftest.py` of the copy that is changed.

`mutmut` forks a process that has the library loaded. What was worked out there, at import or in a
cache, was worked out by the code before the change, and would hide it.
"""

import sys

_OURS = ("gripwright", "tests", "src")


def pytest_sessionstart() -> None:
    """Forget what was imported before the tests are collected."""
    for name in list(sys.modules):
        if name.partition(".")[0] in _OURS:
            del sys.modules[name]
