"""Contact sheets of neck diagrams."""

import pytest

from gripwright import Chord, Voicing, find_voicings
from gripwright.errors import ConditionError
from gripwright.neck.diagram import sheet_svg
from gripwright.neck.fingering import Fingering, fingering_of
from tests.core.neck.diagram.drawn import GUITAR, SVG, at, elements, grip, parsed, texts

CMAJ7 = find_voicings(Chord.parse("Cmaj7"), GUITAR, strings=(5, 4, 3, 2))[:20]


def test_sheet_shows_every_voicing_with_its_frets_and_pitches() -> None:
    """Each cell has symbol, frets, degrees and pitches; the head spells the chord."""
    root = parsed(sheet_svg(CMAJ7, note="twenty grips"))
    cells = list(elements(root, "g"))
    assert len(cells) == 20
    for number, (cell, voicing) in enumerate(zip(cells, CMAJ7, strict=True), 1):
        words = texts(cell)
        assert words[:2] == ["Cmaj7", voicing.shape]
        assert {*voicing.degrees, *map(str, voicing.pitches)} <= set(words)
        assert str(number) in texts(root)
        assert cell.attrib["role"] == "img"
    head = texts(root)[:10]
    assert head == ["Cmaj7", "twenty grips", "C", "1", "E", "3", "G", "5", "B", "7"]


def test_foot_tells_the_signs_and_a_word_of_caution() -> None:
    """Whoever is handed the sheet knows what a square is, and when to stop."""
    words = " ".join(texts(parsed(sheet_svg(CMAJ7))))
    for part in ("root", "other tone", "open string", "muted", "Warm up first", "pain"):
        assert part in words


def test_page_is_a4_or_longer_or_ends_with_its_last_line() -> None:
    """ISO 216: A4 is 210 mm by 297 mm."""
    short = parsed(sheet_svg(CMAJ7[:2]))
    assert (short.attrib["width"], short.attrib["height"]) == ("210mm", "297mm")
    cut = parsed(sheet_svg(CMAJ7[:2], a4=False))
    assert float(cut.attrib["height"].removesuffix("mm")) < 150
    many = find_voicings(Chord.parse("Cmaj7"), GUITAR)[:60]
    assert float(parsed(sheet_svg(many)).attrib["height"].removesuffix("mm")) > 297


@pytest.mark.parametrize("columns", [1, 3, 12])
def test_columns_are_as_many_as_asked_for(columns: int) -> None:
    """Cells of one row have one height, and as many different places across as columns."""
    root = parsed(sheet_svg(CMAJ7, columns=columns))
    places = [
        cell.attrib["transform"].removeprefix("translate(").removesuffix(")").split()
        for cell in elements(root, "g")
    ]
    assert len({across for across, _ in places}) == columns
    assert len({down for _, down in places}) == -(-20 // columns)


def test_cells_do_not_overlap_and_stay_on_the_page() -> None:
    """With keyboards the cells are wide; the page makes room."""
    for keyboard in (False, True):
        root = parsed(sheet_svg(CMAJ7, keyboard=keyboard))
        _, _, width, height = map(float, root.attrib["viewBox"].split())
        for cell in elements(root, "g"):
            place = cell.attrib["transform"].removeprefix("translate(").removesuffix(")")
            across, down = map(float, place.split())
            right = max(at(one, "x2") for one in elements(cell, "line"))
            assert 0 < across < across + right < width
            assert 0 < down < height


@pytest.mark.parametrize("columns", [0, 13])
def test_columns_have_a_range(columns: int) -> None:
    """Neither none nor more than can be read."""
    with pytest.raises(ConditionError, match="columns"):
        sheet_svg(CMAJ7, columns=columns)


def test_what_a_voicing_adds_and_leaves_out_stands_below_it() -> None:
    """A teacher's pupil sees that the fifth is missing."""
    lacking = grip("Cmaj7", "x-3-2-4-0-x")
    assert "no 5" in texts(parsed(sheet_svg([lacking])))


def test_sheet_of_several_chords_spells_none_of_them() -> None:
    """Each cell carries its own symbol."""
    root = parsed(sheet_svg([grip("C", "x-3-2-0-1-0"), grip("F", "1-3-3-2-1-1")]))
    assert texts(root)[0] == "Voicings"
    assert [texts(cell)[0] for cell in elements(root, "g")] == ["C", "F"]


def test_fingering_is_asked_for_each_voicing() -> None:
    """The fingers of one's own hand are those drawn."""
    asked = []

    def own(voicing: Voicing) -> Fingering:
        asked.append(voicing)
        return fingering_of(voicing.frets, voicing.instrument)

    root = parsed(sheet_svg(CMAJ7[:3], label="finger", fingering=own))
    assert asked == list(CMAJ7[:3])
    assert len(list(elements(root, "g"))) == 3


def test_no_voicings_give_a_page_without_any() -> None:
    """An empty table is no error: its page has a title and the foot."""
    root = parsed(sheet_svg([], title="Nothing"))
    assert texts(root)[0] == "Nothing"
    assert not list(elements(root, "g"))


def test_titles_are_escaped_and_told() -> None:
    """A title is text, whatever it holds."""
    title = '</svg><script>"&'
    root = parsed(sheet_svg(CMAJ7[:1], title=title, note=title))
    assert texts(root)[:2] == [title, title]
    assert root.findtext(f"{SVG}title") == title
    assert "Cmaj7: C 1, E 3, G 5, B 7." in str(root.findtext(f"{SVG}desc"))


def test_equal_sheets_are_equal_bytes() -> None:
    """Nothing of the run gets in."""
    assert sheet_svg(CMAJ7, keyboard=True) == sheet_svg(list(CMAJ7), keyboard=True)
