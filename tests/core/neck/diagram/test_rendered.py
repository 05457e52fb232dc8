"""Diagrams as a browser shows them: headless Chromium, at 120 px and as large as in print."""

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from gripwright import Chord, Voicing, find_voicings
from gripwright.neck.diagram import THEMES, neck_svg, sheet_svg
from gripwright.neck.diagram.neck import Look, neck_picture
from tests.core.neck.diagram.drawn import BANJO, GUITAR, at, dots, grip, parsed

pytestmark = pytest.mark.system

Colour = tuple[int, int, int]
Render = Callable[[str, int, int], Image.Image]

SMALL = 120
# A cell of the sheet, about 33 mm wide, at 300 dots to the inch.
PRINT = 390


@pytest.fixture
def render(tmp_path: Path) -> Render:
    """Show a document in a window of its own and take a picture of it."""

    def call(svg: str, width: int, height: int) -> Image.Image:
        page = tmp_path / "page.svg"
        page.write_text(svg, encoding="ascii")
        shot = tmp_path / "shot.png"
        subprocess.run(
            [
                str(shutil.which("chromium")),
                *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic"),
                *("--no-first-run", "--disable-background-networking"),
                *("--disable-component-update", "--disable-sync", "--hide-scrollbars"),
                f"--user-data-dir={tmp_path / 'profile'}",
                "--force-device-scale-factor=1",
                f"--window-size={width},{height}",
                f"--screenshot={shot}",
                page.as_uri(),
            ],
            check=True,
            capture_output=True,
            timeout=120,
        )
        return Image.open(shot).convert("RGB")

    return call


def _rgb(colour: str) -> Colour:
    red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    return red, green, blue


def _near(one: Colour, other: Colour) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) <= 24


def _at(image: Image.Image, x: float, y: float) -> Colour:
    red, green, blue = image.getpixel((round(x), round(y)))  # type: ignore[misc]
    return red, green, blue


def _shown(render: Render, voicing: Voicing, width: int, theme: str) -> tuple[Image.Image, float]:
    picture = neck_picture(voicing, Look(label="none", theme=THEMES[theme]))
    scale = width / picture.width
    text = neck_svg(voicing, label="none", theme=theme, width=width)
    # A window is never as narrow as a diagram: what lies beside it is left aside.
    return render(text, max(width, 500), max(500, round(picture.height * scale) + 1)), scale


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("width", [SMALL, PRINT])
def test_dots_are_painted_where_they_lie(render: Render, width: int, theme: str) -> None:
    """Each dot has its colour at its middle, and the page has its own between the strings."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    image, scale = _shown(render, voicing, width, theme)
    root = parsed(neck_svg(voicing, label="none", theme=theme))
    circles = [one for one in dots(root) if "cx" in one.attrib]
    assert len(circles) == 3
    tone, page = _rgb(THEMES[theme].tone.fill), _rgb(THEMES[theme].page)
    for circle in circles:
        x, y = at(circle, "cx"), at(circle, "cy")
        assert _near(_at(image, x * scale, y * scale), tone)
        # Half a string and half a fret away nothing is drawn.
        assert _near(_at(image, (x - 9) * scale, (y + 6) * scale), page)
    (square,) = [one for one in dots(root) if "cx" not in one.attrib]
    side = at(square, "width")
    left, top = at(square, "x"), at(square, "y")
    root_fill = _rgb(THEMES[theme].root.fill)
    assert _near(_at(image, (left + side / 2) * scale, (top + side / 2) * scale), root_fill)
    # A square is filled near its corners, where a circle is not.
    for across, down in ((0.2, 0.2), (0.8, 0.8)):
        place = ((left + across * side) * scale, (top + down * side) * scale)
        assert _near(_at(image, *place), root_fill)


@pytest.mark.parametrize("width", [SMALL, PRINT])
def test_labels_can_be_read(render: Render, width: int) -> None:
    """In each dot a good part of the face is its label, in the label's colour."""
    voicing = grip("C13", "8-x-8-9-10-x")
    text = neck_svg(voicing, theme="print", width=width)
    root = parsed(neck_svg(voicing, theme="print"))
    scale = width / float(root.attrib["viewBox"].split()[2])
    image = render(text, 500, 600)
    for circle in [one for one in dots(root) if "cx" in one.attrib]:
        x, y, radius = (at(circle, name) * scale for name in ("cx", "cy", "r"))
        reach = range(-round(radius * 0.6), round(radius * 0.6) + 1)
        faces = [_at(image, x + across, y + down) for across in reach for down in reach]
        light = sum(sum(face) > 3 * 128 for face in faces) / len(faces)
        assert 0.1 < light < 0.6


@pytest.mark.parametrize("shape", ["0-0-0-0-0", "0-5-5-5-5"])
def test_short_string_is_not_painted_below_its_nut(render: Render, shape: str) -> None:
    """Left of the first whole string of a banjo the page is bare where there is no string."""
    voicing = grip("G" if shape == "0-0-0-0-0" else "C", shape, BANJO)
    image, scale = _shown(render, voicing, PRINT, "light")
    picture = neck_picture(voicing, Look(label="none"))
    column = [_at(image, 26 * scale, y) for y in range(round(picture.height * scale))]
    inked = sum(not _near(pixel, (255, 255, 255)) for pixel in column) / len(column)
    assert (inked < 0.25) == (shape == "0-0-0-0-0")


@pytest.mark.parametrize("keyboard", [False, True])
def test_sheet_fills_its_page(render: Render, *, keyboard: bool) -> None:
    """Head, every cell and foot have ink, and the margins have none."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR, strings=(5, 4, 3, 2))[:8]
    text = sheet_svg(table, theme="print", keyboard=keyboard)
    width, height = 794, 1123
    image = render(text, width, height)
    grey = image.convert("L")
    scale = width / float(parsed(text).attrib["viewBox"].split()[2])
    for match in re.finditer(r"translate\(([\d.]+) ([\d.]+)\)", text):
        x, y = (float(part) * scale for part in match.groups())
        darkest, _ = grey.crop((round(x), round(y), round(x) + 110, round(y) + 150)).getextrema()
        assert darkest < 64  # type: ignore[operator]
    assert grey.crop((0, 0, round(38 * scale), height)).getextrema() == (255, 255)
    assert grey.crop((0, 1080, width, 1110)).getextrema()[0] < 64  # type: ignore[operator]
