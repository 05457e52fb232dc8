"""Symbol reading against music21.harmony.ChordSymbol, both in one run.

Run it with ``python tests/benchmarks/bench_symbols.py``.  Each side gets the text of a symbol and
must yield its spelled tones.  The symbols are those that both libraries read alike: 28 suffixes
on 21 roots, each symbol once a pass.

Passes are told apart by what may have been remembered before they start:

- *cold*: a fresh interpreter has imported both libraries and read one other symbol on each side,
  so grammars and tables are loaded; no symbol of the pass has been read before.
- *cleared*: every ``functools`` cache of gripwright is emptied before the pass (the grammar that
  was built at import stays).
- *warm*: later passes over the same symbols in the same process, nothing emptied.

music21 keeps no memo of symbols; its own small caches are left as they are in every pass.  The
passes of the two sides alternate, the ratio is of the best pass of each, and no time is asserted.
"""

from __future__ import annotations

import argparse
import functools
import gc
import itertools
import json
import subprocess
import sys
import time
from typing import TYPE_CHECKING, Final

from music21 import harmony

from gripwright import Chord

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

TARGET_RATIO: Final = 50.0
ROUNDS: Final = 3
SUFFIXES: Final = (
    *("", "m", "7", "M7", "m7", "m7b5", "dim", "dim7", "aug", "6", "m6"),
    *("9", "M9", "m9", "11", "m11", "13", "M13", "m13", "sus4", "7sus4"),
    *("7b9", "7#9", "7#11", "7b9b13", "7#5#9", "6add9", "mM7"),
)
SYMBOLS: Final = tuple(
    letter + accidental + suffix
    for letter, accidental, suffix in itertools.product("CDEFGAB", ("", "#", "b"), SUFFIXES)
)


def music21_tones(symbol: str) -> int:
    """Read a symbol by music21, which writes a flat root with a hyphen, and count its tones."""
    figure = symbol[0] + symbol[1:2].replace("b", "-") + symbol[2:]
    return len(harmony.ChordSymbol(figure).pitches)


def gripwright_tones(symbol: str) -> int:
    """Read a symbol by gripwright and count its spelled tones."""
    return len(Chord.parse(symbol).notes)


def seconds_for(read: Callable[[str], int], symbols: Sequence[str]) -> float:
    """Time one pass over the symbols, with the garbage collector quiet."""
    gc.collect()
    gc.disable()
    try:
        start = time.perf_counter()
        for symbol in symbols:
            read(symbol)
        return time.perf_counter() - start
    finally:
        gc.enable()


def clear_caches() -> int:
    """Empty every functools cache that belongs to gripwright, and return how many there were."""
    cleared = 0
    for thing in gc.get_objects():
        if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__.startswith(  # noqa: SLF001 - the only name of that type
            "gripwright"
        ):
            thing.cache_clear()
            cleared += 1
    return cleared


def first_pass() -> dict[str, float]:
    """Time the first pass of each side in this interpreter, after one other symbol on each."""
    music21_tones("Ebsus2")
    gripwright_tones("Ebsus2")
    return {
        "music21": seconds_for(music21_tones, SYMBOLS),
        "gripwright": seconds_for(gripwright_tones, SYMBOLS),
    }


def cold_passes() -> list[dict[str, float]]:
    """Time first passes, each in an interpreter of its own."""
    command = [sys.executable, __file__, "--first-pass"]
    return [json.loads(subprocess.check_output(command)) for _ in range(ROUNDS)]


def report(name: str, passes: Sequence[dict[str, float]]) -> None:
    """Print the best pass of each side, a symbol, and their ratio."""
    theirs = min(each["music21"] for each in passes) / len(SYMBOLS)
    ours = min(each["gripwright"] for each in passes) / len(SYMBOLS)
    ratio = theirs / ours
    verdict = "met" if ratio >= TARGET_RATIO else "missed"
    print(
        f"{name:8} music21 {theirs * 1e6:9.1f} us  gripwright {ours * 1e6:7.2f} us"
        f"  ratio {ratio:8.1f}  (target {TARGET_RATIO:.0f}: {verdict})"
    )


def main() -> None:
    """Run the passes and print one line for each kind."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--first-pass", action="store_true", help="time one first pass, as JSON")
    if parser.parse_args().first_pass:
        print(json.dumps(first_pass()))
        return
    print(f"{len(SYMBOLS)} symbols a pass, best of {ROUNDS}; microseconds a symbol, tones included")
    report("cold", cold_passes())
    cleared, warm = [], []
    caches = 0
    for _ in range(ROUNDS):
        theirs = seconds_for(music21_tones, SYMBOLS)
        caches = clear_caches()
        cleared.append({"music21": theirs, "gripwright": seconds_for(gripwright_tones, SYMBOLS)})
        warm.append({"music21": theirs, "gripwright": seconds_for(gripwright_tones, SYMBOLS)})
    report("cleared", cleared)
    report("warm", warm)
    print(f"functools caches of gripwright emptied before a cleared pass: {caches}")


if __name__ == "__main__":
    main()
