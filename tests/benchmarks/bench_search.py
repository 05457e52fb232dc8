"""Speed and memory of the search, as ratios against a rival measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_search

The rival is python-constraint2 (BSD), a general constraint solver with compiled parts, given the
model of ``tests/core/neck/solver_model.py``: tables looked up, cheap tests before dear ones. Its
time is that of stating and solving the problem, without turning its solutions into rows. Each time
is the least of several; memory is measured in processes of their own. Nothing is asserted: the
targets stand beside what was measured.
"""

import gc
import resource
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

from gripwright import Chord, Instrument, Note, VoicingTable, find_voicings
from gripwright.theory import QUALITIES
from tests.core.neck.enumerator import neck_of
from tests.core.neck.reference import CMAJ7, instrument
from tests.core.neck.solver_model import Model

ROOT = Path(__file__).parents[2]
MEGABYTE = 1_000_000


def least_seconds(work: Callable[[], object], repeats: int) -> float:
    """Return the shortest of several runs, in seconds."""
    times = []
    for _ in range(repeats):
        gc.collect()
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def touch_frets(chord: Chord, own: Instrument) -> VoicingTable:
    """Search, and look at the frets."""
    table = find_voicings(chord, own)
    assert table.frets.shape == (len(table), len(own.strings))
    return table


def touch_all(chord: Chord, own: Instrument) -> VoicingTable:
    """Search, and look at the frets and every column."""
    table = touch_frets(chord, own)
    assert all(len(column) == len(table) for column in table.columns.values())
    return table


def row(what: str, measured: str, target: str) -> None:
    """Print a line of the table."""
    print(f"{what:<58}{measured:>16}  {target}")


def main() -> None:
    """Measure and print."""
    guitar, cmaj7 = instrument("guitar"), Chord.parse("Cmaj7")
    model = Model(CMAJ7, neck_of(guitar))
    assert len(touch_all(cmaj7, guitar)) == len(model.solve())

    solver = least_seconds(lambda: model.problem().getSolutions(), repeats=8)
    ours = least_seconds(lambda: touch_frets(cmaj7, guitar), repeats=30)
    columns = least_seconds(lambda: touch_all(cmaj7, guitar), repeats=30)
    row("Cmaj7, guitar, 115 mm: solver", f"{solver * 1000:.1f} ms", "")
    row("  search, frets", f"{ours * 1000:.2f} ms", "")
    row("  solver / search, frets", f"{solver / ours:.0f} times", ">= 100")
    row("  search, all columns", f"{columns * 1000:.2f} ms", "")
    row("  solver / search, all columns", f"{solver / columns:.0f} times", ">= 50")

    for label, touch in (("frets", touch_frets), ("all columns", touch_all)):
        slowest, name = slowest_quality(guitar, touch)
        row(
            f"slowest of {len(QUALITIES)} qualities, {label}: C{name}",
            f"{slowest * 1000:.2f} ms",
            "",
        )
        row("  part of the solver's example", f"1/{solver / slowest:.0f}", "< 1/30")

    rows, kept = in_own_process("kept")
    _, peak = in_own_process("peak")
    row("C7alt on eight strings: rows", f"{rows:,}", "")
    row("  kept a row, all columns", f"{kept / rows:.1f} bytes", "<= 48")
    row("  peak of the process", f"{peak / MEGABYTE:.0f} MB", "< 200")


def slowest_quality(
    own: Instrument, touch: Callable[[Chord, Instrument], VoicingTable]
) -> tuple[float, str]:
    """Return the longest time and the name of the quality that takes it.

    All are timed briefly, and then those that took longest with as much patience as the example.
    """
    chords = {name: Chord(Note.parse("C"), quality) for name, quality in QUALITIES.items()}

    def timed(name: str, repeats: int) -> tuple[float, str]:
        return least_seconds(lambda: touch(chords[name], own), repeats), name

    brief = sorted((timed(name, 3) for name in chords), reverse=True)
    return max(timed(name, 30) for _, name in brief[:6])


def in_own_process(what: str) -> tuple[int, int]:
    """Measure C7alt on eight strings in a fresh process; return rows and bytes."""
    run = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.bench_search", what],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    rows, measured = run.stdout.split()
    return int(rows), int(measured)


def measure(what: str) -> None:
    """Print the rows and the bytes kept, or the rows and the peak of this process."""
    eight, c7alt = instrument("eight-string"), Chord.parse("C7alt")
    if what == "kept":
        find_voicings(c7alt, instrument("ukulele"))
        gc.collect()
        tracemalloc.start()
    table = touch_all(c7alt, eight)
    gc.collect()
    measured = tracemalloc.get_traced_memory()[0] if what == "kept" else peak_bytes()
    print(len(table), measured)


def peak_bytes() -> int:
    """Return the largest size that this process has had in memory."""
    status = Path("/proc/self/status")
    if status.exists():
        # The peak of the operating system's accounting may include the parent that started us.
        peak = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(peak.split()[1]) * 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


if __name__ == "__main__":
    if sys.argv[1:]:
        measure(sys.argv[1])
    else:
        main()
