"""The exporter, which reads its own files too."""

import re
from fractions import Fraction
from typing import ClassVar, Final

import attrs

from gripwright import GripwrightError, Instrument, Score

Played = tuple[Fraction, str, str]
"""Where a chord starts, in quarters, its symbol, and its shape."""

LARGEST_BYTES: Final = 1_000_000
"""A file that is larger is none that a player wrote."""

_LINE: Final = re.compile(r"(-?[0-9]{1,9}(?:/[0-9]{1,9})?) ([!-~]{1,64}) ([x0-9-]{1,200})")
"""Place, chord, shape. Digits alone, and few: `Fraction` would read an exponent too, and
``1e999999999`` is a few signs that take all memory there is."""


class ChordListError(GripwrightError, ValueError):
    """A file that is no chord list.

    Args:
        line: The line that cannot be read, counted from 1; 0 where the file is too large.
    """

    line: int

    def __init__(self, *, line: int) -> None:
        reason = (
            f"line {line} is no place, chord, shape"
            if line
            else f"it has more than {LARGEST_BYTES:,} bytes"
        )
        super().__init__(f"cannot read chord list: {reason}", line=line)


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
        if len(data) > LARGEST_BYTES:
            raise ChordListError(line=0)
        played = []
        for number, line in enumerate(data.decode("ascii", errors="replace").splitlines(), 1):
            found = _LINE.fullmatch(line)
            if found is None:
                raise ChordListError(line=number)
            onset, symbol, shape = found.groups()
            try:
                played.append((Fraction(onset), symbol, shape))
            except ZeroDivisionError:
                raise ChordListError(line=number) from None
        return tuple(played)

    def kept(self, score: Score, /) -> tuple[Played, ...]:
        """What a chord list keeps of a score."""
        return tuple((event.onset, str(event.chord), event.voicing.shape) for event in score.events)
