"""Contact sheets: many neck diagrams on one page, to be handed out.

The page has the chord with its spelling at the top, the diagrams in rows, and at the foot what the
signs mean and a word of caution. It is as wide as A4 (ISO 216) and at least as long; more diagrams
than fit make it longer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.neck.diagram.neck import RADIUS, Look, neck_picture
from gripwright.neck.diagram.palette import THEMES, Paint, Theme
from gripwright.neck.diagram.picture import (
    Line,
    Mark,
    Picture,
    Words,
    document,
    number,
    size_within,
    width_in_ems,
)
from gripwright.neck.diagram.tone import cross, tone_mark
from gripwright.neck.diagram.window import box_frets
from gripwright.neck.fingering import Fingering
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord

CAUTION: Final = "Warm up first, and stop at the first sign of pain."
"""What the foot of every sheet says."""

_A4_WIDTH_MM: Final = 210.0
_A4_HEIGHT_MM: Final = 297.0
# At this width five diagrams of six strings stand beside one another, each about 33 mm wide.
_USUAL_WIDTH: Final = 792.0
_LEAST_WIDTH: Final = 480.0
_MARGIN: Final = 40.0
_SPACE: Final = 16.0
_SPACE_BELOW: Final = 7.0
_FOOT: Final = 40.0
_FOOT_LINE: Final = 15.0
_FOOT_SIZE: Final = 10.0
_MOST_SPARE: Final = 40.0
_MOST_COLUMNS: Final = 12
_SPELLED: Final = 34.0
_KEYBOARDS: Final = "Close: close position.  Grip: as gripped."


def sheet_svg(
    voicings: Iterable[Voicing],
    *,
    columns: int | None = None,
    title: str | None = None,
    note: str = "",
    label: str = "degree",
    left_handed: bool = False,
    theme: str = "light",
    keyboard: bool = False,
    fingering: Callable[[Voicing], Fingering | None] | None = None,
    a4: bool = True,
) -> str:
    """Draw many voicings on a page, as an SVG document.

    Each diagram carries its symbol and its frets, the tones as labels, the pitches below, and what
    it adds to the symbol or leaves out. Where all voice one chord, that chord is spelled at the
    top.

    Args:
        voicings: The voicings, in their order.
        columns: Diagrams beside one another, 1 to 12; as many as a page takes at a readable size
            where it is None.
        title: What stands at the top; the chord symbol, or "Voicings" for several chords, where
            it is None.
        note: A line under the title, such as the instrument.
        label: What the dots carry: ``degree``, ``note``, ``finger``, ``interval`` or ``none``.
        left_handed: Mirror the necks for a left-handed player.
        theme: The colours: ``light``, ``dark`` or ``print``, the last in black on white.
        keyboard: Draw the same tones on a piano keyboard beside each neck.
        fingering: Gives the fingers of a voicing, whose barres are drawn; those of the usual hand
            where it is None or gives None.
        a4: Whether the page is at least as long as A4; else it ends with its last line.

    Returns:
        The document (SVG 1.1), in ASCII; equal arguments give equal text.

    Raises:
        UnknownNameError: There is no such label or theme.
        ConditionError: Fingers are asked for and no hand has enough of them, or columns outside
            their range.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
        >>> text = sheet_svg(find_voicings(Chord.parse("C6"), ukulele)[:8], columns=4)
        >>> text.count('role="img"'), "stop at the first sign of pain" in text
        (8, True)
    """
    if columns is not None and not 1 <= columns <= _MOST_COLUMNS:
        raise ConditionError(
            name="columns", value=columns, expected=f"1 to {_MOST_COLUMNS} diagrams"
        )
    shown = list(voicings)
    look = Look(label=label, left_handed=left_handed, theme=THEMES[theme], keyboard=keyboard)
    held = [None if fingering is None else fingering(voicing) for voicing in shown]
    cells = [_cell(*pair, look, 0) for pair in zip(shown, held, strict=True)]
    widest = max((cell.width for cell in cells), default=_USUAL_WIDTH)
    if columns is None:
        room = _USUAL_WIDTH - 2 * _MARGIN
        least, across = _USUAL_WIDTH, max(1, int((room + _SPACE) // (widest + _SPACE)))
    else:
        least, across = _LEAST_WIDTH, columns
    width = max(least, 2 * _MARGIN + across * (widest + _SPACE) - _SPACE)
    head, foot = _head(shown, title, note, width, look.theme), _foot(width, look)
    rows: list[list[Picture]] = []
    for start in range(0, len(shown), across):
        group = slice(start, start + across)
        frets = max(map(box_frets, shown[group]))
        pairs = zip(shown[group], held[group], strict=True)
        rows.append([_cell(voicing, fingers, look, frets) for voicing, fingers in pairs])
    drawn = head.height + sum(_height(row) + _SPACE_BELOW for row in rows) + foot.height
    height = max(drawn, width * _A4_HEIGHT_MM / _A4_WIDTH_MM if a4 else 0.0)
    # What the page has left over stands between the rows.
    spare = min(_MOST_SPARE, (height - drawn) / max(1, len(rows)))
    step = (width - 2 * _MARGIN + _SPACE) / across
    marks = list(head.marks)
    parts = []
    y = head.height
    for first, row in zip(range(1, len(shown) + 1, across), rows, strict=True):
        for place, cell in enumerate(row):
            left = _MARGIN + place * step
            parts.append(cell.group(left + (step - _SPACE - cell.width) / 2, y))
            marks.append(Words(left, y + 8, str(first + place), 9, look.theme.faint, "start"))
        y += _height(row) + _SPACE_BELOW + spare
    marks += foot.moved(0.0, height - foot.height).marks
    page = attrs.evolve(head, height=height, marks=tuple(marks))
    scale = _A4_WIDTH_MM / width
    size = f"{number(width * scale)}mm {number(height * scale)}mm"
    # A group and not an image: screen readers then read the diagrams one by one.
    return document(page, shown=size, role="group", page=look.theme.page, parts=parts)


def _height(row: Sequence[Picture]) -> float:
    return max(cell.height for cell in row)


def _cell(voicing: Voicing, fingering: Fingering | None, look: Look, frets: int) -> Picture:
    added = f"adds {' '.join(voicing.added)}" if voicing.added else ""
    left_out = f"no {' '.join(voicing.left_out)}" if voicing.left_out else ""
    return neck_picture(
        voicing,
        look,
        subtitle=voicing.shape,
        remark=", ".join(filter(None, (added, left_out))),
        frets=frets,
        fingering=fingering,
    )


def _head(
    voicings: Sequence[Voicing], title: str | None, note: str, width: float, theme: Theme
) -> Picture:
    """Title, note and the spelling of the chord, over a rule."""
    chords = list(dict.fromkeys(voicing.chord for voicing in voicings))
    chord = chords[0] if len(chords) == 1 else None
    name = title if title is not None else chord.symbol if chord else "Voicings"
    room = width - 2 * _MARGIN
    marks: list[Mark] = []
    y = 44.0
    marks.append(
        Words(_MARGIN, y, name, size_within(name, room, 28), theme.ink, "start", bold=True)
    )
    y += 24
    if note:
        marks.append(Words(_MARGIN, y, note, size_within(note, room, 11), theme.faint, "start"))
        y += 20
    if chord is not None:
        marks += _spelling(chord, y, theme)
        y += 36
    marks.append(Line(_MARGIN, y, width - _MARGIN, y, 1.0, theme.wire))
    spelled = "" if chord is None else f" {chord.symbol}: {_spelled(chord)}."
    number_of = "1 voicing" if len(voicings) == 1 else f"{len(voicings)} voicings"
    description = f"{number_of}.{spelled} {CAUTION}"
    return Picture(width, y + 14, tuple(marks), title=name, description=description)


def _spelling(chord: Chord, y: float, theme: Theme) -> Iterator[Mark]:
    """Each note of the chord over its degree, and a bass of its own."""
    x = _MARGIN
    for note, degree in zip(chord.notes, chord.degrees, strict=True):
        yield Words(x, y, str(note), 15, theme.ink, "start", bold=True)
        yield Words(x, y + 16, str(degree), 11, theme.faint, "start")
        x += _SPELLED
    if chord.bass is not None:
        yield Words(x, y, str(chord.bass), 15, theme.ink, "start", bold=True)
        yield Words(x, y + 16, "bass", 11, theme.faint, "start")


def _spelled(chord: Chord) -> str:
    pairs = zip(chord.notes, chord.degrees, strict=True)
    bass = f", over {chord.bass}" if chord.bass is not None else ""
    return ", ".join(f"{note} {degree}" for note, degree in pairs) + bass


def _foot(width: float, look: Look) -> Picture:
    """What the signs mean, and the word of caution: beside them, or below if there is no room."""
    theme = look.theme
    y = _FOOT / 2 - 2
    x = _MARGIN + RADIUS
    marks: list[Mark] = [Line(_MARGIN, y - 16, width - _MARGIN, y - 16, 1.0, theme.wire)]
    open_string = Paint(fill=theme.page, edge=theme.ink, text=theme.ink)
    signs = (
        (theme.root, True, "root"),
        (theme.tone, False, "other tone"),
        (open_string, False, "open string"),
    )
    for paint, square, words in signs:
        marks.append(tone_mark(x, y, 6.5, paint, square=square))
        marks.append(Words(x + 11, y, words, _FOOT_SIZE, theme.ink, "start"))
        x += 28 + 5.4 * len(words)
    marks += cross(x, y, theme)
    marks.append(Words(x + 11, y, "muted", _FOOT_SIZE, theme.ink, "start"))
    x += 28 + 5.4 * len("muted")
    height = _FOOT
    right = width - _MARGIN
    for words in (_KEYBOARDS, CAUTION) if look.keyboard else (CAUTION,):
        wide = _FOOT_SIZE * width_in_ems(words)
        if x + wide > right:
            x, y, height = _MARGIN, y + _FOOT_LINE, height + _FOOT_LINE
        if words == CAUTION:
            marks.append(Words(right, y, words, _FOOT_SIZE, theme.ink, "end"))
        else:
            marks.append(Words(x, y, words, _FOOT_SIZE, theme.ink, "start"))
        x += wide + _SPACE
    return Picture(width, height, tuple(marks))
