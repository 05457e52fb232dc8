"""Fuzz the readers of outside text and bytes, each for a limited time.

Run from the root of the repository::

    python -m tests.fuzz                       # every target, a minute each
    python -m tests.fuzz chord-symbol midi --seconds 120
    python -m tests.fuzz --list

With atheris (``pip install atheris``; Linux, x86-64) the search is guided by coverage, half of the
time through Hypothesis and half on bytes; without it Hypothesis searches alone. What breaks a
reader is kept in ``tests/fuzz/corpus``, the shortest input for each kind and place of a fault, and
is tried again by `tests.fuzz.test_corpus`. Exit code 1 where anything new was found.
"""

import argparse
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.fuzz.corpus import CORPUS, kept
from tests.fuzz.search import GUIDED, WAYS, AtHand
from tests.fuzz.targets import TARGETS

_EXECUTED = re.compile(r"stat::number_of_executed_units: (\d+)")
_GRACE_S = 120


def search(name: str, way: str, seconds: int) -> int | None:
    """Search in a process of its own.

    Args:
        name: The target.
        way: The way of searching.
        seconds: How long.

    Returns:
        How many inputs were tried; None where one broke the whole process, or held it in a single
        call that nothing can end. That input is kept too.
    """
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "at-hand"
        command = [sys.executable, "-m", "tests.fuzz.search", name, way, str(seconds), str(file)]
        process = subprocess.Popen(
            command,
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
            errors="replace",
        )
        try:
            said = process.communicate(timeout=seconds + _GRACE_S)[1]
        except subprocess.TimeoutExpired:
            process.kill()
            said = process.communicate()[1]
        for line in sorted({line for line in said.splitlines() if line.startswith("fault: ")}):
            print(f"  {line}")
        executed = _EXECUTED.search(said)
        if executed is not None:
            return int(executed[1])
        if not file.exists():
            raise SystemExit(f"the search of {name} did not begin:\n{said[-3000:]}")
        folder_of_target = CORPUS / name
        folder_of_target.mkdir(exist_ok=True)
        (folder_of_target / f"broke-off-{way}").write_bytes(AtHand.read(file))
        print(said[-1000:])
        return None


def main() -> int:
    """Search as the command line says; return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz")
    parser.add_argument("targets", nargs="*", metavar="TARGET")
    parser.add_argument("--seconds", type=int, default=60, help="time for each target")
    parser.add_argument("--list", action="store_true", help="list the targets")
    arguments = parser.parse_args()
    names = arguments.targets or sorted(TARGETS)
    unknown = [name for name in names if name not in TARGETS]
    if unknown:
        parser.error(f"unknown target {unknown[0]!r}; known are {', '.join(sorted(TARGETS))}")
    if arguments.list:
        print("\n".join(sorted(TARGETS)))
        return 0
    print("guided by coverage (atheris)" if GUIDED else "Hypothesis alone: atheris is not here")
    before = {path: path.read_bytes() for path in kept()}
    for name in names:
        for way in WAYS:
            seconds = max(1, arguments.seconds // len(WAYS))
            tried = search(name, way, seconds)
            count = "broke off" if tried is None else f"{tried:,} inputs"
            print(f"{name:<20}{way:<8}{count:>20}", flush=True)
    found = [path for path in kept() if before.get(path) != path.read_bytes()]
    for path in found:
        print(f"kept: {path.relative_to(CORPUS.parent)}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
