"""Reading charts, as a ratio to reading their symbols alone in the same run.

Run from the root: ``python -m tests.benchmarks.bench_charts``. The target is that a chart of 64
bars takes at most twice as long as 64 chord symbols, with the suffixes already known to the
reader, as they are after the first tune.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from gripwright import Chart, Chord

ROOTS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
SUFFIXES = ("maj7", "7", "m7", "m7b5", "6", "9", "13", "7b9")
BARS = 64
REPEATS = 60


def best_seconds(work: Callable[[], object]) -> float:
    """Return the least time of many runs."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def lines(symbols: list[str]) -> str:
    """Write one symbol a bar, four bars a line."""
    rows = [symbols[start : start + 4] for start in range(0, len(symbols), 4)]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def main() -> None:
    """Print the ratios."""
    different = [f"{ROOTS[bar % 12]}{SUFFIXES[bar % 7]}" for bar in range(BARS)]
    phrase = different[:8]
    aaba = phrase + phrase + different[20:28] + phrase
    for name, symbols in (("64 different bars", different), ("32-bar form twice", aaba * 2)):
        text = lines(symbols)
        chart = best_seconds(lambda text=text: Chart.parse(text))  # type: ignore[misc]
        alone = best_seconds(
            lambda symbols=symbols: [Chord.parse(symbol) for symbol in symbols]  # type: ignore[misc]
        )
        ratio = chart / alone
        verdict = "met" if ratio <= 2 else "missed"
        print(
            f"{name:18} chart {1e3 * chart:6.3f} ms  {BARS} symbols {1e3 * alone:6.3f} ms  "
            f"ratio {ratio:5.2f}  (target 2: {verdict})"
        )


if __name__ == "__main__":
    main()
