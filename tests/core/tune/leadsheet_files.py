"""MusicXML of our own invention, in the ways in which programs write it."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Final

SAMPLES: Final = Path(__file__).parents[2] / "data" / "musicxml"

DOCTYPE: Final = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 3.1 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">'
)
ATTRIBUTES: Final = (
    "<attributes><divisions>2</divisions><key><fifths>0</fifths></key>"
    "<time><beats>4</beats><beat-type>4</beat-type></time></attributes>"
)
CONTAINER: Final = "<container><rootfiles><rootfile full-path='score.xml'/></rootfiles></container>"


def harmony(kind: str, *, root: str = "C", alter: int = 0, more: str = "", text: str = "") -> str:
    """A harmony element."""
    shown = f' text="{text}"' if text else ""
    return (
        f"<harmony><root><root-step>{root}</root-step><root-alter>{alter}</root-alter></root>"
        f"<kind{shown}>{kind}</kind>{more}</harmony>"
    )


def degree(value: int, alter: int, type_: str) -> str:
    """A degree element."""
    return (
        f"<degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>"
        f"<degree-type>{type_}</degree-type></degree>"
    )


def rest(duration: int = 8) -> str:
    """A rest, of a whole bar of 4/4 where nothing else is said."""
    return f"<note><rest/><duration>{duration}</duration></note>"


def note(step: str, octave: int, duration: int, more: str = "") -> str:
    """A note; divisions are halves of a quarter."""
    return (
        f"<note><pitch><step>{step}</step><octave>{octave}</octave></pitch>"
        f"<duration>{duration}</duration>{more}</note>"
    )


def words(text: str) -> str:
    """Words above the staff."""
    return f"<direction><direction-type><words>{text}</words></direction-type></direction>"


def score(*measures: str, head: str = "") -> bytes:
    """A score of one part in 4/4; the first measure gets the signatures."""
    bars = "".join(
        f'<measure number="{number}">{"" if number > 1 else ATTRIBUTES}{measure}</measure>'
        for number, measure in enumerate(measures, 1)
    )
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>{DOCTYPE}<score-partwise version="3.1">{head}'
        '<part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list>'
        f'<part id="P1">{bars}</part></score-partwise>'
    ).encode()


def packed(*members: tuple[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A compressed file of some members."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", method) as archive:
        for name, data in members:
            archive.writestr(name, data)
    return file.getvalue()
