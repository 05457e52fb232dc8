"""Speed and memory of cheapest lines, as ratios against a rival measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_leading

The rival is one Euclidean ``scipy.spatial.distance.cdist`` (BSD) between as many four-voice rows
on each side as a chord has candidates: the cheapest measure of two voicings that says anything. A
step is the whole of a line from ready candidates, the costs of all its parts and the choice of the
way back, divided by the number of its steps. Candidates are real: the first of the teaching order.
Times are the processor's, rival and own in turn, and ratios the median of several rounds. Memory is
measured in processes of their own. Nothing is asserted: the targets stand beside what was measured.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs
import numpy as np
from scipy.spatial.distance import cdist  # type: ignore[import-untyped]

from gripwright import Chord, find_voicings
from gripwright.leading import LineWeights, lead
from gripwright.leading.cost import Candidates, TopLine, step_costs
from gripwright.leading.path import cheapest_loop, cheapest_path
from gripwright.neck.ranking import teaching
from tests.benchmarks.bench_search import row
from tests.core.neck.reference import instrument

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

ROOT: Final = Path(__file__).parents[2]
TURNAROUND: Final = ("Dm9", "G13", "Cmaj9", "A7alt", "Fmaj7", "Bb13", "Em11", "Eb9")
USUAL: Final = 400
CHORDS: Final = 64
FEW_CHORDS: Final = 9
ROUNDS: Final = 5
WEIGHTS: Final = LineWeights()


@attrs.frozen(eq=False)
class Tune:
    """A tune whose candidates are ready."""

    layers: list[Candidates]
    top: TopLine = "smooth"

    @property
    def nodes(self) -> list[NDArray[np.int32]]:
        """What the grips themselves cost."""
        return [layer.ease for layer in self.layers]

    def steps(self, index: int) -> NDArray[np.int32]:
        """Return the costs of a step."""
        following = self.layers[(index + 1) % len(self.layers)]
        return step_costs(self.layers[index], following, self.top, WEIGHTS)

    def path(self) -> int:
        """Return the cost of the cheapest open line."""
        return cheapest_path(self.nodes, self.steps)[0]

    def loop(self) -> int:
        """Return the cost of the cheapest loop."""
        return cheapest_loop(self.nodes, self.steps)[0]


def tune(
    chords: int, candidates: int, *, notes: int | None = None, top: TopLine = "smooth"
) -> Tune:
    """Return the turnaround, as long as asked, with the first candidates of each chord."""
    guitar = instrument("guitar")
    found = {}
    for symbol in TURNAROUND:
        table = find_voicings(Chord.parse(symbol), guitar, min_notes=notes, max_notes=notes)
        found[symbol] = Candidates.of(table.order_by(teaching)[:candidates], WEIGHTS)
        assert len(found[symbol]) == candidates
    return Tune([found[TURNAROUND[place % len(TURNAROUND)]] for place in range(chords)], top)


def rival(candidates: int) -> Callable[[], object]:
    """Return the distances of as many rows of four voices."""
    ones, others = (np.random.default_rng(seed).uniform(40, 80, (candidates, 4)) for seed in (1, 2))
    return lambda: cdist(ones, others)


def seconds(work: Callable[[], object], repeats: int = 1) -> float:
    """Return the processor's seconds for a run."""
    start = time.process_time()
    for _ in range(repeats):
        work()
    return (time.process_time() - start) / repeats


def in_turn(work: Callable[[], object], other: Callable[[], object]) -> tuple[float, float]:
    """Return the seconds of a work, and how many times those of another it takes.

    Both run in turn for about as long, so that a busy machine slows both; the ratio is the median
    of several rounds, the seconds are the least.
    """
    work()
    repeats = max(1, round(seconds(work) / seconds(other, 10)))
    rounds = [(seconds(work), seconds(other, repeats)) for _ in range(ROUNDS)]
    return min(own for own, _ in rounds), statistics.median(own / rest for own, rest in rounds)


def a_step() -> None:
    """Measure a step at the usual number of candidates, for kinds of candidates and top lines."""
    cases: tuple[tuple[str, int | None, TopLine], ...] = (
        ("any number of notes, smooth top", None, "smooth"),
        ("any number of notes, rising top", None, "rising"),
        ("four notes, smooth top", 4, "smooth"),
        ("any number of notes, free top", None, "free"),
    )
    for label, notes, top in cases:
        own = tune(CHORDS, USUAL, notes=notes, top=top)
        line, times = in_turn(own.path, rival(USUAL))
        row(f"{CHORDS} chords, {USUAL} candidates: {label}", f"{line * 1000:.0f} ms", "")
        row("  a step, in distances of 400 by 400", f"{times / (CHORDS - 1):.1f}", "< 12")
    own = tune(CHORDS, USUAL)
    loop, times = in_turn(own.loop, own.path)
    row("  the same as a loop, smooth top", f"{loop * 1000:.0f} ms", "")
    row("  in open lines", f"{times:.1f}", "")


def a_request() -> None:
    """Measure a whole request, search of the candidates included."""
    guitar = instrument("guitar")
    symbols = [Chord.parse(TURNAROUND[place % len(TURNAROUND)]) for place in range(CHORDS)]
    own = tune(CHORDS, USUAL)
    whole, times = in_turn(lambda: lead(symbols, guitar), own.path)
    row(f"lead() of {CHORDS} chords, 8 of them different", f"{whole * 1000:.0f} ms", "")
    row("  in lines from ready candidates", f"{times:.2f}", "")


def growth() -> None:
    """Measure lines of more chords and of more candidates."""
    short = tune(17, USUAL)
    for chords in (33, 65, 129):
        _, times = in_turn(tune(chords, USUAL).path, short.path)
        row(
            f"{chords} chords: a step, in steps of 17 chords",
            f"{times * 16 / (chords - 1):.2f}",
            "1: linear",
        )
    few = tune(FEW_CHORDS, 250)
    for candidates in (500, 1000, 2000):
        many = tune(FEW_CHORDS, candidates)
        _, times = in_turn(many.path, few.path)
        part = times * 250**2 / candidates**2
        row(f"{candidates} candidates: a pair, in pairs of 250", f"{part:.2f}", "1: quadratic")
        _, times = in_turn(many.path, rival(candidates))
        row("  a step, in distances of as many rows", f"{times / (FEW_CHORDS - 1):.1f}", "")


def print_peak(chords: int, candidates: int) -> None:
    """Print the bytes that a line takes at its peak, beside its candidates."""
    own = tune(chords, candidates)
    tracemalloc.start()
    own.path()
    print(tracemalloc.get_traced_memory()[1])


def memory() -> None:
    """Measure the peak in processes of their own."""
    for chords, candidates in ((2, USUAL), (8, USUAL), (CHORDS, USUAL), (2, 2000), (16, 2000)):
        command = [sys.executable, "-m", "tests.benchmarks.bench_leading", str(chords)]
        peak = int(subprocess.check_output([*command, str(candidates)], cwd=ROOT, text=True))
        table = candidates**2 * np.dtype(np.int32).itemsize
        row(f"{chords} chords, {candidates} candidates: peak", f"{peak / 1e6:.2f} MB", "")
        row("  in tables of one step's costs", f"{peak / table:.2f}", "the same for all")


def main() -> None:
    """Measure and print."""
    a_step()
    a_request()
    growth()
    memory()


if __name__ == "__main__":
    if sys.argv[1:]:
        print_peak(*map(int, sys.argv[1:]))
    else:
        main()
