"""Tables of voicings in notebooks."""

import attrs

from gripwright import Chord, find_voicings
from gripwright.neck.diagram import table_html
from tests.core.neck.diagram.drawn import GUITAR, SVG, parsed


def test_table_shows_the_first_voicings_as_pictures() -> None:
    """Twenty rows, each with a diagram, its frets, degrees and pitches; the caption counts all."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR)
    root = parsed(table_html(table, len(table)), "table")
    rows = root.findall("tbody/tr")
    assert len(rows) == len(root.findall(f".//{SVG}svg")) == 20
    assert root.findtext("caption") == (
        f"{len(table):,} voicings of Cmaj7 on {GUITAR.name}; the first 20"
    )
    for row, voicing in zip(rows, table, strict=False):
        cells = [cell.text for cell in row.findall("td")]
        assert cells[2] == voicing.shape
        assert cells[4] == " ".join(map(str, voicing.pitches))


def test_short_and_empty_tables_say_so() -> None:
    """No row is promised that is not there."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR)
    assert "1 voicing of Cmaj7" in table_html(table[:1], 1)
    assert "no voicings" in table_html(table[:0], 0)


def test_names_are_escaped() -> None:
    """An instrument's name is text."""
    wild = attrs.evolve(GUITAR, name="<b onclick=x>&")
    table = find_voicings(Chord.parse("C"), wild)[:1]
    assert "<b onclick" not in table_html(table, 1)
    parsed(table_html(table, 1), "table")
