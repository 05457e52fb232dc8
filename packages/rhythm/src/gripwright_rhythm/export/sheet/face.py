"""The typeface of sheets, which is shipped with them, and how wide texts are in it.

One file serves both weights: bold texts are drawn with an outline of their own colour.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, Final

FAMILY: Final = "Gripwright Sans Condensed"
FONT_NAME: Final = "GripwrightSansCondensed"
FONT_FILE: Final = Path(__file__).with_name("font") / f"{FONT_NAME}.ttf"
BOLD: Final = 0.035
"""Width of the outline of bold texts, by their size."""

_ROUNDING: Final = 1e-6
_CUT: Final = "\u2026"


@cache
def font() -> Any:  # noqa: ANN401 - reportlab ships no types
    """The font as reportlab reads it; known to reportlab by its name from then on."""
    # Late on purpose: plugins are loaded without what their formats need.
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415

    read = TTFont(FONT_NAME, str(FONT_FILE))
    pdfmetrics.registerFont(read)
    return read


def readable(text: str) -> str:
    r"""The text on one line, with U+FFFD for signs that no page can show.

    Example:
        >>> readable("one\ntwo\ud800")
        'one two\ufffd'
    """
    line = " ".join(text.split())
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in line)


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a text is, in points.

    Args:
        text: The text, which is `readable`.
        size: Size of the font in points.
        bold: Whether it is drawn with an outline.

    Example:
        >>> text_width("Dm7", 10) < text_width("Dm7", 10, bold=True) < 30
        True
    """
    if not text:
        return 0.0
    width: float = font().stringWidth(text, size)
    return width + BOLD * size * bold


def fitted(text: str, room: float, most: float, least: float, *, bold: bool = False) -> float:
    """The largest size at which a text keeps within its room, from `least` to `most` points."""
    wide = text_width(text, 1.0, bold=bold)
    return min(most, max(least, room / wide)) if wide else most


def cut(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """The text as far as it fits its room, with an ellipsis where the rest is left out."""
    if text_width(text, size, bold=bold) <= room + _ROUNDING:
        return text
    kept = text
    while kept and text_width(kept + _CUT, size, bold=bold) > room:
        kept = kept[:-1]
    return kept.rstrip() + _CUT


def lines_of(text: str, room: float, size: float) -> list[str]:
    """The text broken between words into lines that fit their room.

    Args:
        text: The text, which is `readable`.
        room: Width of a line in points.
        size: Size of the font in points.

    Example:
        >>> lines_of("one two three", text_width("one two", 8) + 1, 8)
        ['one two', 'three']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(cut(word, room, size))
    return lines
