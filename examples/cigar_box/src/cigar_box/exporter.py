"""The exporter, which reads its own files too."""

from fractions import Fraction
from typing import ClassVar

import attrs

from gripwright import GripwrightError, Instrument, Score

Played = tuple[Fraction, str, str]
"""Where a chord starts, in quarters, its symbol, and its shape."""


class ChordListError(GripwrightError, ValueError):
    """A file that is no chord list.

    Args:
        line: The line that cannot be read, counted from 1.
    """

    line: int

    def __init__(self, *, line: int) -> None:
        super().__init__(
            f"cannot read chord list: line {line} is no place, chord, shape", line=line
        )


@attrs.frozen
class ChordListExporter:
    """A line for each chord that is played: its place in quarters, its symbol, its shape."""

    name: ClassVar[str] = "chord-list"
    summary: ClassVar[str] = "a line for each chord: place, symbol and shape"
    suffixes: ClassVar[tuple[str, ...]] = (".chords",)
    media_type: ClassVar[str] = "text/plain"

    def export(self, score: Score, /) -> bytes:
        """Write a score; equal scores give equal bytes."""
        lines = [f"{onset} {symbol} {shape}\n" for onset, symbol, shape in self.kept(score)]
        return "".join(lines).encode("ascii")

    def read(self, data: bytes, instrument: Instrument, /) -> tuple[Played, ...]:
        """Read a chord list.

        Args:
            data: The file.
            instrument: Not needed: shapes stay as they are written.

        Raises:
            ChordListError: The file is none.
        """
        del instrument
        played = []
        for number, line in enumerate(data.decode("ascii", errors="replace").splitlines(), 1):
            try:
                onset, symbol, shape = line.split(" ")
                played.append((Fraction(onset), symbol, shape))
            except (ValueError, ZeroDivisionError):
                raise ChordListError(line=number) from None
        return tuple(played)

    def kept(self, score: Score, /) -> tuple[Played, ...]:
        """What a chord list keeps of a score."""
        return tuple((event.onset, str(event.chord), event.voicing.shape) for event in score.events)
