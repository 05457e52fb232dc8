"""Speed of naming, as a part of one six-string search measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_naming

The rival is the search for every voicing of a chord on a guitar (as in ``bench_search.py``). A name
request gets the pitches of a grip and must yield every name of it, ranked. *Warm* requests come
after one pass over the same grips, as in a running program; the *cold* one is the first of a fresh
process, after both sides have been imported, and so fills every table that naming keeps. Nothing is
asserted: the target stands beside what was measured.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Final

from gripwright import Chord, Pitch, find_voicings
from gripwright.theory.naming import name_notes
from tests.benchmarks.bench_search import least_seconds, row
from tests.core.neck.reference import instrument

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT: Final = Path(__file__).parents[2]
EVERY: Final = 40
TARGET: Final = "< 1"


def grips() -> list[tuple[Pitch, ...]]:
    """Every so many voicings of five chords, as pitches."""
    guitar = instrument("guitar")
    return [
        voicing.pitches
        for symbol in ("C", "Cmaj7", "G13", "F#m7b5", "Bb7#9")
        for voicing in find_voicings(Chord.parse(symbol), guitar)[::EVERY]
    ]


def seconds_to_name(pitches: Sequence[Pitch]) -> float:
    """Time one name request; the least of five."""
    return least_seconds(lambda: name_notes(pitches, spelled=False), repeats=5)


def first_request() -> None:
    """Print the seconds that the first request of this process takes."""
    pitches = [Pitch.parse(text) for text in ("E3", "B3", "D4", "G4")]
    start = time.perf_counter()
    name_notes(pitches, spelled=False)
    print(time.perf_counter() - start)


def main() -> None:
    """Measure and print."""
    guitar, cmaj7 = instrument("guitar"), Chord.parse("Cmaj7")
    search = least_seconds(lambda: find_voicings(cmaj7, guitar).frets, repeats=30)
    row("Cmaj7, guitar, 115 mm: search, frets", f"{search * 1000:.2f} ms", "")
    found = grips()
    for pitches in found:
        name_notes(pitches, spelled=False)
    times = [seconds_to_name(pitches) for pitches in found]
    for label, seconds in (("median", statistics.median(times)), ("slowest", max(times))):
        row(f"names of one of {len(found)} grips, {label}", f"{seconds * 1000:.2f} ms", "")
        row("  part of the search", f"{seconds / search:.2f}", TARGET)
    single = seconds_to_name([Pitch.parse("C4")])
    row("names of a single note: every chord that has it", f"{single * 1000:.2f} ms", "")
    row("  part of the search", f"{single / search:.2f}", TARGET)
    cold = min(float(in_own_process()) for _ in range(3))
    row("first request of a process", f"{cold * 1000:.2f} ms", "")
    row("  part of the (warm) search", f"{cold / search:.2f}", "")


def in_own_process() -> str:
    """Run `first_request` in a fresh process."""
    command = [sys.executable, "-m", "tests.benchmarks.bench_naming", "first"]
    return subprocess.check_output(command, cwd=ROOT, text=True)


if __name__ == "__main__":
    if sys.argv[1:]:
        first_request()
    else:
        main()
