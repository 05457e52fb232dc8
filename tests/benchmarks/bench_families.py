"""Speed of families: fingering and classifying all rows, and searching by strategy, as ratios.

Run from the root of the repository::

    python -m tests.benchmarks.bench_families

The rival of fingering and classifying is that of ``bench_search``: python-constraint2 (BSD) stating
and solving the example; the search itself is not counted. The rival of a strategy is the search
for the same chord without one. Each time is the least of several, rival and own in turn. Nothing is
asserted: the targets stand beside what was measured.
"""

from gripwright import Chord, VoicingStrategy, find_voicings, load_registry
from gripwright.neck.fingered import finger_rows
from tests.benchmarks.bench_search import least_seconds, row
from tests.core.neck.enumerator import neck_of
from tests.core.neck.reference import CMAJ7, instrument
from tests.core.neck.solver_model import Model

ROUNDS = 5


def main() -> None:
    """Measure and print."""
    fingering_and_classifying()
    for symbol in ("Cmaj7", "C13"):
        strategies(symbol)


def fingering_and_classifying() -> None:
    """Measure both passes over every row of the example against the solver's time for it."""
    guitar = instrument("guitar")
    model = Model(CMAJ7, neck_of(guitar))
    table = find_voicings(Chord.parse("Cmaj7"), guitar)
    assert len(table) == len(model.solve())
    columns = table.pairs.columns()
    solver = fingering = classifying = float("inf")
    for _ in range(ROUNDS):
        solver = min(solver, least_seconds(lambda: model.problem().getSolutions(), repeats=2))
        fingering = min(fingering, least_seconds(lambda: finger_rows(columns, guitar), repeats=10))
        classifying = min(classifying, least_seconds(table.families, repeats=10))
    both = fingering + classifying
    row("Cmaj7, guitar, 115 mm: solver", f"{solver * 1000:.1f} ms", "")
    row(f"  fingering {len(table):,} rows", f"{fingering * 1000:.2f} ms", "")
    row(f"  classifying {len(table):,} rows", f"{classifying * 1000:.2f} ms", "")
    row("  both, part of the solver's time", f"1/{solver / both:.1f}", "< 1/20")


def strategies(symbol: str) -> None:
    """Measure every strategy's search for a chord against the search without one."""
    guitar, chord = instrument("guitar"), Chord.parse(symbol)
    every = load_registry().strategies

    def seconds(strategy: VoicingStrategy) -> float:
        return least_seconds(lambda: find_voicings(chord, guitar, strategy=strategy), repeats=5)

    whole = min(seconds(every["any"]) for _ in range(ROUNDS))
    row(f"{symbol}: any", f"{whole * 1000:.2f} ms", "")
    for name, strategy in every.items():
        if name == "any":
            continue
        times = []
        for _ in range(ROUNDS):
            whole = min(whole, seconds(every["any"]))
            times.append(seconds(strategy))
        recipes = len(list(strategy.recipes(chord)))
        row(f"  {name}, {recipes} recipes", f"{min(times) / whole:.2f} times", "<= 1.3")


if __name__ == "__main__":
    main()
