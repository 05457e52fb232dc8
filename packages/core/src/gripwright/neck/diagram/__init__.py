"""Diagrams of the neck, as text and as pictures."""

from gripwright.neck.diagram.keyboard import close_position
from gripwright.neck.diagram.label import LABELS
from gripwright.neck.diagram.notebook import table_html
from gripwright.neck.diagram.palette import THEMES, Theme
from gripwright.neck.diagram.sheet import sheet_svg
from gripwright.neck.diagram.svg import describe, neck_svg
from gripwright.neck.diagram.text import DOT, box, box_width, under_strings
from gripwright.neck.diagram.window import Window, box_frets, window_of

__all__ = [
    "DOT",
    "LABELS",
    "THEMES",
    "Theme",
    "Window",
    "box",
    "box_frets",
    "box_width",
    "close_position",
    "describe",
    "neck_svg",
    "sheet_svg",
    "table_html",
    "under_strings",
    "window_of",
]
