"""The laws of the theory and of plugins, and Hypothesis strategies for every core type.

Needs Hypothesis, which the extra ``gripwright[laws]`` brings; no import of the library loads it.
In the test file of a plugin one line holds it to every law of what it gives::

    import gripwright.laws

    test_laws = gripwright.laws.suite("my-plugin")

`gripwright.laws.drawing` draws notes, chords, instruments, patterns, charts and scores; with
Hypothesis installed ``st.from_type(Chord)`` does so too. The public names are loaded on first use
(PEP 562), so that importing Hypothesis, which registers the types, loads no law.
"""

import importlib
from importlib.util import find_spec
from typing import TYPE_CHECKING

from gripwright.errors import MissingExtraError

if find_spec("hypothesis") is None:
    raise MissingExtraError(library="Hypothesis", extra="gripwright[laws]")

if TYPE_CHECKING:
    from gripwright.laws import drawing
    from gripwright.laws.checking import LAWS, THEORY, Task, Verdict, check, examine, planned
    from gripwright.laws.law import Law, LawBrokenError, demand
    from gripwright.laws.suites import suite
    from gripwright.laws.trial import Breach, Terms, Trial, tried
    from gripwright.laws.words import case_in_words, in_words

_HOMES = {
    "LAWS": "checking",
    "THEORY": "checking",
    "Task": "checking",
    "Verdict": "checking",
    "check": "checking",
    "examine": "checking",
    "planned": "checking",
    "Law": "law",
    "LawBrokenError": "law",
    "demand": "law",
    "suite": "suites",
    "Breach": "trial",
    "Terms": "trial",
    "Trial": "trial",
    "tried": "trial",
    "case_in_words": "words",
    "in_words": "words",
}

__all__ = [
    "LAWS",
    "THEORY",
    "Breach",
    "Law",
    "LawBrokenError",
    "Task",
    "Terms",
    "Trial",
    "Verdict",
    "case_in_words",
    "check",
    "demand",
    "drawing",
    "examine",
    "in_words",
    "planned",
    "suite",
    "tried",
]


def __getattr__(name: str) -> object:
    if name == "drawing":
        return importlib.import_module("gripwright.laws.drawing")
    if name not in _HOMES:
        message = f"module 'gripwright.laws' has no attribute {name!r}"
        raise AttributeError(message)
    module = importlib.import_module(f"gripwright.laws.{_HOMES[name]}")
    value: object = getattr(module, name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
