"""Diagrams of the neck, as text and as pictures; and what pictures are made of.

Example:
    >>> from gripwright import Chord, Instrument, Voicing, diagram
    >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
    >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
    >>> diagram.neck_svg(grip)[:4]
    '<svg'
"""

from gripwright.neck.diagram.keyboard import close_position
from gripwright.neck.diagram.label import LABELS
from gripwright.neck.diagram.neck import Look, describe, neck_picture
from gripwright.neck.diagram.notebook import table_html
from gripwright.neck.diagram.palette import THEMES, Paint, Theme
from gripwright.neck.diagram.picture import (
    HALF_HEIGHT,
    Anchor,
    Block,
    Disc,
    Line,
    Mark,
    Picture,
    Words,
    escaped,
    number,
)
from gripwright.neck.diagram.sheet import sheet_svg
from gripwright.neck.diagram.svg import neck_svg
from gripwright.neck.diagram.text import DOT, box, box_width, under_strings
from gripwright.neck.diagram.tone import cross, tone_mark
from gripwright.neck.diagram.window import Window, box_frets, window_of

__all__ = [
    "DOT",
    "HALF_HEIGHT",
    "LABELS",
    "THEMES",
    "Anchor",
    "Block",
    "Disc",
    "Line",
    "Look",
    "Mark",
    "Paint",
    "Picture",
    "Theme",
    "Window",
    "Words",
    "box",
    "box_frets",
    "box_width",
    "close_position",
    "cross",
    "describe",
    "escaped",
    "neck_picture",
    "neck_svg",
    "number",
    "sheet_svg",
    "table_html",
    "tone_mark",
    "under_strings",
    "window_of",
]
