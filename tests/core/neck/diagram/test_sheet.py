"""Contact sheets of neck diagrams."""

from collections.abc import Iterable
from itertools import combinations, pairwise
from xml.etree.ElementTree import Element

import attrs
import pytest

from gripwright import Chord, Voicing, find_voicings
from gripwright.errors import ConditionError
from gripwright.neck.diagram import (
    HALF_HEIGHT,
    THEMES,
    Anchor,
    Block,
    Disc,
    Line,
    Mark,
    Words,
    neck_svg,
    sheet_svg,
)
from gripwright.neck.diagram.sheet import CAUTION
from gripwright.neck.fingering import Fingering, fingering_of
from tests.core.neck.diagram.drawn import (
    GUITAR,
    SVG,
    at,
    elements,
    grip,
    number_of_strings,
    parsed,
    texts,
)
from tests.core.neck.diagram.extents import Extent, extent, meetings
from tests.core.neck.reference import frets_of

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
    with pytest.raises(ConditionError) as caught:
        sheet_svg(CMAJ7, columns=columns)
    assert str(caught.value) == f"columns cannot be {columns}: expected 1 to 12 diagrams"


def test_what_a_voicing_adds_and_leaves_out_stands_below_it() -> None:
    """A teacher's pupil sees that the fifth is missing."""
    lacking = grip("Cmaj7", "x-3-2-4-0-x")
    assert texts(parsed(sheet_svg([lacking], a4=False)))[-1] == "no 5"
    names = Chord.parse("C7").chromatic_names
    adding = Voicing(Chord.parse("C7"), GUITAR, (-1, 3, 2, 3, 3, -1), names)
    assert texts(parsed(sheet_svg([adding])))[-1] == "adds 9, no 5"
    several = attrs.evolve(adding, frets=(-1, 3, 2, 3, 3, 5))
    assert texts(parsed(sheet_svg([several])))[-1] == "adds 9 13, no 5"
    shell = Voicing(Chord.parse("Cmaj9"), GUITAR, (-1, 3, 2, 4, -1, -1))
    assert texts(parsed(sheet_svg([shell])))[-1] == "no 5 9"
    assert texts(parsed(sheet_svg([grip("C", "x-3-2-0-1-0")])))[-1] == "E4"


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


WIDE = find_voicings(Chord.parse("Cmaj7"), GUITAR, max_notes=4)[:33]


def read_mark(one: Element) -> Mark:
    """An element as the mark that it was written from."""
    kind = one.tag.removeprefix(SVG)
    if kind == "text":
        size, bold = at(one, "font-size"), "font-weight" in one.attrib
        anchor: Anchor = one.attrib["text-anchor"]  # type: ignore[assignment]
        y = at(one, "y") - HALF_HEIGHT * size
        return Words(at(one, "x"), y, str(one.text), size, one.attrib["fill"], anchor, bold)
    edge, width = one.attrib["stroke"], at(one, "stroke-width")
    if kind == "line":
        return Line(at(one, "x1"), at(one, "y1"), at(one, "x2"), at(one, "y2"), width, edge)
    fill = one.attrib["fill"]
    if kind == "circle":
        return Disc(at(one, "cx"), at(one, "cy"), at(one, "r"), fill, edge, width)
    across, down = at(one, "width"), at(one, "height")
    x, y = at(one, "x") + across / 2, at(one, "y") + down / 2
    return Block(x, y, across, down, fill, edge, width, at(one, "rx"))


def lying(root: Iterable[Element]) -> tuple[list[Mark], list[tuple[float, float, Element]]]:
    """The marks of the page itself, and its diagrams with their places."""
    marks, cells = [], []
    for one in list(root)[3:]:
        if one.tag == f"{SVG}g":
            place = one.attrib["transform"].removeprefix("translate(").removesuffix(")")
            across, down = map(float, place.split())
            cells.append((across, down, one))
        else:
            marks.append(read_mark(one))
    return marks, cells


def area(across: float, down: float, cell: Element) -> Extent:
    """What a diagram takes up of the page: its neck, its piano and its texts."""
    marks, _ = lying(cell_as_page(cell))
    inside = [extent(mark) for mark in marks]
    return Extent(
        across + min(one.left for one in inside),
        down + min(one.top for one in inside),
        across + max(one.right for one in inside),
        down + max(one.bottom for one in inside),
    )


def cell_as_page(cell: Element) -> list[Element]:
    """A diagram as a page, which has a ground after its title and its description."""
    return [*list(cell)[:2], cell, *list(cell)[2:]]


@pytest.mark.parametrize("columns", [None, 1, 4, 12])
@pytest.mark.parametrize("keyboard", [False, True])
@pytest.mark.parametrize("a4", [False, True])
def test_page_is_laid_out_from_head_to_foot(
    columns: int | None, *, keyboard: bool, a4: bool
) -> None:
    """Head, rule, numbered diagrams row by row, rule and foot; nothing lies over anything."""
    page = sheet_svg(WIDE, columns=columns, keyboard=keyboard, note="some grips", a4=a4)
    root = parsed(page)
    marks, cells = lying(root)
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    whole = Extent(40, 0, width - 40, height)
    assert all(whole.holds(extent(mark), slack=1.0) for mark in marks)
    said = [mark for mark in marks if isinstance(mark, Words)]
    assert meetings(said) == []
    upper, lower = (mark for mark in marks if isinstance(mark, Line) and mark.y1 == mark.y2)
    for rule in (upper, lower):
        assert rule.x1 == 40
        assert rule.x2 == pytest.approx(width - 40)
    numbers = [text for text in said if upper.y1 < text.y < lower.y1]
    assert [text.text for text in numbers] == [str(n) for n in range(1, len(WIDE) + 1)]
    assert {text.colour for text in numbers} == {THEMES["light"].faint}
    areas = [area(*cell) for cell in cells]
    between = Extent(40, upper.y1, width - 40, lower.y1)
    assert all(between.holds(one) for one in areas)
    assert not [pair for pair in combinations(areas, 2) if pair[0].meets(pair[1])]
    for number, (across, down, cell) in zip(numbers, cells, strict=True):
        inside = [extent(mark.moved(across, down)) for mark in lying(cell_as_page(cell))[0]]
        assert not any(extent(number).meets(one) for one in inside)
        assert number.x <= across + 1
        assert number.y == pytest.approx(down + 8)
    downs = sorted({down for _, down, _ in cells})
    rows = [
        [one for (_, y, _), one in zip(cells, areas, strict=True) if y == down] for down in downs
    ]
    assert all(len(row) == len(rows[0]) for row in rows[:-1])
    assert len(rows[0]) == columns or columns is None
    # Rows lie apart by 7 units at least, and by 47 at most where the page is longer than they are.
    for row, following in pairwise(rows):
        bottom = max(one.bottom for one in row)
        assert 0 < min(one.top for one in following) - bottom < 70
    assert lower.y1 - max(one.bottom for one in rows[-1]) > 0
    if not a4:
        assert lower.y1 - max(one.bottom for one in rows[-1]) < 20


def test_diagrams_of_a_row_stand_in_the_middle_of_equal_places() -> None:
    """A neck of any width lies as far from the left of its place as from the right."""
    for columns in (1, 3, 6):
        root = parsed(sheet_svg(CMAJ7, columns=columns))
        _, cells = lying(root)
        width = float(root.attrib["viewBox"].split()[2])
        places = sorted({across for across, _, _ in cells})
        steps = {round(high - low, 1) for low, high in pairwise(places)}
        assert len(steps) <= 1
        # Guitar necks are 128 units wide.
        assert places[0] - 40 == pytest.approx(width - 40 - places[-1] - 128, abs=0.02)


def test_usual_page_has_five_diagrams_of_six_strings_in_a_row() -> None:
    """Each is then about 33 mm wide on A4; a neck of sixteen strings has a page to itself."""
    root = parsed(sheet_svg(CMAJ7))
    _, cells = lying(root)
    assert len({across for across, _, _ in cells}) == 5
    width = float(root.attrib["viewBox"].split()[2])
    assert 128 * 210 / width == pytest.approx(33, abs=1.5)
    wide, names = number_of_strings(16), Chord.parse("C").chromatic_names
    many = Voicing(Chord.parse("C"), wide, (1, *[-1] * 14, 10), names)
    root = parsed(sheet_svg([many, many], keyboard=True))
    assert len({across for across, _, _ in lying(root)[1]}) == 1
    assert root.attrib["width"] == "210mm"


def test_usual_page_is_as_wide_for_any_neck() -> None:
    """As many diagrams as it takes, and no more."""
    for strings in range(3, 10):
        neck = number_of_strings(strings)
        grips = [Voicing(Chord.parse("E"), neck, (0, *[-1] * (strings - 1)))] * 20
        root = parsed(sheet_svg(grips))
        assert root.attrib["viewBox"].split()[2] == "792"
        across = sorted({left for left, _, _ in lying(root)[1]})
        # One more would not leave 16 units between any two.
        assert (len(across) + 1) * (38 + 18 * (strings - 1) + 16) - 16 > 712


def test_diagrams_of_a_row_show_as_many_frets() -> None:
    """The one that spans most frets says how many; another row has its own height."""
    names = Chord.parse("C").chromatic_names
    tall = Voicing(Chord.parse("C"), GUITAR, (-1, 3, 7, 5, 5, 3), names)
    wide = [grip("C", "x-3-2-0-1-0"), tall, grip("F", "1-3-3-2-1-1")]
    _, cells = lying(parsed(sheet_svg(wide, columns=2, a4=False)))
    ends = [max(at(one, "y2") for one in elements(cell, "line")) for _, _, cell in cells]
    assert ends[0] == ends[1] == ends[2] + 23


@pytest.mark.parametrize("theme", THEMES)
def test_head_and_foot_are_in_the_colours_of_the_theme(theme: str) -> None:
    """Title and signs in ink, the note faint, each sign painted as in the diagrams."""
    colours = THEMES[theme]
    root = parsed(sheet_svg(CMAJ7[:2], note="two grips", theme=theme))
    assert list(root)[2].attrib["fill"] == colours.page
    marks, _ = lying(root)
    said = {mark.text: mark for mark in marks if isinstance(mark, Words)}
    assert (said["Cmaj7"].colour, said["Cmaj7"].bold) == (colours.ink, True)
    assert (said["two grips"].colour, said["two grips"].bold) == (colours.faint, False)
    assert said["Cmaj7"].size > said["C"].size > said["two grips"].size
    for note, degree in (("C", "1"), ("E", "3"), ("G", "5"), ("B", "7")):
        assert said[note].bold
        assert not said[degree].bold
        assert said[degree].size < said[note].size
    # Numbers of diagrams come later, and are faint; the degrees of the spelling stand in the head.
    head = [mark for mark in marks if isinstance(mark, Words)][:10]
    for above, below in zip(head[2::2], head[3::2], strict=True):
        assert (above.colour, below.colour) == (colours.ink, colours.faint)
        assert above.x == below.x
        assert extent(above).bottom < extent(below).top
    assert {round(b.x - a.x, 2) for a, b in pairwise(head[2::2])} == {34.0}
    rules = [mark for mark in marks if isinstance(mark, Line) and mark.y1 == mark.y2]
    assert [rule.colour for rule in rules] == [colours.wire] * 2
    assert all(extent(text).bottom < rules[0].y1 for text in head)
    signs = [mark for mark in marks if isinstance(mark, (Disc, Block))]
    assert [(one.fill, one.edge, isinstance(one, Block)) for one in signs] == [
        (colours.root.fill, colours.root.edge, True),
        (colours.tone.fill, colours.tone.edge, False),
        (colours.page, colours.ink, False),
    ]
    foot = [said[words] for words in ("root", "other tone", "open string", "muted")]
    for sign, words in zip(signs, foot, strict=False):
        assert sign.y == pytest.approx(words.y)
        assert 0 < extent(words).left - extent(sign).right < 8
    strokes = [mark for mark in marks if isinstance(mark, Line)][-2:]
    for stroke in strokes:
        assert extent(stroke).middle[1] == pytest.approx(foot[3].y)
    assert 0 < extent(foot[3]).left - extent(strokes[0]).right < 8
    # What belongs together stands together: signs keep clear of the words before, alike.
    gaps = [
        extent(sign).left - extent(words).right
        for words, sign in zip(foot, (*signs[1:], strokes[0]), strict=False)
    ]
    assert len(gaps) == 3
    assert min(gaps) > 8
    assert max(gaps) - min(gaps) < 5
    assert len({round(text.y, 3) for text in (*foot, said[CAUTION])}) == 1
    assert {text.colour for text in (*foot, said[CAUTION])} == {colours.ink}
    cell = next(iter(elements(root, "g")))
    assert {one.attrib["fill"] for one in elements(cell, "circle")} <= {
        colours.tone.fill,
        colours.page,
    }


def test_foot_tells_what_the_keyboards_show() -> None:
    """Only where there are any."""
    told = "Close: close position.  Grip: as gripped."
    assert told in texts(parsed(sheet_svg(CMAJ7[:1], keyboard=True)))
    assert told not in texts(parsed(sheet_svg(CMAJ7[:1])))


@pytest.mark.parametrize("columns", [1, 2, 3, 4])
@pytest.mark.parametrize("strings", [3, 4, 6])
@pytest.mark.parametrize("keyboard", [False, True])
def test_foot_takes_another_line_only_where_its_texts_need_one(
    columns: int, strings: int, *, keyboard: bool
) -> None:
    """The word of caution ends at the right margin, and comes last."""
    voicing = Voicing(Chord.parse("E"), number_of_strings(strings), (0, *[-1] * (strings - 1)))
    root = parsed(sheet_svg([voicing], columns=columns, keyboard=keyboard, theme="dark"))
    marks, _ = lying(root)
    right = float(root.attrib["viewBox"].split()[2]) - 40
    said = [mark for mark in marks if isinstance(mark, Words)]
    foot = said[-3:] if keyboard else said[-2:]
    assert (foot[0].text, foot[-1].text) == ("muted", CAUTION)
    assert (foot[-1].anchor, foot[-1].x) == ("end", right)
    for before, after in pairwise(foot):
        assert (after.size, after.colour) == (before.size, THEMES["dark"].ink)
        wide = extent(after).right - extent(after).left
        rest = right - extent(before).right
        if after.y == before.y:
            assert wide + 10 < rest
        else:
            assert rest < wide + 20
            assert extent(before).bottom < extent(after).top
            assert after.anchor == "end" or after.x == 40


def test_slash_bass_is_spelled_after_the_chord() -> None:
    """A bass of its own or one of the chord's, named as such."""
    for symbol, shape, bass in (("C/F#", "2-3-2-0-1-0", "F#"), ("C/E", "0-3-2-0-1-0", "E")):
        voicing = Voicing(Chord.parse(symbol), GUITAR, frets_of(shape))
        root = parsed(sheet_svg([voicing]))
        assert texts(root)[:9] == [symbol, "C", "1", "E", "3", "G", "5", bass, "bass"]
        assert f"1 voicing. {symbol}: C 1, E 3, G 5, over {bass}. {CAUTION}" == root.findtext(
            f"{SVG}desc"
        )
        head = [mark for mark in lying(root)[0] if isinstance(mark, Words)][1:9]
        assert {text.anchor for text in head} == {"start"}
        assert {round(b.x - a.x, 2) for a, b in pairwise(head[::2])} == {34.0}
        assert [(a.x, a.bold, b.bold) for a, b in zip(head[::2], head[1::2], strict=True)] == [
            (b.x, True, False) for b in head[1::2]
        ]
        assert len({text.y for text in head[::2]}) == len({text.y for text in head[1::2]}) == 1
        assert len({(text.size, text.colour) for text in head[::2]}) == 1
        assert len({(text.size, text.colour) for text in head[1::2]}) == 1


def test_sheet_is_told_in_words() -> None:
    """How many there are, the spelling where there is one chord, and the word of caution."""
    root = parsed(sheet_svg(CMAJ7))
    assert root.attrib["role"] == "group"
    assert root.findtext(f"{SVG}title") == "Cmaj7"
    assert root.findtext(f"{SVG}desc") == (
        "20 voicings. Cmaj7: C 1, E 3, G 5, B 7. Warm up first, and stop at the first sign of pain."
    )
    two = parsed(sheet_svg([grip("C", "x-3-2-0-1-0"), grip("F", "1-3-3-2-1-1")]))
    assert two.findtext(f"{SVG}desc") == f"2 voicings. {CAUTION}"
    assert two.findtext(f"{SVG}title") == "Voicings"
    assert parsed(sheet_svg([])).findtext(f"{SVG}desc") == f"0 voicings. {CAUTION}"


def test_long_titles_keep_to_the_page() -> None:
    """They are written smaller."""
    root = parsed(sheet_svg(CMAJ7[:1], title="W" * 90, note="w" * 300))
    marks, _ = lying(root)
    width = float(root.attrib["viewBox"].split()[2])
    assert all(extent(mark).right <= width - 39 for mark in marks)


def test_necks_are_mirrored_for_a_left_hand() -> None:
    """As one picture is."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    (cell,) = elements(parsed(sheet_svg([voicing], left_handed=True)), "g")
    (usual,) = elements(parsed(sheet_svg([voicing])), "g")
    for drawn, left_handed in ((cell, True), (usual, False)):
        alone = parsed(neck_svg(voicing, left_handed=left_handed))
        assert [at(one, "cx") for one in elements(drawn, "circle")] == [
            at(one, "cx") for one in elements(alone, "circle")
        ]


def test_fingers_of_a_hand_are_those_drawn() -> None:
    """A hand that presses with other fingers shows others."""
    voicing = grip("C", "x-3-2-0-1-0")
    usual = fingering_of(voicing.frets, GUITAR)
    presses = tuple(attrs.evolve(one, finger=one.finger + 1) for one in usual.presses)
    other = attrs.evolve(usual, presses=presses)
    root = parsed(sheet_svg([voicing], label="finger", fingering=lambda _: other))
    (cell,) = elements(root, "g")
    assert [text for text in texts(cell) if text in "12345"][:3] == ["4", "3", "2"]


def test_room_that_is_left_over_stands_between_the_rows() -> None:
    """No row is pushed over the foot."""
    for rows in (1, 2, 3, 4):
        marks, cells = lying(parsed(sheet_svg(WIDE[: 5 * rows])))
        foot = [mark.y1 for mark in marks if isinstance(mark, Line) and mark.y1 == mark.y2][1]
        assert max(area(*cell).bottom for cell in cells) < foot


def test_hand_that_has_no_fingering_leaves_the_usual_one() -> None:
    """Its barre is drawn."""
    voicing = grip("F", "1-3-3-2-1-1")
    root = parsed(sheet_svg([voicing], label="finger", fingering=lambda _: None))
    (cell,) = elements(root, "g")
    assert [text for text in texts(cell) if text in "1234"][:6] == list("134211")


def test_empty_page_is_as_wide_as_any() -> None:
    """A4, with nothing between head and foot."""
    root = parsed(sheet_svg([], title="Nothing"))
    assert (root.attrib["width"], root.attrib["height"]) == ("210mm", "297mm")
    cut = parsed(sheet_svg([], title="Nothing", a4=False))
    _, _, width, height = map(float, cut.attrib["viewBox"].split())
    assert all(Extent(0, 0, width, height).holds(extent(mark)) for mark in lying(cut)[0])
    assert height < 200
