"""Pictures: shapes and words on a plane, and how they are written as SVG.

What is drawn is a value first, so that it can be mirrored, measured and put beside other pictures;
only at the end does it become text. Colours stand on each shape, with no style sheet, so that
pictures of different themes can share a page. Equal pictures give equal bytes, all of them ASCII
(SVG 1.1, XML 1.0).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, Literal, TypeAlias

import attrs

FONTS: Final = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"
"""Upright fonts without serifs, the narrower first."""

Anchor: TypeAlias = Literal["start", "middle", "end"]

_NO_XML: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_ESCAPES: Final = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}
_OPPOSITE: Final[dict[Anchor, Anchor]] = {"start": "end", "middle": "middle", "end": "start"}
_PX_A_UNIT: Final = 1.5
# How wide a sign is by its size, about: the bold faces of the fonts named above.
_SIGN_WIDTHS: Final = {
    **dict.fromkeys("MWmw@%", 0.88),
    **dict.fromkeys("ABCDEFGHJKLNOPQRSTUVXYZ", 0.7),
    **dict.fromkeys("Iijltf.,:;'()|! -/", 0.34),
}
_USUAL_WIDTH: Final = 0.58
_FOREIGN_WIDTH: Final = 1.0
HALF_HEIGHT: Final = 0.36
"""Half the height of capitals and digits, by which a text is lowered to stand around its middle."""


@attrs.frozen
class Line:
    """A straight line with round ends.

    Args:
        x1: Start.
        y1: Start.
        x2: End.
        y2: End.
        width: Its width.
        colour: Its colour.

    Example:
        >>> Line(0, 0, 10, 0, 1.6, "#000000").mirrored(30).x1
        30
    """

    x1: float
    y1: float
    x2: float
    y2: float
    width: float
    colour: str

    def mirrored(self, width: float) -> Line:
        """The same line in a mirror at the middle of a plane of that width."""
        return attrs.evolve(self, x1=width - self.x1, x2=width - self.x2)

    def moved(self, x: float, y: float) -> Line:
        """The same line farther right and down."""
        return Line(self.x1 + x, self.y1 + y, self.x2 + x, self.y2 + y, self.width, self.colour)

    def scaled(self, by: float) -> Line:
        """The same line so many times as large, seen from the corner of the plane."""
        x1, y1, x2, y2 = (one * by for one in (self.x1, self.y1, self.x2, self.y2))
        return Line(x1, y1, x2, y2, self.width * by, self.colour)

    def svg(self) -> str:
        """The line as an SVG element."""
        # A line drawn backwards is the same line: written one way round, a mirror changes no byte.
        (x1, y1), (x2, y2) = sorted([(self.x1, self.y1), (self.x2, self.y2)])
        return (
            f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
            f' stroke="{self.colour}" stroke-width="{number(self.width)}" stroke-linecap="round"/>'
        )


@attrs.frozen
class Disc:
    """A circle.

    Args:
        x: Its middle.
        y: Its middle.
        radius: To the middle of its outline.
        fill: Colour of its face.
        edge: Colour of its outline.
        edge_width: Width of its outline.

    Example:
        >>> Disc(10, 5, 2, "#FFFFFF", "#000000").moved(1, 2).y
        7
    """

    x: float
    y: float
    radius: float
    fill: str
    edge: str
    edge_width: float = 1.0

    def mirrored(self, width: float) -> Disc:
        """The same circle in a mirror at the middle of a plane of that width."""
        return attrs.evolve(self, x=width - self.x)

    def moved(self, x: float, y: float) -> Disc:
        """The same circle farther right and down."""
        return attrs.evolve(self, x=self.x + x, y=self.y + y)

    def scaled(self, by: float) -> Disc:
        """The same circle so many times as large, seen from the corner of the plane."""
        x, y, radius = self.x * by, self.y * by, self.radius * by
        return Disc(x, y, radius, self.fill, self.edge, self.edge_width * by)

    def svg(self) -> str:
        """The circle as an SVG element."""
        return (
            f'<circle cx="{number(self.x)}" cy="{number(self.y)}" r="{number(self.radius)}"'
            f' fill="{self.fill}" stroke="{self.edge}" stroke-width="{number(self.edge_width)}"/>'
        )


@attrs.frozen
class Block:
    """A rectangle, which may have round corners.

    Args:
        x: Its middle.
        y: Its middle.
        width: To the middle of its outline.
        height: To the middle of its outline.
        fill: Colour of its face.
        edge: Colour of its outline.
        edge_width: Width of its outline.
        corner: Radius of its corners.

    Example:
        >>> Block(10, 5, 4, 2, "#FFFFFF", "#000000").mirrored(30).x
        20
    """

    x: float
    y: float
    width: float
    height: float
    fill: str
    edge: str
    edge_width: float = 1.0
    corner: float = 0.0

    def mirrored(self, width: float) -> Block:
        """The same rectangle in a mirror at the middle of a plane of that width."""
        return attrs.evolve(self, x=width - self.x)

    def moved(self, x: float, y: float) -> Block:
        """The same rectangle farther right and down."""
        return attrs.evolve(self, x=self.x + x, y=self.y + y)

    def scaled(self, by: float) -> Block:
        """The same rectangle so many times as large, seen from the corner of the plane."""
        x, y, width, height = (one * by for one in (self.x, self.y, self.width, self.height))
        edge_width, corner = self.edge_width * by, self.corner * by
        return Block(x, y, width, height, self.fill, self.edge, edge_width, corner)

    def svg(self) -> str:
        """The rectangle as an SVG element."""
        left, top = self.x - self.width / 2, self.y - self.height / 2
        return (
            f'<rect x="{number(left)}" y="{number(top)}" width="{number(self.width)}"'
            f' height="{number(self.height)}" rx="{number(self.corner)}" fill="{self.fill}"'
            f' stroke="{self.edge}" stroke-width="{number(self.edge_width)}"/>'
        )


@attrs.frozen
class Words:
    """A line of text.

    Args:
        x: Where it stands, by its anchor.
        y: The middle of its capitals.
        text: Any text; what XML cannot hold is written as U+FFFD.
        size: Size of the font.
        colour: Its colour.
        anchor: Whether it starts, stands or ends at `x`.
        bold: Whether it is heavy.

    Example:
        >>> Words(0, 5, "Cmaj7", 12, "#000000", "start").mirrored(30).anchor
        'end'
    """

    x: float
    y: float
    text: str
    size: float
    colour: str
    anchor: Anchor = "middle"
    bold: bool = False

    def mirrored(self, width: float) -> Words:
        """The same text, which stays readable, where a mirror would put it."""
        return attrs.evolve(self, x=width - self.x, anchor=_OPPOSITE[self.anchor])

    def moved(self, x: float, y: float) -> Words:
        """The same text farther right and down."""
        return attrs.evolve(self, x=self.x + x, y=self.y + y)

    def scaled(self, by: float) -> Words:
        """The same text so many times as large, seen from the corner of the plane."""
        return attrs.evolve(self, x=self.x * by, y=self.y * by, size=self.size * by)

    def svg(self) -> str:
        """The text as an SVG element."""
        weight = ' font-weight="bold"' if self.bold else ""
        baseline = self.y + HALF_HEIGHT * self.size
        return (
            f'<text x="{number(self.x)}" y="{number(baseline)}" font-size="{number(self.size)}"'
            f' text-anchor="{self.anchor}"{weight} fill="{self.colour}">{escaped(self.text)}</text>'
        )


Mark: TypeAlias = Line | Disc | Block | Words
"""Anything drawn."""


@attrs.frozen
class Picture:
    """Marks on a plane whose corner at the top left is (0, 0), later ones over earlier ones.

    Args:
        width: Width of the plane.
        height: Height of the plane.
        marks: What is drawn.
        title: What it is, in a few words, for those who cannot see it.
        description: What it shows, in words.

    Example:
        >>> line = Line(1, 2, 3, 2, width=1, colour="#000000")
        >>> picture = Picture(10, 4, (line,), title="a line")
        >>> picture.mirrored().marks[0].x1
        9
        >>> picture.mirrored().mirrored() == picture
        True
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    description: str = ""

    def mirrored(self) -> Picture:
        """The picture in a mirror, its texts still readable."""
        return attrs.evolve(self, marks=tuple(mark.mirrored(self.width) for mark in self.marks))

    def moved(self, x: float, y: float) -> Picture:
        """The picture farther right and down, on a plane that grows with it."""
        marks = tuple(mark.moved(x, y) for mark in self.marks)
        return attrs.evolve(self, width=self.width + x, height=self.height + y, marks=marks)

    def scaled(self, by: float) -> Picture:
        """The picture so many times as large.

        Example:
            >>> Picture(10, 4, (Disc(5, 2, 1, "#000000", "#000000"),)).scaled(2).marks[0].radius
            2
        """
        marks = tuple(mark.scaled(by) for mark in self.marks)
        return attrs.evolve(self, width=self.width * by, height=self.height * by, marks=marks)

    def group(self, x: float, y: float) -> str:
        """The picture as a part of a larger one, as an SVG element.

        Args:
            x: Where its corner comes to stand.
            y: Where its corner comes to stand.
        """
        place = f'transform="translate({number(x)} {number(y)})"'
        return f'<g {place} role="img">\n{self.inside()}</g>\n'

    def svg(self, *, page: str, width: float | None = None) -> str:
        """The picture as an SVG document.

        Args:
            page: Colour of the ground.
            width: Width at which it is shown in px; one and a half px a unit where it is None.

        Returns:
            The text, which ends with a line feed.
        """
        scale = _PX_A_UNIT if width is None else width / self.width
        shown = f"{number(self.width * scale)} {number(self.height * scale)}"
        return document(self, shown=shown, role="img", page=page, parts=())

    def inside(self, ground: str = "") -> str:
        """Title, description and marks as SVG elements.

        Args:
            ground: An element that lies under the marks.
        """
        head = f"<title>{escaped(self.title)}</title>\n<desc>{escaped(self.description)}</desc>\n"
        return head + ground + "".join(f"{mark.svg()}\n" for mark in self.marks)


def document(picture: Picture, *, shown: str, role: str, page: str, parts: Iterable[str]) -> str:
    """A whole SVG document.

    Args:
        picture: What lies at the bottom; its size is that of the document.
        shown: Width and height at which it is shown, with a space between, each with its unit.
        role: What it is to a screen reader (WAI-ARIA).
        page: Colour of the ground.
        parts: Elements over the picture, from `Picture.group`.
    """
    width, height = shown.split()
    across, down = number(picture.width), number(picture.height)
    ground = f'<rect width="{across}" height="{down}" fill="{page}"/>\n'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f' viewBox="0 0 {across} {down}" role="{role}" font-family="{FONTS}">\n'
        f"{picture.inside(ground)}{''.join(parts)}</svg>\n"
    )


def escaped(text: str) -> str:
    r"""A text for XML in ASCII; characters that XML cannot hold become U+FFFD.

    Example:
        >>> escaped('<b>"\x00&')
        '&lt;b&gt;&quot;&#65533;&amp;'
    """
    readable = _NO_XML.sub("\ufffd", text)
    marked = "".join(_ESCAPES.get(sign, sign) for sign in readable)
    return marked.encode("ascii", "xmlcharrefreplace").decode("ascii")


def number(value: float) -> str:
    """A coordinate, to a hundredth of a unit.

    Example:
        >>> number(12.0), number(0.1 + 0.2), number(-0.001)
        ('12', '0.3', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def size_within(text: str, room: float, most: float) -> float:
    """The size at which a text keeps within its room.

    Args:
        text: The text.
        room: The width there is.
        most: The size it has where there is room enough.
    """
    return min(most, room / max(_USUAL_WIDTH, width_in_ems(text)))


def width_in_ems(text: str) -> float:
    """About how wide a text is, by the size of its font.

    Example:
        >>> round(width_in_ems("b13"), 2)
        1.74
    """
    return sum(
        _SIGN_WIDTHS.get(sign, _USUAL_WIDTH if sign.isascii() else _FOREIGN_WIDTH) for sign in text
    )
