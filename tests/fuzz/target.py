"""What is fuzzed: one reader of outside text or bytes, and what it may do with them."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

import attrs
from hypothesis import strategies as st

from gripwright import ChartError, NotationError

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

T = TypeVar("T")

_MOST_EDITS = 4
_LONGEST_RAW = 64


@attrs.frozen
class Target:
    """One reader.

    Args:
        name: What it reads, as the command line and the folders of the corpus call it.
        check: Reads some bytes; raises where the reader does what it may not.
        seeds: Content that can be read, to begin with.
        words: Pieces of which such content is made.
    """

    name: str
    check: Callable[[bytes], None]
    seeds: tuple[bytes, ...]
    words: tuple[bytes, ...] = ()

    def inputs(self) -> SearchStrategy[bytes]:
        """Bytes to try: words in a row, seeds with a few edits, and anything at all."""
        raw = st.binary(max_size=_LONGEST_RAW)
        signs = st.text(max_size=3).map(lambda text: text.encode("utf-8", "surrogatepass"))
        piece = st.one_of(st.sampled_from(self.words), signs) if self.words else signs
        rows = st.lists(piece, max_size=24).map(b"".join)
        edits = st.lists(
            st.tuples(st.floats(0, 1), st.integers(0, 16), st.one_of(piece, raw)),
            max_size=_MOST_EDITS,
        )
        edited = st.builds(_edited, st.sampled_from(self.seeds), edits)
        return st.one_of(edited, rows, raw)


def _edited(seed: bytes, edits: list[tuple[float, int, bytes]]) -> bytes:
    for where, length, piece in edits:
        start = int(where * len(seed))
        seed = seed[:start] + piece + seed[start + length :]
    return seed


def text_target(  # noqa: D417 - the others are those of `Target`
    name: str,
    read: Callable[[str], T],
    *,
    allowed: tuple[type[Exception], ...],
    seeds: tuple[str, ...],
    words: str = "",
    written: Callable[[T], str] | None = str,
    escapes: bool = False,
) -> Target:
    """A reader of text.

    What it reads must be written as text that reads back equal. What it refuses must name a place
    in the text, give a nearest text that can be read, and survive pickling.

    Args:
        read: Reads a text.
        allowed: The errors that it may raise.
        written: Writes what was read; None where nothing does.
        escapes: Whether the text has escapes, so that a part of it that cannot be read need not
            stand in it sign for sign.
    """

    def check(data: bytes) -> None:
        # Bytes that are no UTF-8 become lone surrogates, as they do in arguments of a process.
        text = data.decode("utf-8", "surrogateescape")
        try:
            value = read(text)
        except allowed as error:
            _check_refusal(error, text, read, escapes=escapes)
            return
        if written is not None:
            again = read(written(value))
            assert again == value, f"{written(value)!r} reads back as {again!r}, not {value!r}"

    encoded = tuple(seed.encode() for seed in seeds)
    return Target(name, check, encoded, tuple(word.encode() for word in words.split(" ") if word))


def _check_refusal(
    error: Exception, text: str, read: Callable[[str], object], *, escapes: bool
) -> None:
    copy = pickle.loads(pickle.dumps(error))
    assert str(copy) == str(error)
    if isinstance(error, NotationError):
        # In a document the text that cannot be read is a part of it.
        assert escapes or error.text in text
        assert 0 <= error.position <= len(error.text)
        if error.nearest is not None and error.text == text:
            read(error.nearest)
    if isinstance(error, ChartError):
        lines = text.splitlines() or [""]
        for fault in error.faults:
            assert 1 <= fault.line <= len(lines) + 1
            assert fault.column >= 1


def bytes_target(
    name: str,
    read: Callable[[bytes], object],
    *,
    allowed: tuple[type[Exception], ...],
    seeds: tuple[bytes, ...],
    words: tuple[bytes, ...] = (),
) -> Target:
    """A reader of bytes, which reads or refuses them.

    Args:
        name: What it reads.
        read: Reads some bytes.
        allowed: The errors that it may raise.
        seeds: Content that can be read.
        words: Pieces of which such content is made.
    """

    def check(data: bytes) -> None:
        try:
            read(data)
        except allowed as error:
            assert str(pickle.loads(pickle.dumps(error))) == str(error)

    return Target(name, check, seeds, words)
