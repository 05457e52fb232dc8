"""The formats of an answer, for every surface: JSON, rows, cells, text, lead sheets, pictures.

Each is a function from an operation, its request and its result to pieces of text. Machine formats
are ASCII, and equal answers give equal text. Rows are written as they are made, so that a long
answer begins at once and takes no room.
"""

from gripwright_server.formats.format import FORMATS, Format
from gripwright_server.formats.media import MEDIA, Media

__all__ = ["FORMATS", "MEDIA", "Format", "Media"]
