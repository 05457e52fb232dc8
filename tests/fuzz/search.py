"""One search, in a process of its own: one target, one way, so many seconds.

Ways: ``bridge`` and ``direct`` are guided by coverage (atheris on libFuzzer). In the first
libFuzzer chooses for Hypothesis, which makes inputs from the target's words and seeds
(``hypothesis.fuzz_one_input``); in the second its bytes are the input. ``random`` is Hypothesis
alone, where atheris has no wheel. A fault does not end the search: it is kept, and the search goes
on. `tests.fuzz` starts these; libFuzzer leaves the process when the time is up.
"""

from __future__ import annotations

import contextlib
import importlib
import importlib.util
import logging
import mmap
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

from hypothesis import HealthCheck, Phase, given, settings

from tests.fuzz.corpus import fault_of, keep, kept

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tests.fuzz.target import Target

GUIDED: Final = importlib.util.find_spec("atheris") is not None
"""Whether atheris is here."""

WAYS: Final = ("bridge", "direct") if GUIDED else ("random",)
"""The ways of searching that can be had here."""

_PACKAGES: Final = ["gripwright", "gripwright_rhythm", "gripwright_server", "gripwright_tunings"]
_LONGEST: Final = 16_384
_BATCH: Final = 200
_HEAD: Final = 4
_LARGEST: Final = 1 << 20
_QUIET: Final = settings(
    database=None, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck)
)


class AtHand:
    """The input at hand, in a file that outlives a process which is killed over it."""

    def __init__(self) -> None:
        self._memory: mmap.mmap | None = None

    def open(self, path: Path) -> None:
        """Note inputs in a file from now on."""
        path.write_bytes(bytes(_LARGEST))
        with path.open("r+b") as file:
            self._memory = mmap.mmap(file.fileno(), _LARGEST)

    def note(self, data: bytes) -> None:
        """Note one, with its length before it."""
        if self._memory is not None and len(data) + _HEAD <= _LARGEST:
            self._memory[: _HEAD + len(data)] = len(data).to_bytes(_HEAD, "big") + data

    @staticmethod
    def read(path: Path) -> bytes:
        """The last input that was noted in a file."""
        noted = path.read_bytes()
        return noted[_HEAD : _HEAD + int.from_bytes(noted[:_HEAD], "big")]


_AT_HAND: Final = AtHand()


def main() -> None:
    """Search: ``python -m tests.fuzz.search TARGET WAY SECONDS FILE``."""
    name, way, seconds = sys.argv[1], sys.argv[2], int(sys.argv[3])
    # A failure of the service is what is looked for; its log would drown everything else.
    logging.disable(logging.CRITICAL)
    with _instrumented(way):
        # Here and not above: what is imported now is compiled to tell where it has been.
        target = importlib.import_module("tests.fuzz.targets").TARGETS[name]
        _AT_HAND.open(Path(sys.argv[4]))
        for seed in target.seeds:
            judge(target, seed)
    {"bridge": _bridge, "direct": _direct, "random": _random}[way](target, seconds)


def judge(target: Target, data: bytes) -> None:
    """Try an input, and keep it where it breaks the reader."""
    _AT_HAND.note(data)
    fault = fault_of(target, data)
    if fault is not None:
        path = keep(target, data, fault)
        _say(f"fault: {path.parent.name}/{path.name}: {str(fault)!a}"[:300])


def _bridge(target: Target, seconds: int) -> None:
    @_QUIET
    @given(target.inputs())
    def search(data: bytes) -> None:
        judge(target, data)

    # Hypothesis gives every test this bridge; its types do not tell.
    _fuzz(cast("Any", search).hypothesis.fuzz_one_input, [], seconds)


def _direct(target: Target, seconds: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        begin = [
            *target.seeds,
            *(path.read_bytes() for path in kept() if path.parent.name == target.name),
        ]
        for number, data in enumerate(begin):
            (Path(folder) / str(number)).write_bytes(data)
        words = Path(folder) / "words.dict"
        lines = ("".join(map(r"\x{:02x}".format, word)) for word in target.words)
        words.write_text("".join(f'"{line}"\n' for line in lines), encoding="ascii")
        _fuzz(lambda data: judge(target, data), [f"-dict={words}", folder], seconds)


def _fuzz(once: Callable[[bytes], object], arguments: list[str], seconds: int) -> None:
    import atheris  # noqa: PLC0415 - only where it is

    atheris.Setup(
        [
            sys.argv[0],
            f"-max_total_time={seconds}",
            f"-max_len={_LONGEST}",
            # The corpus has a limit of its own, whose alarm libFuzzer's would displace.
            "-timeout=0",
            "-rss_limit_mb=4096",
            "-print_final_stats=1",
            *arguments,
        ],
        once,
    )
    atheris.Fuzz()


def _random(target: Target, seconds: int) -> None:
    count = 0
    end = time.monotonic() + seconds

    @settings(_QUIET, max_examples=_BATCH)
    @given(target.inputs())
    def search(data: bytes) -> None:
        nonlocal count
        count += 1
        judge(target, data)

    while time.monotonic() < end:
        search()
    _say(f"stat::number_of_executed_units: {count}")


def _say(line: str) -> None:
    sys.stderr.write(f"{line}\n")
    sys.stderr.flush()


@contextlib.contextmanager
def _instrumented(way: str) -> Iterator[None]:
    if way == "random":
        yield
        return
    import atheris  # noqa: PLC0415 - only where it is

    with atheris.instrument_imports(include=_PACKAGES):
        yield


if __name__ == "__main__":
    main()
