"""The kept corpus: inputs that once broke a reader, a folder a target, which stay for good."""

from __future__ import annotations

import contextlib
import signal
import traceback
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import FrameType

    from tests.fuzz.target import Target

CORPUS: Final = Path(__file__).with_name("corpus")
"""Where the inputs lie."""

SLOWEST_S: Final = 10.0
"""Seconds that one input may take."""


class TooSlowError(Exception):
    """An input that takes longer than one may."""


def fault_of(target: Target, data: bytes) -> Exception | None:
    """Try one input.

    Args:
        target: The reader.
        data: The input.

    Returns:
        What it raised and should not have, or took too long; None where all is well.
    """
    try:
        with _limited(SLOWEST_S):
            target.check(data)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        return error
    return None


def keep(target: Target, data: bytes, fault: Exception, folder: Path = CORPUS) -> Path:
    """Keep an input that broke a reader: for each kind and place of a fault the shortest one.

    Args:
        target: The reader.
        data: The input.
        fault: What it raised.
        folder: The folder of the corpus.

    Returns:
        The file that holds the input, or a shorter one with the same fault.
    """
    frame = traceback.extract_tb(fault.__traceback__)[-1]
    module = Path(frame.filename).stem
    path = folder / target.name / f"{type(fault).__name__}-{module}-{frame.name.strip('<>')}"
    if not path.exists() or len(path.read_bytes()) > len(data):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return path


def kept(folder: Path = CORPUS) -> tuple[Path, ...]:
    """The kept inputs, sorted.

    Args:
        folder: The folder of the corpus.
    """
    return tuple(sorted(path for path in folder.glob("*/*") if path.is_file()))


@contextlib.contextmanager
def _limited(seconds: float) -> Iterator[None]:
    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TooSlowError(f"more than {seconds:g} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
