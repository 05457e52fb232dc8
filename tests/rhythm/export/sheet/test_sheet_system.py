"""Sheets as poppler reads them: its programs `pdftoppm`, `pdffonts`, `pdfinfo` and `pdftotext`."""

import shutil
import subprocess
from pathlib import Path

import pytest
from PIL import Image

from gripwright.meter import Meter
from gripwright_rhythm.export.sheet import SheetPdfExporter
from gripwright_rhythm.export.sheet.ladder_sheet import ladder_pages
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.export.sheet.pdf import pages_pdf
from tests.rhythm.export.sheet.drawn_pages import axes
from tests.rhythm.export.sheet.forms import BLUES, THIRTY_TWO, drill

pytestmark = pytest.mark.system

DOTS_PER_INCH = 100


def poppler(program: str, *arguments: str) -> str:
    """What a program of poppler prints; it must not complain."""
    done = subprocess.run(
        [str(shutil.which(program)), *arguments], check=True, capture_output=True, timeout=120
    )
    assert done.stderr == b""
    return done.stdout.decode()


def drawn(document: bytes, folder: Path) -> list[Image.Image]:
    """The pages of a document as poppler draws them."""
    path = folder / "sheet.pdf"
    path.write_bytes(document)
    poppler("pdftoppm", "-r", str(DOTS_PER_INCH), "-png", str(path), str(folder / "page"))
    return [Image.open(one).convert("L") for one in sorted(folder.glob("page*.png"))]


@pytest.mark.parametrize("paper", PAPERS)
def test_thirty_two_bars_are_one_page(paper: str, tmp_path: Path) -> None:
    """On both papers, with ink where the layout has it and none in the margins."""
    exporter = SheetPdfExporter(paper=paper)
    score = drill(THIRTY_TWO, "1' 3", ending=True)
    (image,) = drawn(exporter.export(score), tmp_path)
    size = PAPERS[paper]
    scale = DOTS_PER_INCH / 72
    assert abs(image.width - size.width * scale) <= 1
    assert abs(image.height - size.height * scale) <= 1
    margin = round((size.margin - 4) * scale)
    assert image.crop((0, 0, margin, image.height)).getextrema() == (255, 255)
    assert image.crop((0, 0, image.width, margin)).getextrema() == (255, 255)
    (page,) = exporter.pages((score,))
    found = axes(page)
    assert len(found) == 33
    # Bars 17 to 20 have a chord each.
    for axis in found[16:20]:
        # A short chord is black from 1 to 2, a long one grey from 3 to the end, white between.
        quarter = (axis.right - axis.left) / 4
        at = [axis.left + quarter * part for part in (0.5, 1.5, 2.5)]
        short, silent, long = (
            image.getpixel((round(x * scale), round((axis.y - 5) * scale))) for x in at
        )
        assert isinstance(short, int)
        assert isinstance(silent, int)
        assert isinstance(long, int)
        assert short < 40
        assert 150 < long < 230
        assert silent > 250


def test_only_our_face_is_used_and_it_is_embedded(tmp_path: Path) -> None:
    """One font, a subset, with a table that gives its texts back."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(SheetPdfExporter().export(drill(BLUES, "1 2.5")))
    rows = poppler("pdffonts", str(path)).splitlines()[2:]
    assert rows
    for row in rows:
        assert "GripwrightSansCondensed" in row
        assert row.split()[-5:-2] == ["yes", "yes", "yes"]


def test_texts_can_be_read_back(tmp_path: Path) -> None:
    """Title, symbols with their signs, and cautions are texts, not drawings.

    Not so the double accidentals: reportlab writes what a sign means in four digits, and theirs
    need five. They are drawn all the same.
    """
    path = tmp_path / "sheet.pdf"
    path.write_bytes(SheetPdfExporter(label="note").export(drill("| F#m7 | Bbmaj7 |", "1")))
    text = poppler("pdftotext", "-layout", str(path), "-")
    for words in ("Practice sheet", "F\u266fm7", "B\u266dmaj7", "licensed clinician"):
        assert words in text


def test_bookmarks_and_pages_of_several_scores(tmp_path: Path) -> None:
    """Answers overleaf make two pages of each score; nothing in the file says when it was made."""
    scores = [drill(BLUES), drill("title: Another\n| C6 |")]
    document = SheetPdfExporter(grips="overleaf", paper="letter").export_all(scores)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(document)
    told = poppler("pdfinfo", str(path))
    assert "Pages:           4" in told
    assert "(letter)" in told
    assert "2000" in told  # reportlab's fixed date, where it is invariant


def test_ladder_is_drawn(tmp_path: Path) -> None:
    """Two pages with ink on them."""
    images = drawn(pages_pdf(ladder_pages(Meter(4, 4))), tmp_path)
    assert len(images) == 2
    for image in images:
        assert image.getextrema()[0] < 10  # type: ignore[operator]
