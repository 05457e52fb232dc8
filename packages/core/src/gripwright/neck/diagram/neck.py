"""Neck diagrams as pictures, as players draw them.

Strings stand upright, the bass side on the left; an ``x`` above a string mutes it, a ring above it
lets it sound open, and a dot lies where it is pressed. A heavy line is the nut (or the capo); where
the diagram starts higher up, its first fret is numbered on the left. A root is square. For
left-handed players the whole stands in a mirror. Common practice.

A unit of the plane is about a pixel where six strings are shown 120 px wide.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

import attrs

from gripwright.neck.diagram.keyboard import keyboards
from gripwright.neck.diagram.label import LABELS
from gripwright.neck.diagram.palette import THEMES, Paint, Theme
from gripwright.neck.diagram.picture import (
    Block,
    Line,
    Mark,
    Picture,
    Words,
    size_within,
    width_in_ems,
)
from gripwright.neck.diagram.tone import cross, tone_mark
from gripwright.neck.diagram.window import Window, window_of
from gripwright.neck.fingering import Fingering, fingering_of
from gripwright.neck.hand import MOST_FINGERS
from gripwright.neck.voicing import Voicing

GAP: Final = 18.0
FRET: Final = 23.0
RADIUS: Final = 8.2

_LEFT: Final = 26.0
_RIGHT: Final = 12.0
_TOP: Final = 2.0
_TITLE: Final = 21.0
_SUBTITLE: Final = 12.0
_MARKS: Final = 22.0
_ROW: Final = 12.0
_RING: Final = 8.0
_NUMBER: Final = 11.0
# Where every millimetre of height counts, frets stand just wide enough for a dot, and the number
# of the first fret, which is looked for from afar, is larger.
_COMPACT_FRET: Final = 18.0
_COMPACT_NUMBER: Final = 16.0
_COMPACT_LEFT: Final = 32.0
_COMPACT_SIDE: Final = 10.0
_COMPACT_MARKS: Final = 19.0
_BETWEEN: Final = 14.0


@attrs.frozen(kw_only=True)
class Look:
    """How neck diagrams are drawn.

    Args:
        label: What the dots carry, a name of `LABELS`.
        left_handed: Mirror the neck for a left-handed player.
        theme: The colours.
        keyboard: Draw the tones on a piano keyboard beside the neck.
        compact: Draw the neck alone, as low as its dots let it be: nothing stands below.

    Example:
        >>> Look(label="note", left_handed=True).theme.name
        'light'
    """

    label: str = "degree"
    left_handed: bool = False
    theme: Theme = THEMES["light"]
    keyboard: bool = False
    compact: bool = False


def neck_picture(
    voicing: Voicing,
    look: Look,
    *,
    title: str | None = None,
    subtitle: str = "",
    remark: str = "",
    frets: int | None = None,
    fingering: Fingering | None = None,
) -> Picture:
    """Draw a voicing on the neck.

    Args:
        voicing: The voicing.
        look: How it is drawn.
        title: What stands above; the chord symbol where it is None, nothing where it is empty.
        subtitle: What stands under the title; nothing where it is empty.
        remark: What stands at the foot.
        frets: Frets to show at least, so that several diagrams have one height.
        fingering: The fingers; those of the usual hand where it is None.

    Raises:
        UnknownNameError: There is no such label.
        ConditionError: Fingers are asked for and no hand has enough of them.

    Example:
        >>> from gripwright import Chord, Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> picture = neck_picture(grip, Look(label="note"))
        >>> [mark.text for mark in picture.marks if isinstance(mark, Words)][0]
        'Cmaj7'
    """
    fingering = _usual_fingering(voicing) if fingering is None else fingering
    drawing = _Drawing(
        voicing=voicing,
        look=look,
        labels=LABELS[look.label](voicing, fingering),
        window=window_of(voicing, frets),
        fingering=fingering,
        title=voicing.chord.symbol if title is None else title,
        subtitle=subtitle,
        remark=remark,
    )
    neck = Picture(drawing.width, drawing.height, tuple(drawing.marks()))
    if look.left_handed:
        neck = neck.mirrored()
    neck = attrs.evolve(neck, title=_title(voicing), description=describe(voicing, fingering))
    if not look.keyboard:
        return neck
    piano = keyboards(voicing, look.label, look.theme)
    down = max(0.0, (drawing.height - piano.height) / 2)
    return attrs.evolve(
        neck,
        width=neck.width + _BETWEEN + piano.width,
        height=max(neck.height, piano.height),
        marks=(*neck.marks, *piano.moved(neck.width + _BETWEEN, down).marks),
        description=f"{neck.description} {piano.description}",
    )


def describe(voicing: Voicing, fingering: Fingering | None = None) -> str:
    """A voicing in words, for those who cannot see the picture.

    Args:
        voicing: The voicing.
        fingering: The fingers, which are named if given.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0, id="small")
        >>> table = find_voicings(Chord.parse("C"), ukulele)
        >>> for part in describe(next(one for one in table if one.shape == "0-0-0-3")).split("; "):
        ...     print(part)
        String 4 open: G4, degree 5
        string 3 open: C4, degree 1
        string 2 open: E4, degree 3
        string 1 at fret 3: C5, degree 1.
    """
    fingers = fingering.fingers if fingering is not None else (0,) * len(voicing.frets)
    sounding = zip(voicing.pitches, voicing.degrees, strict=True)
    parts = []
    for string, fret in enumerate(voicing.frets):
        name = f"string {len(voicing.frets) - string}"
        if fret < 0:
            parts.append(f"{name} muted")
            continue
        pitch, degree = next(sounding)
        place = f"at fret {fret}" if fret else "open"
        finger = f" with finger {fingers[string]}" if fingers[string] else ""
        parts.append(f"{name} {place}{finger}: {pitch}, degree {degree}")
    text = "; ".join(parts)
    return f"{text[:1].upper()}{text[1:]}."


@attrs.frozen(kw_only=True)
class _Drawing:
    """A neck diagram that is being drawn, for a right-handed player."""

    voicing: Voicing
    look: Look
    labels: tuple[str, ...]
    window: Window
    fingering: Fingering | None
    title: str
    subtitle: str
    remark: str

    @property
    def width(self) -> float:
        return self._x(len(self.voicing.frets) - 1) + (
            _COMPACT_SIDE if self.look.compact else _RIGHT
        )

    @property
    def height(self) -> float:
        rows = len(self._rows()) + bool(self.remark)
        return self._end_y + 3 + (_ROW * rows + 3 if rows or not self.look.compact else 0)

    def marks(self) -> Iterator[Mark]:
        yield from self._heading()
        yield from self._fret_lines()
        yield from self._strings()
        yield from self._barres()
        yield from self._tones()
        yield from self._rows_below()

    @property
    def _marks(self) -> float:
        """Room for crosses and rings."""
        return _COMPACT_MARKS if self.look.compact else _MARKS

    @property
    def _fret(self) -> float:
        """From one fret to the next."""
        return _COMPACT_FRET if self.look.compact else FRET

    @property
    def _left(self) -> float:
        if not self.look.compact:
            return _LEFT
        return _COMPACT_SIDE if self.window.at_nut else _COMPACT_LEFT

    @property
    def _nut_y(self) -> float:
        title = _TITLE if self.title else 0.0
        return _TOP + title + (_SUBTITLE if self.subtitle else 0.0) + self._marks

    @property
    def _end_y(self) -> float:
        """The last line that is shown."""
        return self._nut_y + self._fret * self.window.count

    def _x(self, string: int) -> float:
        return self._left + GAP * string

    def _y(self, fret: int) -> float:
        """The middle of a fret's space."""
        return self._nut_y + self._fret * (fret - self.window.first + 0.5)

    def _start_y(self, string: int) -> float:
        """Where a string starts: its own nut where that is shown, else the top."""
        first = self.voicing.instrument.strings[string].first_fret
        if self.window.first <= first < self.window.frets[-1]:
            return self._y(first) + self._fret / 2
        return self._nut_y

    def _shown(self, string: int, fret: int) -> bool:
        """Whether a string reaches the line beyond a fret."""
        return self.voicing.instrument.strings[string].first_fret <= fret

    def _heading(self) -> Iterator[Mark]:
        theme, strings = self.look.theme, len(self.voicing.frets)
        middle = (self._x(0) + self._x(strings - 1)) / 2
        room = 2 * min(middle, self.width - middle)
        if self.title:
            size = size_within(self.title, room, 16)
            yield Words(middle, _TOP + 9, self.title, size, theme.ink, bold=True)
        if self.subtitle:
            y = self._nut_y - self._marks - _SUBTITLE / 2 + 1
            size = size_within(self.subtitle, room, 9)
            yield Words(middle, y, self.subtitle, size, theme.faint)

    def _fret_lines(self) -> Iterator[Mark]:
        theme, first = self.look.theme, self.window.first
        for fret in range(first - 1, first + self.window.count):
            y = self._nut_y + self._fret * (fret - first + 1)
            heavy = fret == 0
            width, colour = (4.0, theme.nut) if heavy else (1.0, theme.wire)
            reaching = [s for s in range(len(self.voicing.frets)) if self._shown(s, fret)]
            # Strings that lie beside one another: their places less their ranks are equal.
            for _, run in groupby(enumerate(reaching), lambda pair: pair[1] - pair[0]):
                ends = [string for _, string in run]
                left, right = self._x(ends[0]), self._x(ends[-1])
                if left == right:
                    left, right = left - GAP / 4, right + GAP / 4
                yield Line(left, y - heavy, right, y - heavy, width, colour)
        if not self.window.at_nut:
            x = self._left - RADIUS - 5
            size = _COMPACT_NUMBER if self.look.compact else _NUMBER
            yield Words(x, self._y(first), str(first), size, theme.ink, "end", bold=True)

    def _strings(self) -> Iterator[Mark]:
        end = self._end_y
        for string, built in enumerate(self.voicing.instrument.strings):
            if built.first_fret >= self.window.frets[-1]:
                continue
            x, y = self._x(string), self._start_y(string)
            # A course of several strings is drawn as two.
            for aside in (-1.1, 1.1) if built.doubles else (0.0,):
                yield Line(x + aside, y, x + aside, end, 1.2, self.look.theme.wire)
            if y > self._nut_y:
                yield Line(x - 4, y, x + 4, y, 3.0, self.look.theme.nut)

    def _barres(self) -> Iterator[Mark]:
        colour = self.look.theme.barre
        for barre in self.fingering.barres if self.fingering is not None else ():
            left, right = self._x(barre.first_string), self._x(barre.last_string)
            x, width = (left + right) / 2, right - left + 2 * RADIUS - 2
            yield Block(x, self._y(barre.fret), width, 10.0, colour, colour, 0.5, corner=5.0)

    def _tones(self) -> Iterator[Mark]:
        theme = self.look.theme
        tones = zip(self.labels, self.voicing.degrees, strict=True)
        for string, fret in enumerate(self.voicing.frets):
            x, above = self._x(string), self._start_y(string) - self._marks / 2 - 1
            if fret < 0:
                yield from cross(x, above, theme)
                continue
            label, degree = next(tones)
            square = degree.pitch_class == 0
            paint = theme.root if square else theme.tone
            y = self._y(fret)
            if fret == 0:
                y, paint = above, Paint(fill=theme.page, edge=theme.ink, text=theme.ink)
            radius = RADIUS if fret else _RING
            yield tone_mark(x, y, radius, paint, square=square)
            if label:
                # A ring's label keeps clear of its outline; a dot's may reach its edge.
                room, most = (2 * radius - 1.5, 11) if fret else (2 * radius - 4, 10)
                size = size_within(label, room, most)
                yield Words(x, y, label, size, paint.text, bold=True)

    def _rows(self) -> list[tuple[str, ...]]:
        """Texts under the sounding strings."""
        if self.look.compact:
            return []
        rows = [tuple(map(str, self.voicing.pitches))]
        if self.look.label != "degree":
            rows.insert(0, tuple(map(str, self.voicing.degrees)))
        return rows

    def _rows_below(self) -> Iterator[Mark]:
        theme = self.look.theme
        strings = [string for string, fret in enumerate(self.voicing.frets) if fret >= 0]
        y = self._end_y + 3 + _ROW / 2
        for row in self._rows():
            # One size for a row: the widest text says which.
            size = size_within(max(row, key=width_in_ems), GAP - 1.5, 9)
            for string, text in zip(strings, row, strict=True):
                yield Words(self._x(string), y, text, size, theme.ink)
            y += _ROW
        if self.remark:
            middle = (self._x(0) + self._x(len(self.voicing.frets) - 1)) / 2
            room = 2 * min(middle, self.width - middle)
            yield Words(middle, y, self.remark, size_within(self.remark, room, 9), theme.faint)


def _usual_fingering(voicing: Voicing) -> Fingering | None:
    """The fingers of the usual hand, or none where the grip takes more than any hand has."""
    if voicing.presses > MOST_FINGERS:
        return None
    return fingering_of(voicing.frets, voicing.instrument)


def _title(voicing: Voicing) -> str:
    return f"{voicing.chord.symbol} as {voicing.shape} on {voicing.instrument.name}"
