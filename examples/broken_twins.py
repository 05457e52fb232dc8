"""Broken twins: for each law a plugin that is right but for one fault, which that law catches.

    python broken_twins.py            # every law, and what it says of its twin
    python broken_twins.py LAW        # one

Some faults break other laws too: junk is junk whatever one asks about it.
"""

import itertools
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, nullcontext
from fractions import Fraction
from pathlib import Path
from typing import Any

import attrs

import gripwright.laws
from gripwright import (
    Attack,
    Chord,
    ConditionError,
    Instrument,
    Meter,
    Recipe,
    RhythmPattern,
    Score,
    hookimpl,
    load_registry,
)

TUNING = "G2 D3 G3"
FOUR = Meter(4, 4)


@attrs.frozen
class Plugin:
    """A plugin of one value of one kind."""

    instruments: tuple[object, ...] = ()
    strategies: tuple[object, ...] = ()
    families: tuple[object, ...] = ()
    exporters: tuple[object, ...] = ()

    @hookimpl
    def gripwright_instruments(self) -> tuple[object, ...]:
        """Give the instruments."""
        return self.instruments

    @hookimpl
    def gripwright_voicing_strategies(self) -> tuple[object, ...]:
        """Give the strategies."""
        return self.strategies

    @hookimpl
    def gripwright_rhythm_families(self) -> tuple[object, ...]:
        """Give the families."""
        return self.families

    @hookimpl
    def gripwright_exporters(self) -> tuple[object, ...]:
        """Give the exporters."""
        return self.exporters


def plain(**changes: Any) -> Instrument:
    """An instrument that keeps every law, with some of it changed."""
    own = Instrument.from_text(TUNING, frets=18, scale_mm=635.0, id="twin")
    return attrs.evolve(own, **changes)


def as_kind(kind: type[Instrument]) -> Instrument:
    """The same instrument of another class."""
    own = plain()
    return kind(own.id, own.name, own.strings, own.frets)


class RuleOf18(Instrument):
    """Frets by the old rule of 18, a little flat of equal temperament (Mottola 2017)."""

    def place_mm(self, string: int, fret: int) -> float:
        """Each space is an eighteenth of what is left of the string."""
        return self.strings[string].scale_mm * float(1 - (17 / 18) ** fret)


class Diatonic(Instrument):
    """Frets of a scale, said to be frets a semitone apart."""

    def sounding(self, string: int, fret: int) -> int:
        """Skip a semitone above the third fret."""
        return super().sounding(string, fret) + (fret > 3)


class SlidingCapo(Instrument):
    """A capo that raises the open strings by one too many."""

    def with_capo(self, capo: int) -> Instrument:
        """Tune up."""
        return super().with_capo(min(capo + 1, self.frets - 1))


class Restless(Instrument):
    """Frets that lie somewhere else each time, by less than anyone could feel."""

    turns = itertools.count()

    def place_mm(self, string: int, fret: int) -> float:
        """Creep."""
        return super().place_mm(string, fret) + 1e-9 * next(Restless.turns)


class Sharp(Instrument):
    """Strings that sound a semitone above what is written of them."""

    def sounding(self, string: int, fret: int) -> int:
        """A semitone more."""
        return super().sounding(string, fret) + 1


@attrs.frozen
class Strategy:
    """A strategy by a function from a chord to recipes."""

    make: Callable[[Chord], object]
    name: str = "twin"
    summary: str = "A twin."

    def recipes(self, chord: Chord, /) -> Any:  # noqa: ANN401 - what a broken plugin gives
        """Give the recipes."""
        return self.make(chord)


def slow(_chord: Chord) -> list[Recipe]:
    """Hang."""
    time.sleep(60)
    return []


def growing(_chord: Chord, seen: list[int] = []) -> list[Recipe]:  # noqa: B006 - the fault shown
    """Remember what was asked before."""
    seen.append(1)
    return [Recipe(("1", "5"))] if len(seen) % 2 else [Recipe(("5", "1"))]


def only_in_c(chord: Chord) -> list[Recipe]:
    """Stack C chords alone."""
    return [Recipe(chord.degrees[:3])] if chord.root.letter == "C" else []


def third_always(_chord: Chord) -> list[Recipe]:
    """Stack a major third, whatever the chord has."""
    return [Recipe(("1", "5", "3"))]


def seventh_forgotten(chord: Chord) -> list[Recipe]:
    """Stack the first three tones of any chord."""
    return [Recipe(chord.degrees[:3])]


def ninth_added(chord: Chord) -> list[Recipe]:
    """Put a ninth on a triad and call it as written."""
    return [Recipe(("1", "5", "9", "3"))] if set(chord.degrees) == {"1", "3", "5"} else []


@attrs.frozen
class Family:
    """A family by a function from a metre and a seed to patterns."""

    make: Callable[[Meter, int], object]
    meters: tuple[Meter, ...] = (FOUR,)
    strict: bool = True
    name: str = "twin"
    summary: str = "A twin."

    def patterns(self, meter: Meter, /, *, seed: int) -> Any:  # noqa: ANN401 - what a broken plugin gives
        """Give the patterns."""
        if self.strict and meter not in self.meters:
            raise ConditionError(name="metre", value=str(meter), expected="4/4")
        return self.make(meter, seed)


def pattern(text: str = "1 3", meter: Meter = FOUR, name: str = "twin") -> RhythmPattern:
    """A pattern."""
    return RhythmPattern.parse(text, meter, name=name)


class Gapped(RhythmPattern):
    """A pattern whose cells leave out the last beat."""

    @property
    def cells(self) -> tuple[Any, ...]:
        """All cells but the last."""
        return super().cells[:-1]


class Tongued(RhythmPattern):
    """A pattern that is shown with one attack too few."""

    def __str__(self) -> str:
        return super().__str__().rpartition(" ")[0]


TAKEN = itertools.count()


def by_chance(_meter: Meter, _seed: int) -> list[RhythmPattern]:
    """Take the place from a clock and not from the seed."""
    return [pattern(f"{1 + next(TAKEN) % 4}")]


def gapped(meter: Meter, _seed: int) -> list[RhythmPattern]:
    """Give the pattern with a gap."""
    return [Gapped("twin", meter, (Attack(Fraction(0)), Attack(Fraction(2))))]


def tongued(meter: Meter, _seed: int) -> list[RhythmPattern]:
    """Give the pattern that is shown short."""
    return [Tongued("twin", meter, (Attack(Fraction(0)), Attack(Fraction(2))))]


@attrs.frozen
class Exporter:
    """An exporter by a function from a score to bytes."""

    make: Callable[[Score], Any]
    suffixes: tuple[str, ...] = (".twin",)
    media_type: str = "text/plain"
    name: str = "twin"
    summary: str = "A twin."

    def export(self, score: Score, /) -> Any:  # noqa: ANN401 - what a broken plugin gives
        """Write the score."""
        return self.make(score)


@attrs.frozen
class Forgetful(Exporter):
    """An exporter that reads its own file back wrong."""

    def read(self, data: bytes, _instrument: Instrument, /) -> int:
        """Count the bytes, and one more."""
        return len(data) + 1

    def kept(self, score: Score, /) -> int:
        """Count the bytes."""
        return len(self.make(score))


@attrs.frozen
class Trusting(Exporter):
    """An exporter that takes every file for one of its own."""

    def read(self, data: bytes, _instrument: Instrument, /) -> str:
        """Read what it wrote; of anything else Python tells, and not the format."""
        return data.decode("ascii")

    def kept(self, score: Score, /) -> str:
        """Keep the title."""
        return ascii(score.title)


def title(score: Score) -> bytes:
    """Write the title, as an exporter should that keeps nothing else."""
    return ascii(score.title).encode()


def stamped(score: Score) -> bytes:
    """Write the time of day too."""
    return title(score) + str(time.perf_counter_ns()).encode()


def marking(score: Score) -> bytes:
    """Write, and leave a mark in the score: frozen is not out of reach."""
    object.__setattr__(score, "rhythm", f"{score.rhythm}!")
    return title(score)


def instrument_twins() -> Iterator[tuple[str, Plugin]]:
    """Give the twins of instruments, by the law that catches each."""
    yield "frets-lie-in-equal-temperament", Plugin((as_kind(RuleOf18),))
    yield "each-fret-raises-a-semitone", Plugin((as_kind(Diatonic),))
    inches = Instrument.from_text(TUNING, frets=18, scale_mm=25.0, id="twin")
    yield "strings-are-measured-in-mm", Plugin((inches,))
    high = Instrument.from_text("G2 D3 G9", frets=18, scale_mm=635.0, id="twin")
    yield "every-fret-sounds-a-midi-note", Plugin((high,))
    yield "a-capo-shortens-the-neck", Plugin((as_kind(SlidingCapo),))
    yield "an-instrument-is-a-value", Plugin((as_kind(Restless),))
    yield "grips-sound-their-chord", Plugin((as_kind(Sharp),))


def strategy_twins() -> Iterator[tuple[str, Plugin]]:
    """Give the twins of strategies."""
    makers: Iterable[tuple[str, Callable[[Chord], object]]] = (
        ("gives-recipes-for-any-chord", slow),
        ("recipes-repeat", growing),
        ("recipes-follow-the-key", only_in_c),
        ("recipes-keep-to-their-chord", third_always),
        ("recipes-voice-plain-chords", seventh_forgotten),
        ("voicings-are-playable-ones", ninth_added),
        ("serves-some-chord", lambda _chord: ()),
    )
    for law, make in makers:
        yield law, Plugin(strategies=(Strategy(make),))


def family_twins() -> Iterator[tuple[str, Plugin]]:
    """Give the twins of rhythm families."""
    families = (
        ("lists-metres-that-it-knows", Family(lambda _meter, _seed: ())),
        ("gives-patterns-for-any-seed", Family(lambda _meter, seed: [pattern(), seed][:seed])),
        ("patterns-fill-their-bars", Family(gapped)),
        ("patterns-are-in-the-metre-asked-for", Family(lambda _m, _s: [pattern("1", Meter(3, 4))])),
        ("refuses-metres-that-it-does-not-know", Family(lambda _m, _s: [pattern()], strict=False)),
        ("patterns-repeat", Family(by_chance)),
        ("names-differ-within-a-metre", Family(lambda _m, _s: [pattern("1"), pattern("2")])),
        ("texts-read-back", Family(tongued)),
    )
    for law, family in families:
        yield law, Plugin(families=(family,))


def exporter_twins() -> Iterator[tuple[str, Plugin]]:
    """Give the twins of exporters."""
    exporters = (
        ("says-what-it-writes", Exporter(title, suffixes=("TWIN",))),
        ("writes-bytes-or-says-why-not", Exporter(lambda score: score.title)),
        ("equal-scores-give-equal-bytes", Exporter(stamped)),
        ("leaves-the-score-alone", Exporter(marking)),
        ("reads-back-what-it-keeps", Forgetful(title)),
        ("refuses-what-it-cannot-read", Trusting(title)),
    )
    for law, exporter in exporters:
        yield law, Plugin(exporters=(exporter,))


SHUFFLED = """
from gripwright import Recipe, hookimpl

class Shuffled:
    name, summary = "shuffled", "The tones as they lie in a set."

    def recipes(self, chord, /):
        return [Recipe(tuple(set(chord.degrees)))]

@hookimpl
def gripwright_voicing_strategies():
    return [Shuffled()]
"""


@contextmanager
def installed(code: str) -> Iterator[None]:
    """Install a plugin of that code for a while, as a distribution that has an entry point."""
    with tempfile.TemporaryDirectory() as folder:
        info = Path(folder, "twin-1.0.dist-info")
        info.mkdir()
        (info / "METADATA").write_text("Metadata-Version: 2.1\nName: twin\nVersion: 1.0\n")
        (info / "entry_points.txt").write_text("[gripwright]\ntwin = twin_by_chance\n")
        Path(folder, "twin_by_chance.py").write_text(code)
        sys.path.insert(0, folder)
        try:
            yield
        finally:
            sys.path.remove(folder)
            sys.modules.pop("twin_by_chance", None)


TWINS: dict[str, Plugin | str] = {
    "loads": Plugin(instruments=("a guitar",)),
    "gives-something": Plugin(),
    # What another process is to say must be installed: here stands its code.
    "says-the-same-in-another-process": SHUFFLED,
    **dict(instrument_twins()),
    **dict(strategy_twins()),
    **dict(family_twins()),
    **dict(exporter_twins()),
}
"""The twins, by the law that each breaks."""


def verdict(law: str) -> gripwright.laws.Verdict:
    """What a law says of its twin."""
    twin, terms = TWINS[law], gripwright.laws.Terms(examples=30, limit_s=1.0)
    with installed(twin) if isinstance(twin, str) else nullcontext():
        registry = load_registry(plugins=[] if isinstance(twin, str) else [("twin", twin)])
        (only,) = gripwright.laws.check(registry, terms, plugin="twin", law=law)
    return only


if __name__ == "__main__":
    for name in sys.argv[1:] or TWINS:
        print(verdict(name))
