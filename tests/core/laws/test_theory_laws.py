"""The laws of the theory core: kept by it, and broken where the theory is."""

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from gripwright import QUALITIES, Chord, Interval, Meter, Note, Pitch, RhythmPattern
from gripwright.laws import Law, Terms, tried
from gripwright.laws.theory_laws import LAWS
from gripwright.meter import Cell
from gripwright.tune import Chart

BY_NAME = {law.name: law for law in LAWS}


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.name)
def test_the_core_keeps_its_laws(law: Law) -> None:
    """Each law, on other examples than the check's own."""
    trial = tried(law, None, Terms(examples=60, seed=7))
    assert trial.breach is None
    assert trial.examples == 60


def _interval(steps: int, semitones: int) -> Callable[..., Interval]:
    return lambda *_: Interval(steps, semitones)


FAULTS: dict[str, tuple[type, str, Any]] = {
    "intervals-add-in-any-order": (Interval, "__add__", lambda self, _other: self),
    "every-interval-has-an-inverse": (Interval, "__neg__", _interval(1, 1)),
    "complements-make-octaves": (Interval, "complement", property(_interval(1, 1))),
    "pitches-move-by-sums": (Pitch, "__sub__", lambda self, _other: self),
    "an-interval-is-the-difference-it-makes": (Pitch, "__sub__", _interval(3, 4)),
    "notes-and-pitches-read-back": (Note, "__str__", lambda self: self.letter),
    "symbols-mean-their-chord-in-every-spelling": (
        Chord,
        "parse",
        classmethod(lambda cls, _text: cls(Note("C", 0), QUALITIES["7"])),
    ),
    "chords-read-back": (Chord, "symbol", property(lambda _self: "C")),
    "chords-move-note-by-note": (Chord, "transposed", lambda self, _interval: self),
    "essential-tones-are-tones": (Chord, "notes", property(lambda _self: ())),
    "metres-read-back": (Meter, "pulses", property(lambda _self: 1)),
    "patterns-fill-their-bars-exactly": (
        RhythmPattern,
        "cells",
        property(lambda self: (Cell(Fraction(0), self.length / 2, None),)),
    ),
    "patterns-read-back": (RhythmPattern, "__str__", lambda _self: "1"),
    "charts-print-to-themselves": (Chart, "__str__", lambda _self: "| C |"),
}
"""For each law something of the theory to put wrong: where, which name, and what instead."""


def test_every_law_has_its_fault() -> None:
    """No law stands untried."""
    assert FAULTS.keys() == BY_NAME.keys()


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_the_theory_breaks_its_law(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With one line of the theory wrong the law says so, and shows a case."""
    where, attribute, wrong = FAULTS[name]
    monkeypatch.setattr(where, attribute, wrong)
    breach = tried(BY_NAME[name], None, Terms(examples=60)).breach
    assert breach is not None
    assert breach.case
    assert breach.fault
