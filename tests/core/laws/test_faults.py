"""Faults that lie near those of the broken twins, and the words in which each is told."""

import random
from fractions import Fraction
from typing import Any

import attrs
import pytest

from examples.broken_twins import FOUR, TUNING, Exporter, Family, Plugin, as_kind
from gripwright import Attack, Instrument, Meter, RhythmPattern, Score, hookimpl, load_registry
from gripwright.laws import Terms, check, planned, suite
from gripwright.laws.checking import THEORY
from gripwright.laws.exporter_laws import reads_back_what_it_keeps
from gripwright.laws.law import LawBrokenError
from gripwright.score.sample import sample_score


def told(plugin: object, law: str, examples: int = 20) -> str:
    """What a law says of a plugin."""
    registry = load_registry(plugins=[("twin", plugin)])
    (verdict,) = check(registry, Terms(examples=examples), plugin="twin", law=law)
    assert not verdict.kept
    return str(verdict.trial.breach)


class Overlapping(RhythmPattern):
    """A pattern whose cells last twice as long as they may."""

    @property
    def cells(self) -> tuple[Any, ...]:
        """All cells, too long."""
        return tuple(attrs.evolve(cell, length=2 * cell.length) for cell in super().cells)


def overfull(meter: Meter, _seed: int) -> list[RhythmPattern]:
    """Put an attack behind the bar, where no constructor would let it."""
    pattern = RhythmPattern("late", meter, (Attack(Fraction(0)),))
    object.__setattr__(pattern, "attacks", (*pattern.attacks, Attack(Fraction(6))))
    return [pattern]


def overlapping(meter: Meter, _seed: int) -> list[RhythmPattern]:
    """Give the pattern that sounds over itself."""
    return [Overlapping("long", meter, (Attack(Fraction(0)), Attack(Fraction(2))))]


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (overfull, "metre 4/4, seed 0: late has an attack 6 quarters in, and its bars last 4"),
        (overlapping, 'metre 4/4, seed 0: long "1 3" sounds on into what starts 2 quarters in'),
    ],
)
def test_an_overfull_bar_is_told_by_what_overfills_it(make: Any, words: str) -> None:  # noqa: ANN401
    """The pattern, and the place."""
    assert told(Plugin(families=(Family(make),)), "patterns-fill-their-bars") == words


def test_a_fault_that_hangs_on_the_seed_is_met_in_few_examples() -> None:
    """Examples are not spent on metres that the family does not know."""

    def seeded(_meter: Meter, seed: int) -> list[RhythmPattern]:
        return [RhythmPattern.parse("1", FOUR, name="one")] if seed < 1000 else []

    def faulty(meter: Meter, seed: int) -> object:
        return seeded(meter, seed) or 1

    words = told(Plugin(families=(Family(faulty),)), "gives-patterns-for-any-seed")
    assert words == "metre 4/4, seed 1000: it gives 1, and no patterns"


class Guessed(Instrument):
    """Strings that sound in one octave or another."""

    def sounding(self, string: int, fret: int) -> int:
        """Guess."""
        return super().sounding(string, fret) + random.choice((0, 12))  # noqa: S311 - the fault


def test_two_answers_are_told_with_their_unit() -> None:
    """A number alone would leave open what it counts."""
    words = told(Plugin((as_kind(Guessed),)), "an-instrument-is-a-value")
    assert "it sounds MIDI " in words
    assert ", and asked again MIDI " in words


def test_a_case_is_told_as_it_was_before_the_plugin_changed_it() -> None:
    """The title that it left behind is the fault and not the case."""

    def renamed(score: Score) -> bytes:
        object.__setattr__(score, "title", "mine")
        return b""

    words = told(Plugin(exporters=(Exporter(renamed),)), "leaves-the-score-alone")
    case, _, fault = words.partition("): ")
    assert "title" not in case
    assert fault == "the score has changed while it was written: title: 'mine' where it was None"


@attrs.frozen
class HalfReader(Exporter):
    """An exporter that reads, and does not say what it keeps."""

    def read(self, data: bytes, _instrument: Instrument, /) -> int:
        """Count."""
        return len(data)


def test_half_a_reader_is_no_exporter_without_one() -> None:
    """It would be held to nothing, and its author would not know."""
    words = told(Plugin(exporters=(HalfReader(lambda _score: b""),)), "reads-back-what-it-keeps")
    assert words.endswith("it has 'read' alone: a reader has 'read' and 'kept'")


@attrs.frozen
class Reader(Exporter):
    """An exporter that reads and keeps what it is given to."""

    found: object = None
    wanted: object = None

    def read(self, _data: bytes, _instrument: Instrument, /) -> object:
        """Give it."""
        return self.found

    def kept(self, _score: Score, /) -> object:
        """Give it."""
        return self.wanted


@pytest.mark.parametrize(
    ("found", "wanted", "words"),
    [
        ((Fraction(1, 3),), (Fraction(1, 2),), "entry 1: 1/3 where it was 1/2"),
        ((("C", 1), ("D", 2)), (("C", 1), ("D", 3)), "entry 2 2: 2 where it was 3"),
        (("C",), ("C", "D"), "1 where there were 2"),
        ({"key": [1, 2]}, {"key": [1, 3]}, "key 2: 2 where it was 3"),
        ({"key": 1}, {"keys": 1}, "{'key': 1} where it was {'keys': 1}"),
        ("C", None, "'C' where it was None"),
    ],
)
def test_what_is_read_wrong_is_told_by_its_place(found: object, wanted: object, words: str) -> None:
    """Two long values whose first signs are alike would say nothing."""
    exporter = Reader(lambda _score: b"", found=found, wanted=wanted)
    with pytest.raises(LawBrokenError) as error:
        reads_back_what_it_keeps(exporter, score=sample_score())
    assert error.value.fault == f"what it reads is not what it keeps: {words}"


def test_a_plugin_given_as_an_object_is_not_asked_in_another_process() -> None:
    """It is not installed there; the law is kept, and no process is started for it."""
    own = Instrument.from_text(TUNING, frets=18, scale_mm=635.0, id="twin")
    registry = load_registry(plugins=[("twin", Plugin((own,)))])
    law = "says-the-same-in-another-process"
    (verdict,) = check(registry, Terms(), plugin="twin", law=law)
    assert verdict.kept


def test_theory_knows_no_law_of_plugins() -> None:
    """It is no plugin, and gives nothing by hooks."""
    kinds = {task.law.kind for task in planned(load_registry(), plugin=THEORY)}
    assert kinds == {"theory"}


class Endless:
    """A plugin whose hook comes to no end."""

    @hookimpl
    def gripwright_instruments(self) -> list[object]:
        """Go on."""
        while True:
            pass


def test_a_plugin_that_hangs_while_it_is_loaded_is_named_in_a_test_file(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As by the command, and not by a test run that hangs."""
    limits: list[float | None] = []

    def loaded(*, time_limit_s: float | None = None) -> object:
        limits.append(time_limit_s)
        return load_registry(plugins=[("endless", Endless())], time_limit_s=0.2)

    monkeypatch.setattr("gripwright.laws.suites.load_registry", loaded)
    monkeypatch.setattr("gripwright.laws.suites.find_spec", lambda _name: None)
    with pytest.raises(LawBrokenError, match=r"endless breaks loads: .* more than 0.2 s"):
        suite("endless")()
    assert limits == [30.0]
