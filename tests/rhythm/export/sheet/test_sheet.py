"""Practice sheets: what stands on them, and what their settings do."""

import re
import subprocess
import sys
from fractions import Fraction
from typing import Any

import attrs
import pytest
from defusedxml import ElementTree  # type: ignore[import-untyped]

from gripwright import (
    Chart,
    ConditionError,
    Hand,
    RhythmPattern,
    Score,
    UnknownNameError,
    diagram,
    lead,
)
from gripwright.meter import Meter
from gripwright.score.sample import sample_score
from gripwright_rhythm.drill import make_drill
from gripwright_rhythm.export.sheet import SheetPdfExporter, SheetSvgExporter
from gripwright_rhythm.export.sheet.card import (
    LEAST_WIDTH,
    NECK_WIDTH,
    Card,
    Grips,
    drawn_card,
    places_of,
)
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.face import FONT_FILE, font
from gripwright_rhythm.export.sheet.ladder_sheet import ladder_pages
from gripwright_rhythm.export.sheet.page import Page
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.export.sheet.passage import passages_of
from gripwright_rhythm.export.sheet.signs import typeset
from tests.rhythm.export.sheet.drawn_pages import axes, outside, overlaps, texts
from tests.rhythm.export.sheet.forms import BLUES, GUITAR, PICKUP, WALTZ, drill

SVG = "{http://www.w3.org/2000/svg}"


def pages(*scores: Score, **options: Any) -> tuple[Page, ...]:
    """The pages of scores."""
    return SheetSvgExporter(**options).pages(scores)


def test_head_says_what_is_played() -> None:
    """Title, key, metre, tempo in beats and clicks, swing, choruses, rhythm and instrument."""
    score = drill(BLUES, "1 2.5", "2 4", choruses=3, swing="3/2", tempo_bpm=90, root="held")
    (page,) = pages(score)
    said = " | ".join(texts(page))
    for words in (
        "Blues in B flat",
        "Key B\u266d major",
        "4/4",
        "\u2669 = 90",
        "swing 1.5 : 1",
        "3 choruses",
        "count-in 2 bars",
        "Guitar",
        "with root beneath",
        "1 2.5",
        "on 2 and 4; 90 beats a minute, 45 clicks a minute",
    ):
        assert words in said


def test_head_names_a_capo_once() -> None:
    """It is part of the name of the instrument."""
    (page,) = pages(drill(BLUES, on=GUITAR.with_capo(3)))
    assert " | ".join(texts(page)).count("capo") == 1


def test_foot_warns_and_passes_notes_on() -> None:
    """Cautions stand on every page, the notes of the score on all of its own."""
    score = attrs.evolve(sample_score(), notes=("One note.", "Another note."))
    for page in pages(score, grips="overleaf"):
        said = " ".join(texts(page))
        for words in ("Warm up", "25 to 30 minutes", "pain, numbness, tingling", "clinician"):
            assert words in said
        assert "safe for your ears" in said
        assert "One note. Another note." in said


def test_many_notes_leave_room_for_the_music() -> None:
    """What has no room in the foot is said to stand in the score."""
    score = attrs.evolve(sample_score(), notes=("A sentence of some length.",) * 300)
    (page,) = pages(score)
    assert "More notes stand in the score." in texts(page)
    assert outside(page) == []


def test_choruses_are_said_once() -> None:
    """Choruses that are alike are one form with a repeat; a change in the last has its own bar."""
    (page,) = pages(drill(WALTZ, "1", choruses=3))
    assert len(axes(page)) == 8
    assert "\u00d73" in texts(page)
    (page,) = pages(drill(WALTZ, "1 3.5>", choruses=3))
    assert "bar 8, last chorus" in texts(page)
    assert "ending" in texts(page)


def test_choruses_that_are_not_alike_are_drawn_each() -> None:
    """A chorus in other grips stands under a heading of its own."""
    first = drill(BLUES, "1")
    other = drill(BLUES, "3")
    length = first.end
    both = attrs.evolve(
        first,
        bars=[
            *first.bars,
            *(
                attrs.evolve(bar, number=bar.number + 12, onset=bar.onset + length, chorus=2)
                for bar in other.bars
                if bar.chorus
            ),
        ],
        choruses=[
            *first.choruses,
            attrs.evolve(other.choruses[-1], number=2, onset=length, end=2 * length),
        ],
        events=[
            *first.events,
            *(
                attrs.evolve(event, onset=event.onset + length, end=event.end + length)
                for event in other.events
            ),
        ],
    )
    (page,) = pages(both)
    assert "Chorus 1, B\u266d major" in texts(page)
    assert "Chorus 2, B\u266d major" in texts(page)
    assert len(axes(page)) == 24


def test_first_push_is_shown_in_the_count_in() -> None:
    """A chord that is anticipated before the form starts has a strip before the first bar."""
    score = drill("| Dm7 | G7 |", "4.5>")
    assert min(event.onset for event in score.events) < 0
    (page,) = pages(score)
    assert "count-in" in texts(page)
    assert "\u2192Dm7" in texts(page)


def test_pushes_and_approaches_are_marked() -> None:
    """A push names the chord that it brings, an approach stands in brackets over a hatched bar."""
    (page,) = pages(drill("| Dm7 | G7 | Cmaj7 | % |", "1 4.5>"))
    assert {"\u2192G7", "\u2192Cmaj7"} <= set(texts(page))
    assert "comes in ahead of its beat" in texts(page)
    (page,) = pages(drill("| Dm7 | G7 | Cmaj7 | % |", "1 4(above)"))
    assert any(re.fullmatch(r"\(.+\)", text) for text in texts(page))
    assert "approach" in texts(page)
    assert any(
        isinstance(mark, diagram.Line) and mark.x1 != mark.x2 and mark.y1 != mark.y2
        for mark in page.marks
    )


def test_grips_are_left_out_or_overleaf() -> None:
    """Without grips the symbols remain; overleaf gives the page twice."""
    score = drill(BLUES, "1")
    (drawn,) = pages(score)
    (without,) = pages(score, grips="none")
    cold, answers = pages(score, grips="overleaf")
    assert len(without.marks) < len(drawn.marks) / 2
    assert "E\u266d7" in texts(without)
    assert "without grips: read it cold" in texts(cold)
    assert len(answers.marks) == len(drawn.marks) + 1
    assert [axis.left for axis in axes(cold)] == [axis.left for axis in axes(answers)]


def test_grip_that_repeats_is_its_symbol_and_shape() -> None:
    """A bar that goes on with the same grip names it, and draws none."""
    (page,) = pages(drill("| Dm7 | % | % | % |", "1", "off"))
    shapes = [text for text in texts(page) if re.fullmatch(r"[x0-9]+(-[x0-9]+){5}", text)]
    assert texts(page).count("Dm7") == 4
    assert len(shapes) >= 3
    assert len(set(shapes)) == 1


def test_left_handed_necks_stand_in_a_mirror() -> None:
    """The same marks are drawn, in other places; strips of time run on from the left."""
    score = drill("| Dm7 |", "1 3")
    (right,) = pages(score, label="none")
    (left,) = pages(score, label="none", left_handed=True)
    assert len(right.marks) == len(left.marks)
    assert right.marks != left.marks
    assert axes(right) == axes(left)


@pytest.mark.parametrize(
    ("label", "expected"),
    [("degree", {"1", "\u266d3", "5", "\u266d7"}), ("note", {"D", "F", "A", "C"})],
)
def test_dots_carry_labels(label: str, expected: set[str]) -> None:
    """Degrees or notes stand in the dots, with printed accidentals."""
    (page,) = pages(drill("| Dm7 |", "1", "off"), label=label)
    assert len(expected & set(texts(page))) >= 3


def test_fingers_are_those_of_the_hand() -> None:
    """Labels of fingers are drawn for the hand that is given."""
    score = drill("| Dm7 |", "1", "off")
    grip = score.events[0].voicing
    hand = Hand(reach_mm=100.0)
    (page,) = pages(score, label="finger", hand=hand)
    fingers = {str(finger) for finger in grip.fingering(hand).fingers if finger}
    assert fingers <= set(texts(page))


def test_print_has_no_colour() -> None:
    """The usual theme is black, white and greys between."""
    text = SheetSvgExporter().export(drill(BLUES, "1 2'")).decode()
    found = set(re.findall(r'"#([0-9A-F]{6})"', text))
    assert found
    assert all(one[:2] == one[2:4] == one[4:] for one in found)


def test_several_scores_share_a_file() -> None:
    """Each starts a page of its own, with its title among the bookmarks."""
    scores = [drill(BLUES), drill(WALTZ), drill(PICKUP)]
    found = pages(*scores)
    assert [page.title for page in found] == ["Blues in B flat", "Waltz", "With a pickup"]
    document = SheetPdfExporter().export_all(scores)
    assert document.count(b"/Type /Page\n") == 3
    root = ElementTree.fromstring(SheetSvgExporter().export_all(scores))
    assert len(root.findall(f"{SVG}g")) == 3


def test_swing_is_drawn_where_it_sounds() -> None:
    """The and of two stands two thirds into its beat where the first part is twice the second."""
    score = drill("| Dm7 |", "1 2.5", swing=2)
    (axis,) = axes(pages(score)[0])
    quarter = (axis.right - axis.left) / 4
    assert axis.has(axis.left + quarter * (1 + 2 / 3), axis.right)


def test_several_tempos_are_said() -> None:
    """Where choruses go faster, the first tempo and the last stand in the head."""
    (page,) = pages(drill("| Dm7 |", "1", choruses=3, tempo_step=5))
    assert "\u2669 = 60 to 70" in texts(page)


@pytest.mark.parametrize("title", ["<b>&\"'", "a\x00b\ud800", "\u4e2d\u6587", "x" * 400, ""])
def test_any_title_is_drawn(title: str) -> None:
    """Hostile and foreign titles give well-formed files, and keep to their place."""
    score = attrs.evolve(sample_score(), title=title)
    (page,) = pages(score)
    assert outside(page) == []
    assert overlaps(page) == []
    root = ElementTree.fromstring(SheetSvgExporter().export(score))
    assert root.tag == f"{SVG}svg"
    assert SheetPdfExporter().export(score).startswith(b"%PDF-")


def test_every_text_keeps_its_width_in_any_font() -> None:
    """Each text of an SVG sheet carries the width that it was laid out with."""
    root = ElementTree.fromstring(SheetSvgExporter().export(sample_score()))
    found = list(root.iter(f"{SVG}text"))
    assert found
    assert all(float(one.attrib["textLength"]) > 0 for one in found)


def test_wrong_settings_are_refused_by_name() -> None:
    """Paper, grips, label and theme, and no score at all."""
    with pytest.raises(UnknownNameError, match="a4, letter"):
        SheetSvgExporter(paper="a5")
    with pytest.raises(ConditionError, match="drawn, overleaf, none"):
        SheetPdfExporter(grips="behind")  # type: ignore[arg-type]
    with pytest.raises(UnknownNameError, match="degree, note"):
        SheetSvgExporter(label="toes").export(sample_score())
    with pytest.raises(UnknownNameError, match="print"):
        SheetSvgExporter(theme="pink").export(sample_score())
    with pytest.raises(ConditionError, match="one score or more"):
        SheetPdfExporter().export_all(())


def test_printed_accidentals() -> None:
    """Roots, basses and degrees have signs; letters that are none are left alone."""
    assert typeset("Bb7b9/Eb") == "B\u266d7\u266d9/E\u266d"
    assert typeset("F##m7") == "F\U0001d12am7"
    assert typeset("Ebbsus4") == "E\U0001d12bsus4"
    assert typeset("Cadd9") == "Cadd9"
    assert typeset("bb7") == "\U0001d12b7"


def test_face_has_every_sign() -> None:
    """The shipped face has ASCII, accidentals, notes and arrows, and stands beside its licence."""
    signs = [chr(code) for code in range(0x20, 0x7F)]
    signs += list(
        "\u266d\u266e\u266f\U0001d12a\U0001d12b\u2669\u266a\u2192\u00d7\u2026\u00b7\u2013"
    )
    known = font().face.charToGlyph
    assert [sign for sign in signs if ord(sign) not in known] == []
    licence = FONT_FILE.with_name("LICENSE.txt").read_text(encoding="utf-8")
    assert "Bitstream Vera" in licence
    assert "DejaVu" in licence
    # The licence of a changed font forbids these words in its names.
    names = font().face.name
    assert not re.search("Vera|Bitstream|Arev", str(names))


def test_formats_are_listed_without_what_they_need() -> None:
    """Importing the exporters loads neither reportlab nor NumPy."""
    code = (
        "import sys, gripwright_rhythm.export.sheet;"
        "print([name for name in ('reportlab', 'numpy') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def test_sample_has_one_passage() -> None:
    """The count-in is no chorus."""
    (passage,) = passages_of(sample_score())
    assert [bar.number for bar in passage.bars] == [1, 2]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("metre", ["4/4", "3/4", "6/8", "12/8", "3+2/4", "7/4"])
def test_ladder_is_two_pages_at_most(metre: str, paper: str) -> None:
    """Every rung with its sentence, and every place of the bar, in any metre."""
    found = ladder_pages(Meter.parse(metre), paper=paper)
    assert len(found) <= 2
    for page in found:
        assert outside(page) == []
        assert overlaps(page) == []


def test_ladder_shows_every_place_long_and_short() -> None:
    """In 4/4 there are eight places, each held once and cut once."""
    found = ladder_pages(Meter(4, 4))
    said = {text for page in found for text in texts(page)}
    for beat in range(1, 5):
        for place in (f"beat {beat}", f"the and of {beat}"):
            assert {f"{place}, long", f"{place}, short"} <= said
    assert {str(number) for number in range(1, 35)} <= said


def test_grips_that_the_player_places_are_drawn() -> None:
    """Without a pattern each chord has its grip, and the strip of time is empty."""
    line = lead(Chart.parse("| Dm7 | G7 |"), GUITAR, max_notes=4, no_open=True)
    (free,), (played,) = (
        pages(make_drill(line, None)),
        pages(make_drill(line, RhythmPattern.parse("1"))),
    )
    labels = [text for text in texts(free) if text in {"1", "\u266d3", "3", "5", "\u266d7"}]
    assert len(labels) > sum(len(step.voicing.pitches) for step in line.steps) - 1
    for page in (free, played):
        assert outside(page) == []
        assert overlaps(page) == []
    assert sum(len(axis.blocks) for axis in axes(free)) == 0
    assert sum(len(axis.blocks) for axis in axes(played)) > 0


def test_a_late_chord_has_room_for_its_neck() -> None:
    """It moves aside as far as the chord before needs no room, and never out of its bar."""
    cards = [Card(Fraction(0), "C6", None, "held"), Card(Fraction(7, 2), "G7alt", None)]
    (first, narrow), (late, width) = places_of(cards, [LEAST_WIDTH, NECK_WIDTH], 0.0, 120.0, 30.0)
    assert late + width < 120
    assert width > NECK_WIDTH - 7
    assert first + narrow <= late
    # Where a bar is too narrow for both, each gives way by the same part.
    tight = places_of(cards, [LEAST_WIDTH, NECK_WIDTH], 0.0, 38.0, 9.5)
    assert [start for start, _ in tight] == pytest.approx([2.5, 15.5])


def test_necks_of_half_bars_stand_at_one_height() -> None:
    """However long their symbols are; alone in a bar a neck stands beside its symbol."""

    def top(text: str, width: float) -> float:
        line = lead(Chart.parse("| C7 |"), GUITAR, max_notes=4, no_open=True)
        card = Card(Fraction(0), text, line.steps[0].voicing)
        marks = drawn_card(
            card,
            *(0.0, 0.0, width, 64.0),
            again=False,
            grips=Grips(),
            colours=Colours.of("print"),
        )
        return min(mark.y1 for mark in marks if isinstance(mark, diagram.Line))

    assert top("C7", 60.0) == top("C7sus4", 60.0)
    assert top("C7", 120.0) < top("C7", 60.0)
