"""Speed of fingering whole tables, as a ratio against a rival measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_fingering

The rival is that of ``bench_search``: python-constraint2 (BSD) stating and solving the example.
Fingers and strain of all its rows come in one pass; the search itself is not counted. Each time is
the least of several. Nothing is asserted: the target stands beside what was measured, and covers
classification too.
"""

from gripwright import Chord, Hand, find_voicings
from gripwright.neck.fingered import finger_rows
from gripwright.neck.fingering import fingering_of
from tests.benchmarks.bench_search import least_seconds, row
from tests.core.neck.enumerator import neck_of
from tests.core.neck.reference import CMAJ7, instrument
from tests.core.neck.solver_model import Model


def main() -> None:
    """Measure and print."""
    guitar, eight = instrument("guitar"), instrument("eight-string")
    model = Model(CMAJ7, neck_of(guitar))
    solver = least_seconds(lambda: model.problem().getSolutions(), repeats=5)
    table = find_voicings(Chord.parse("Cmaj7"), guitar)
    columns = table.pairs.columns()
    ours = least_seconds(lambda: finger_rows(columns, guitar), repeats=50)
    row("Cmaj7, guitar, 115 mm: solver", f"{solver * 1000:.1f} ms", "")
    row(f"  fingers and strain of {len(table):,} rows", f"{ours * 1000:.2f} ms", "")
    row("  part of the solver's time", f"1/{solver / ours:.0f}", "< 1/20, with classification")

    shapes = [tuple(frets) for frets in table.frets[::100].tolist()]
    one_by_one = least_seconds(lambda: [fingering_of(frets, guitar) for frets in shapes], repeats=3)
    row("  one shape alone", f"{one_by_one / len(shapes) * 1e6:.0f} us", "")

    wide = find_voicings(Chord.parse("C7alt"), eight, Hand())
    wide_columns = wide.pairs.columns()
    longest = least_seconds(lambda: finger_rows(wide_columns, eight), repeats=3)
    row(f"C7alt, eight strings: {len(wide):,} rows", f"{longest * 1000:.0f} ms", "")
    row("  each row", f"{longest / len(wide) * 1e9:.0f} ns", "")


if __name__ == "__main__":
    main()
