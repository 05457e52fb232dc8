"""Tables of voicings in notebooks."""

import attrs

from gripwright import Chord, find_voicings
from gripwright.neck.diagram import neck_svg, table_html
from tests.core.neck.diagram.drawn import GUITAR, SVG, parsed, texts


def test_table_shows_the_first_voicings_as_pictures() -> None:
    """Twenty rows, each with a diagram, its frets, degrees and pitches; the caption counts all."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR)
    root = parsed(table_html(table, len(table)), "table")
    rows = root.findall("tbody/tr")
    assert len(rows) == len(root.findall(f".//{SVG}svg")) == 20
    assert root.findtext("caption") == (
        f"{len(table):,} voicings of Cmaj7 on {GUITAR.name}; the first 20"
    )
    heads = [cell.text for cell in root.findall("thead/tr/th")]
    assert heads == [None, "diagram", "frets", "degrees", "pitches", "reach"]
    for place, (row, voicing) in enumerate(zip(rows, table, strict=False), 1):
        cells = [cell.text for cell in row.findall("td")]
        assert cells[:1] + cells[2:] == [
            str(place),
            voicing.shape,
            " ".join(voicing.degrees),
            " ".join(map(str, voicing.pitches)),
            f"{voicing.reach_mm:.1f} mm",
        ]
        # The chord stands in the caption, not in each of twenty pictures.
        (picture,) = row.iter(f"{SVG}svg")
        assert texts(picture) == texts(parsed(neck_svg(voicing, title="")))
        assert picture.attrib["width"] == "120"


def test_short_and_empty_tables_say_so() -> None:
    """No row is promised that is not there."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR)
    for count, caption in (
        (0, "no voicings"),
        (1, f"1 voicing of Cmaj7 on {GUITAR.name}"),
        (20, f"20 voicings of Cmaj7 on {GUITAR.name}"),
    ):
        root = parsed(table_html(table[:count], count), "table")
        assert root.findtext("caption") == caption


def test_names_are_escaped() -> None:
    """An instrument's name is text."""
    wild = attrs.evolve(GUITAR, name="<b onclick=x>&")
    table = find_voicings(Chord.parse("C"), wild)[:1]
    assert "<b onclick" not in table_html(table, 1)
    parsed(table_html(table, 1), "table")
