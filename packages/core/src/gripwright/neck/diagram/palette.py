"""Themes: the colours of pictures.

The colours of the two screen themes are chosen from the eight of M. Okabe and K. Ito, "Color
Universal Design (CUD): How to make figures and presentations that are friendly to colorblind
people" (2002, revised 2008); which stands for what is our own choice. Print is pure black on
white. No meaning hangs on a colour alone: a root is square, and every tone can carry its label.
"""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.named import Named

BLACK: Final = "#000000"
WHITE: Final = "#FFFFFF"
ORANGE: Final = "#E69F00"
SKY_BLUE: Final = "#56B4E9"
BLUE: Final = "#0072B2"


@attrs.frozen
class Paint:
    """How a mark is painted.

    Args:
        fill: Colour of its face.
        edge: Colour of its outline.
        text: Colour of the label on its face.

    Example:
        >>> Paint(fill="#FFFFFF", edge="#000000", text="#000000").edge
        '#000000'
    """

    fill: str
    edge: str
    text: str


@attrs.frozen
class Theme:
    """The colours of a picture, as ``#RRGGBB``.

    Args:
        name: Its name.
        page: The ground.
        ink: Titles and marks.
        faint: Texts of less weight.
        wire: Strings and frets.
        nut: The nut, or the capo.
        tone: A sounding tone.
        root: The root of the chord, which is also square.
        barre: A finger that lies over several strings.
        white_key: A white key of a piano.
        black_key: A black key.
        key_edge: The outline of keys.
        key_tone: A sounding tone on a key, of either colour.
        key_root: The root on a key.

    Example:
        >>> THEMES["print"].name, THEMES["print"].page
        ('print', '#FFFFFF')
    """

    name: str
    page: str
    ink: str
    faint: str
    wire: str
    nut: str
    tone: Paint
    root: Paint
    barre: str
    white_key: str
    black_key: str
    key_edge: str
    key_tone: Paint
    key_root: Paint


_THEMES: Final = (
    Theme(
        name="light",
        page=WHITE,
        ink="#1A1A1A",
        faint="#555555",
        wire="#6B6B6B",
        nut="#1A1A1A",
        tone=Paint(fill=BLUE, edge=BLUE, text=WHITE),
        root=Paint(fill=ORANGE, edge=BLACK, text=BLACK),
        barre="#8DB3CF",
        white_key=WHITE,
        black_key="#2B2B2B",
        key_edge="#444444",
        key_tone=Paint(fill=BLUE, edge=WHITE, text=WHITE),
        key_root=Paint(fill=ORANGE, edge=BLACK, text=BLACK),
    ),
    Theme(
        name="dark",
        page="#16181C",
        ink="#F2F2F2",
        faint="#B4B8BF",
        wire="#8A9099",
        nut="#F2F2F2",
        tone=Paint(fill=SKY_BLUE, edge=SKY_BLUE, text=BLACK),
        root=Paint(fill=ORANGE, edge=WHITE, text=BLACK),
        barre="#35668A",
        white_key="#D9DBDF",
        black_key="#2A2D33",
        key_edge="#70757D",
        key_tone=Paint(fill=SKY_BLUE, edge=BLACK, text=BLACK),
        key_root=Paint(fill=ORANGE, edge=BLACK, text=BLACK),
    ),
    Theme(
        name="print",
        page=WHITE,
        ink=BLACK,
        faint=BLACK,
        wire=BLACK,
        nut=BLACK,
        tone=Paint(fill=BLACK, edge=BLACK, text=WHITE),
        root=Paint(fill=WHITE, edge=BLACK, text=BLACK),
        barre=BLACK,
        white_key=WHITE,
        black_key=BLACK,
        key_edge=BLACK,
        key_tone=Paint(fill=BLACK, edge=WHITE, text=WHITE),
        key_root=Paint(fill=WHITE, edge=BLACK, text=BLACK),
    ),
)

THEMES: Final[Named[Theme]] = Named(
    {theme.name: theme for theme in _THEMES},
    kind="theme",
    hint=f"known are {', '.join(theme.name for theme in _THEMES)}",
)
"""Every theme, by name."""
