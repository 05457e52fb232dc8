"""Systems of a tablature: lines of bars with strings, symbols, beats and clicks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final

import attrs

from gripwright.meter import Meter
from gripwright_rhythm.export.ascii_text import ascii_text
from gripwright_rhythm.export.tablature_bar import TabBar, TabChord, TabNote
from gripwright_rhythm.export.tablature_grid import TabGrid

LABEL: Final = 5
"""Columns before the first bar line."""

SOUNDS: Final = "="
SILENT: Final = "-"
MUTED: Final = "x"
BAR_LINE: Final = "|"
BROKEN: Final = ":"
CLICK: Final = "*"
ACCENT: Final = "!"
STROKES: Final = {"down": "v", "up": "^", "pluck": "p"}


@attrs.frozen
class TabPiece:
    """A bar, or the part of it that a line holds.

    Args:
        bar: The bar.
        start: Where the piece starts, in quarters from the start of the bar.
        end: Where it ends.
    """

    bar: TabBar
    start: Fraction
    end: Fraction

    @property
    def opens(self) -> bool:
        """Whether it is the first of its bar."""
        return self.start == 0

    @property
    def closes(self) -> bool:
        """Whether it is the last of its bar."""
        return self.end == self.bar.length

    def width(self, grid: TabGrid) -> int:
        """Its columns, without bar lines."""
        return grid.column(self.end) - grid.column(self.start)


@attrs.frozen
class TabPage:
    """How all systems of a tablature are drawn.

    Args:
        strings: The names of the strings, from the bass side.
        grid: The columns.
        width: Columns of a line.
    """

    strings: tuple[str, ...]
    grid: TabGrid
    width: int

    def lines(self, bars: Sequence[TabBar]) -> Iterator[str]:
        """The lines of some bars, a blank one after each system.

        Args:
            bars: The bars, one after the other.
        """
        meter = None
        for system in self._systems(bars):
            yield from _System(self, system).lines(before=meter)
            yield ""
            meter = system[-1].bar.meter

    def _systems(self, bars: Sequence[TabBar]) -> Iterator[list[TabPiece]]:
        room = self.width - LABEL - 1
        usual = max(bar.length for bar in bars)
        fit = room // (self.grid.column(usual) + 1)
        # Phrases have four bars or eight: a line of three would cut them anywhere.
        most = 1 << (fit.bit_length() - 1) if fit else 1
        system: list[TabPiece] = []
        used = count = 0
        for bar in bars:
            for piece in self._pieces(bar, room):
                columns = piece.width(self.grid) + 1
                fresh = piece.opens and (bar.section is not None or bar.ending or count >= most)
                if system and (fresh or used + columns > room):
                    yield system
                    system, used, count = [], 0, 0
                system.append(piece)
                used += columns
                count += piece.opens
        if system:
            yield system

    def _pieces(self, bar: TabBar, room: int) -> Iterator[TabPiece]:
        """The bar in as few pieces as lines hold, cut at beats."""
        start = last = Fraction(0)
        for beat in (*(time for time, _ in bar.beats), bar.length):
            if self.grid.column(beat) - self.grid.column(start) >= room and last > start:
                yield TabPiece(bar, start, last)
                start = last
            last = beat
        yield TabPiece(bar, start, bar.length)


class _System:
    """One line of bars, drawn sign by sign."""

    def __init__(self, page: TabPage, pieces: list[TabPiece]) -> None:
        self._page = page
        self._pieces = pieces
        self._left: list[int] = []
        column = LABEL + 1
        for piece in pieces:
            self._left.append(column)
            column += piece.width(page.grid) + 1
        self._lanes: list[list[str]] = []
        self._sections: list[list[str]] = []
        self._shown = ""
        self._strings = [self._row(name, SILENT) for name in page.strings]
        self._beat, self._hand, self._clicks = map(self._row, ("beat", "hand", "click"))
        self._bass, self._root = self._row("bass"), self._row("root")

    def lines(self, before: Meter | None) -> Iterator[str]:
        """The lines from top to bottom, without the rows in which nothing stands.

        Args:
            before: The metre before it, or None at the start, where the heading says it.
        """
        for left, piece in zip(self._left, self._pieces, strict=True):
            if piece.opens:
                self._opening(left, piece.bar, before)
                before = piece.bar.meter
            self._piece(left, piece)
        # A pickup is not counted: the number is that of the bar after it.
        counted = (piece.bar.number for piece in self._pieces if not piece.bar.lead_in)
        number = next((f"{number}:" for number in counted), "").rjust(LABEL)
        if not self._lanes:
            self._lanes.append(self._blank())
        self._lanes[0][:LABEL] = number[-LABEL:]
        yield from (_text(lane) for lane in reversed(self._lanes + self._sections))
        yield from (_text(row) for row in reversed(self._strings))
        for row in (self._beat, self._hand, self._clicks, self._bass, self._root):
            if any(sign != " " for sign in row[LABEL:]):
                yield _text(row)

    def _piece(self, left: int, piece: TabPiece) -> None:
        """All that stands in a piece."""
        self._symbols(left, piece)
        self._beats(left, piece)
        for time in piece.bar.clicks:
            if piece.start <= time < piece.end:
                self._clicks[self._place(left, piece, time)] = CLICK
        for chord in piece.bar.chords:
            self._chord(left, piece, chord)
        for row, notes in ((self._bass, piece.bar.bass), (self._root, piece.bar.root)):
            for note in notes:
                self._note(row, left, piece, note)

    def _opening(self, left: int, bar: TabBar, before: Meter | None) -> None:
        """The section that starts at a bar, and its metre where that is new."""
        words = [f"[{ascii_text(bar.section)}]"] if bar.section is not None else []
        words += [str(bar.meter)] if before not in {None, bar.meter} else []
        if words:
            _write_over(self._sections, left, " ".join(words), self._page.width)

    def _symbols(self, left: int, piece: TabPiece) -> None:
        """The chords where they change; at the start of the line the one that sounds on."""
        symbols = [one for one in piece.bar.symbols if piece.start <= one[0] < piece.end]
        if not self._shown and not any(time == piece.start for time, _ in symbols):
            held = [one for one in piece.bar.chords if one.onset <= piece.start < one.end]
            symbols[:0] = [(piece.start, one.symbol) for one in held[-1:]]
        for time, text in symbols:
            # After its anticipation a chord needs no name again.
            bare = text.strip(">()")
            if text != self._shown and (bare != text or bare != self._shown.strip(">()")):
                _write_over(self._lanes, self._place(left, piece, time), text, self._page.width)
            self._shown = text

    def _blank(self) -> list[str]:
        return [" "] * self._page.width

    def _row(self, label: str, fill: str = " ") -> list[str]:
        row = self._blank()
        row[:LABEL] = label.rjust(LABEL)[-LABEL:]
        if fill == " ":
            return row
        for left, piece in zip(self._left, self._pieces, strict=True):
            right = left + piece.width(self._page.grid)
            row[left - 1] = BAR_LINE if piece.opens else BROKEN
            row[left:right] = fill * (right - left)
            row[right] = BAR_LINE if piece.closes else BROKEN
        return row

    def _place(self, left: int, piece: TabPiece, time: Fraction) -> int:
        """The column of a time, inside its piece."""
        grid = self._page.grid
        column = left + grid.column(time) - grid.column(piece.start)
        return max(min(column, left + piece.width(grid) - 1), left)

    def _edge(self, left: int, piece: TabPiece, time: Fraction) -> int:
        """The column before which something ends."""
        grid = self._page.grid
        column = left + grid.column(time) - grid.column(piece.start)
        return max(min(column, left + piece.width(grid)), left)

    def _beats(self, left: int, piece: TabPiece) -> None:
        """The beats by number; between them the and, or dots where a beat has three parts."""
        meter = piece.bar.meter
        parts = 3 if meter.compound else 2
        for time, beat in piece.bar.beats:
            for part in range(parts):
                place = time + meter.pulse * part / parts
                if not piece.start <= place < piece.end:
                    continue
                column = self._place(left, piece, place)
                text = str(beat) if part == 0 else "." if meter.compound else "&"
                if part == 0 or self._beat[column] == " ":
                    self._beat[column : column + len(text)] = text

    def _chord(self, left: int, piece: TabPiece, chord: TabChord) -> None:
        if chord.end <= piece.start or chord.onset >= piece.end:
            return
        attacked = chord.starts and chord.onset >= piece.start
        start = self._place(left, piece, max(chord.onset, piece.start))
        for row, fret, end in zip(self._strings, chord.frets, chord.ends, strict=True):
            if fret < 0:
                if attacked and row[start] == SILENT:
                    row[start] = MUTED
                continue
            if end <= max(chord.onset, piece.start):
                # Gripped anew at once, or over before this line.
                continue
            _sound(row, start, self._edge(left, piece, end), str(fret) if attacked else "")
        if attacked:
            marks = STROKES[chord.stroke] + ACCENT * chord.accent
            self._hand[start : start + len(marks)] = marks

    def _note(self, row: list[str], left: int, piece: TabPiece, note: TabNote) -> None:
        if note.end <= piece.start or note.onset >= piece.end:
            return
        attacked = note.starts and note.onset >= piece.start
        start = self._place(left, piece, max(note.onset, piece.start))
        _sound(row, start, self._edge(left, piece, note.end), note.name if attacked else "")


def _write_over(lanes: list[list[str]], column: int, text: str, width: int) -> None:
    """Write over the strings, in the lowest row that is free there."""
    text = text[:width]
    column = max(min(column, width - len(text)), 0)
    end = column + len(text)
    for lane in lanes:
        if all(sign == " " for sign in lane[max(column - 1, 0) : end + 1]):
            break
    else:
        lane = [" "] * width
        lanes.append(lane)
    lane[column:end] = text


def _sound(row: list[str], start: int, end: int, text: str) -> None:
    """A sign where something starts, and its length after it."""
    row[start:end] = SOUNDS * (end - start)
    row[start : start + len(text)] = text


def _text(row: Iterable[str]) -> str:
    return "".join(row).rstrip()
