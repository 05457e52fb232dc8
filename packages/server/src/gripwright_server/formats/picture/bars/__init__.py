"""Bars on paper: in which rows they stand, what is on their lines and what is between them."""

from gripwright_server.formats.picture.bars.content import smallest_symbol
from gripwright_server.formats.picture.bars.rhythm import has_rhythm
from gripwright_server.formats.picture.bars.row import drawn_row, row_height
from gripwright_server.formats.picture.bars.rows import PlacedBar, Row, rows_of

__all__ = [
    "PlacedBar",
    "Row",
    "drawn_row",
    "has_rhythm",
    "row_height",
    "rows_of",
    "smallest_symbol",
]
