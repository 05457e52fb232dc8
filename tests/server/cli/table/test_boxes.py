"""Diagrams side by side, and the names below them."""

import pytest

from gripwright import Chord, Instrument, find_voicings
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.boxes import box_lines, fitting


@pytest.mark.parametrize(
    ("names", "room", "text"),
    [
        ((), 9, ""),
        (("close",), 5, "close"),
        (("close", "cluster"), 14, "close, cluster"),
        (("close", "cluster"), 13, "close, …"),
        (("close", "shell", "spread"), 15, "close, shell, …"),
        (("triad-over-bass", "octave-doubled"), 16, "triad-over-bass…"),
        (("octave-doubled",), 12, "octave-doub…"),
    ],
)
def test_names_are_shown_whole_as_long_as_they_fit(
    names: tuple[str, ...], room: int, text: str
) -> None:
    """More than fits is told by one sign, and never runs into the next diagram."""
    assert fitting(names, room) == text
    assert len(text) <= room


def test_line_of_names_is_there_only_where_there_is_a_name() -> None:
    """A row of diagrams without families has no empty line below."""
    ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
    table = list(find_voicings(Chord.parse("C"), ukulele)[:2])
    bare = [line.rstrip() for line in box_lines(table, [(), ()], Screen())]
    named = [line.rstrip() for line in box_lines(table, [(), ("close",)], Screen())]
    assert bare == named[:-1]
    assert named[-1].strip() == "close"
    assert bare[-1] != ""
