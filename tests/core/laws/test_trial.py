"""One law tried on one value: counting, shrinking, seeds, limits."""

import itertools
import time
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import strategies as st

from gripwright import Chord, ConditionError
from gripwright.laws import Law, Terms, demand, drawing, tried


def law_of(holds: Callable[..., None], **draws: st.SearchStrategy[Any]) -> Law:
    """Return a law of the theory."""
    return Law.of("theory", holds, lambda _value: draws)


def below_thousand(_: object, *, number: int) -> None:
    """A number is below a thousand."""
    demand(number < 1000, f"{number} is too large")


def test_a_kept_law_is_tried_as_often_as_asked() -> None:
    """The count is that of the examples that it was kept on."""
    law = law_of(below_thousand, number=st.integers(0, 999))
    trial = tried(law, None, Terms(examples=37))
    assert (trial.examples, trial.breach) == (37, None)


def test_the_case_is_the_smallest_there_is() -> None:
    """Whatever was found first, the smallest is shown."""
    trial = tried(law_of(below_thousand, number=st.integers(0)), None, Terms(examples=200))
    assert str(trial.breach) == "number 1000: 1000 is too large"


def test_the_smallest_chord_is_shown_by_its_symbol() -> None:
    """In the field's own words: a symbol, not a dump of fields."""

    def no_ninth(_: object, *, chord: Chord) -> None:
        """No chord has a ninth."""
        demand("9" not in chord.degrees, f"{chord} has one")

    trial = tried(law_of(no_ninth, chord=drawing.chords()), None, Terms(examples=200))
    assert trial.breach is not None
    assert trial.breach.case.startswith("chord C")
    assert "Quality" not in trial.breach.case


def test_a_law_without_draws_is_tried_once() -> None:
    """There is one case, which needs no words."""

    def never(_: object) -> None:
        """It never holds."""
        demand(condition=False, fault="it does not hold")

    trial = tried(law_of(never), None, Terms())
    assert (trial.examples, str(trial.breach)) == (0, "it does not hold")


def test_equal_terms_draw_equal_examples_and_another_seed_others() -> None:
    """The seed chooses, and with it the name of the value; nothing else does."""
    seen: list[int] = []

    def note(_: object, *, number: int) -> None:
        """Anything holds."""
        seen.append(number)

    law = law_of(note, number=st.integers(0, 10**9))

    def drawn(seed: int, name: str = "") -> list[int]:
        seen.clear()
        tried(law, None, Terms(examples=20, seed=seed), name=name)
        return list(seen)

    assert drawn(0) == drawn(0)
    assert drawn(0) != drawn(1)
    assert drawn(0) != drawn(0, "other")


def raising(error: BaseException) -> Callable[..., None]:
    """Return a check that raises."""

    def broken(_: object, *, number: int) -> None:
        """It holds."""
        del number
        raise error

    return broken


@pytest.mark.parametrize(
    ("error", "fault"),
    [
        (ValueError("no"), "it raised ValueError: no"),
        (SystemExit(3), "it raised SystemExit: 3"),
        (KeyboardInterrupt(), "it raised KeyboardInterrupt"),
        (GeneratorExit(), "it raised GeneratorExit"),
        (RecursionError("deep"), "it raised RecursionError: deep"),
    ],
)
def test_whatever_a_plugin_raises_is_a_breach(error: BaseException, fault: str) -> None:
    """Nothing that it raises ends the check."""
    trial = tried(law_of(raising(error), number=st.integers()), None, Terms(examples=5))
    assert str(trial.breach) == f"number 0: {fault}"


@pytest.mark.parametrize("way", ["sleeps", "runs", "swallows"])
def test_a_plugin_that_hangs_is_a_breach(way: str) -> None:
    """Asleep, busy, or deaf to ordinary errors: the case at hand is shown."""

    def hang(_: object, *, chord: Chord) -> None:
        """It ends."""
        del chord
        if way == "sleeps":
            time.sleep(30)
        while True:
            try:
                time.sleep(0)
            except Exception:  # noqa: BLE001, S112 - what a deaf plugin does
                continue

    began = time.monotonic()
    law = law_of(hang, chord=drawing.chords())
    trial = tried(law, None, Terms(examples=5, limit_s=0.2))
    assert str(trial.breach) == "chord C: it took more than 0.2 s"
    assert time.monotonic() - began < 20
    after = tried(law_of(below_thousand, number=st.integers(0, 9)), None, Terms(examples=5))
    assert after.breach is None


def test_what_answers_one_way_and_then_another_is_told_so() -> None:
    """A fault that does not come back is a fault too."""
    turns = itertools.count()

    def fickle(_: object, *, number: int) -> None:
        """It holds."""
        demand(next(turns) != 3, f"{number} did not do this time")

    trial = tried(law_of(fickle, number=st.integers()), None, Terms(examples=20))
    assert trial.breach is not None
    assert trial.breach.fault.startswith("it answers one way and then another")


@pytest.mark.parametrize(
    ("name", "value"), [("examples", 0), ("examples", True), ("limit_s", 0.0), ("limit_s", 1e9)]
)
def test_terms_have_their_ranges(name: str, value: object) -> None:
    """A value outside is refused by name."""
    with pytest.raises(ConditionError) as caught:
        Terms(**{name: value})  # type: ignore[arg-type]
    assert caught.value.name == name
