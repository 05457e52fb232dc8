"""Laws of the layout of sheets: nothing leaves the page, and lengths are what they are."""

from fractions import Fraction
from functools import cache
from typing import Any

import attrs
import pytest
from hypothesis import example, given, settings

from gripwright import Chart, Interval, Score, diagram
from gripwright.laws.drawing import scores
from gripwright.score.sample import sample_score
from gripwright_rhythm.export.sheet import SheetPdfExporter, SheetSvgExporter
from gripwright_rhythm.export.sheet.page import Page
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.export.sheet.passage import passages_of
from tests.rhythm.export.sheet.drawn_pages import axes, outside, overlaps, pieces
from tests.rhythm.export.sheet.forms import (
    BLUES,
    DENSE,
    EIGHT,
    FIVE,
    ODD,
    PICKUP,
    SIX,
    THIRTY_TWO,
    WALTZ,
    drill,
)

DRILLS: dict[str, dict[str, Any]] = {
    "blues": {"text": BLUES, "pattern": "1 2.5", "click": "2 4", "choruses": 3, "swing": "2:1"},
    "pushed": {"text": THIRTY_TWO, "pattern": "1' 2.5 4.5>", "click": "2 4", "choruses": 2},
    "approached": {"text": THIRTY_TWO, "pattern": "1 4'(above)", "ending": True},
    "waltz": {"text": WALTZ, "pattern": "1' 2 3", "click": "1", "choruses": 2},
    "six": {"text": SIX, "pattern": "1 2'"},
    "five": {"text": FIVE, "pattern": "1:1.5 2.5 4' 5'!", "click": "backbeat"},
    "pickup": {"text": PICKUP, "pattern": "1 2.5 4.5>", "choruses": 3},
    "dense": {"text": DENSE, "pattern": "1 2 3 4"},
    "odd": {"text": ODD, "pattern": "2 3"},
    "eight": {"text": THIRTY_TWO, "pattern": "1 2.5 4!", "on": EIGHT},
    "later": {"text": WALTZ, "pattern": "2", "click": "off", "choruses": 3},
    "faster": {
        "text": BLUES,
        "pattern": "1' 2' 3' 4'",
        "click": "2.5 4.5",
        "choruses": 4,
        "tempo_step": 5,
        "bass": True,
    },
}


@cache
def made(name: str) -> Score:
    """One of the drills."""
    return drill(**DRILLS[name])


def pages_of(score: Score, **options: object) -> tuple[Page, ...]:
    """The pages of a score."""
    return SheetSvgExporter(**options).pages((score,))  # type: ignore[arg-type]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("grips", ["drawn", "overleaf"])
@pytest.mark.parametrize("name", DRILLS)
def test_nothing_leaves_the_page_and_no_text_lies_over_another(
    name: str, grips: str, paper: str
) -> None:
    """Every mark keeps to the margins, every text to a place of its own."""
    for page in pages_of(made(name), paper=paper, grips=grips):
        assert outside(page) == []
        assert overlaps(page) == []


@given(score=scores())
@example(score=sample_score())
def test_any_score_keeps_to_its_pages(score: Score) -> None:
    """Whatever sounds and whatever it is called, no mark leaves the page."""
    for page in pages_of(score, label="none"):
        assert outside(page) == []


def check_strips(score: Score, drawn: tuple[Page, ...]) -> None:
    """Check that each part of an event has a bar from its start to its end."""
    found = [axis for page in drawn for axis in axes(page)]
    first = min((event.onset for event in score.events), default=Fraction(0))
    shown = [bar for bar in score.bars if bar.chorus or bar.end > first]
    counted = [bar for bar in shown if bar.chorus == 0]
    assert len(found) == len(shown)
    sounding: dict[int, list[tuple[Fraction, Fraction]]] = {}
    for bar, start, end in pieces(score):
        sounding.setdefault(bar.number, []).append((start, end))
    for bar, axis in zip(shown, found, strict=True):
        whole = bar
        if bar in counted[:1]:
            # Of the count-in no more is drawn than from the beat of the first chord.
            zero = bar.onset - bar.lead_in
            beat = max(zero + (first - zero) // bar.meter.pulse * bar.meter.pulse, bar.onset)
            whole = attrs.evolve(bar, onset=beat, length=bar.end - beat)
        for begin, end in sounding.get(bar.number, ()):
            assert axis.has(axis.x(whole, begin), axis.x(whole, end))


@given(score=scores())
@example(score=sample_score())
def test_every_event_is_as_long_on_paper_as_it_sounds(score: Score) -> None:
    """Each event has a bar on each strip that it sounds in, and its edges are its times."""
    check_strips(score, pages_of(score, label="none"))


@pytest.mark.parametrize("name", ["approached", "six", "five", "dense", "odd", "eight"])
def test_every_event_of_a_drill_is_as_long_on_paper_as_it_sounds(name: str) -> None:
    """The same in drills of one chorus, which fill several rows."""
    check_strips(made(name), pages_of(made(name)))


@pytest.mark.parametrize("name", ["blues", "pushed", "waltz", "pickup", "later", "faster"])
def test_choruses_that_are_drawn_once_sound_alike(name: str) -> None:
    """A bar of a later chorus sounds as the bar drawn for it, or is drawn for itself."""
    score = made(name)
    (passage,) = passages_of(score)
    assert passage.choruses == tuple(one.number for one in score.choruses if one.number)
    whole = [bar for bar in passage.bars if not bar.pickup]
    # Bars are compared by what starts in them and by what they sound, counted from their start.
    sounding_in: dict[int, list[tuple[Fraction, Fraction]]] = {}
    for bar, start, end in pieces(score):
        times = (start - bar.onset, end - bar.onset)
        sounding_in.setdefault(bar.number, []).append(times)
    played: dict[int, list[list[tuple[Fraction, Fraction]]]] = {}
    for bar in score.bars:
        if bar.chorus and not bar.ending and not bar.lead_in:
            played.setdefault(bar.chorus, []).append(sounding_in.get(bar.number, []))
    for chorus, bars in played.items():
        assert len(bars) == len(whole)
        for place, sounding in enumerate(bars, 1):
            own = [
                one.bar for one in passage.others if one.place == place and chorus in one.choruses
            ]
            drawn = own[0] if own else whole[place - 1]
            assert [(one.start, one.end) for one in drawn.pieces] == sounding


KEYS = ["P1", "m2", "M2", "m3", "M3", "P4", "A4", "P5", "m6", "M6", "m7", "M7"]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("interval", KEYS)
def test_thirty_two_bars_fit_one_page_in_every_key(interval: str, paper: str) -> None:
    """A form of thirty-two bars with an ending is one page, whose texts keep apart."""
    chart = Chart.parse(THIRTY_TWO)
    up = Interval.parse(interval)
    moved = chart.mapped(lambda chord: chord.transposed(up))
    score = drill(moved, "1 4.5>", choruses=2)
    (page,) = pages_of(score, paper=paper)
    assert len({axis.y for axis in axes(page)}) == 9
    assert len(axes(page)) >= 33
    assert outside(page) == []
    assert overlaps(page) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["pushed", "approached", "odd", "eight"])
def test_thirty_two_bars_fit_one_page(name: str, paper: str) -> None:
    """With half bars, approaches, odd sections and eight strings too."""
    assert len(pages_of(made(name), paper=paper)) == 1


def test_one_scale_holds_on_a_whole_sheet() -> None:
    """A quarter is as wide in every row, whatever stands there."""
    for name in ("odd", "pickup"):
        score = made(name)
        (page,) = pages_of(score)
        widths = {round(axis.right - axis.left, 3) for axis in axes(page)}
        lengths = {bar.length for bar in score.bars if bar.chorus}
        scales = {round(width / float(length), 2) for width in widths for length in lengths}
        # Of all quotients of widths and lengths one is the scale of each width.
        assert any(
            all(
                any(abs(width - scale * float(length)) < 0.1 for length in lengths)
                for width in widths
            )
            for scale in scales
        )


@given(score=scores())
@settings(max_examples=10, deadline=None)
def test_equal_scores_give_equal_bytes(score: Score) -> None:
    """Nothing but the score and the settings is in the files."""
    assert SheetSvgExporter().export(score) == SheetSvgExporter().export(score)
    assert SheetPdfExporter().export(score) == SheetPdfExporter().export(score)


def test_short_chord_is_darker_than_a_long_one() -> None:
    """They differ in lightness as well as in length, by far, in every theme."""
    score = drill("| Dm7 |", "1' 3")
    for theme in diagram.THEMES:
        (page,) = pages_of(score, theme=theme)
        (axis,) = axes(page)
        track = [
            mark
            for mark in page.marks
            if isinstance(mark, diagram.Block)
            and axis.left <= mark.x <= axis.right
            and mark.y < axis.y < mark.y + mark.height
        ]
        widest = sorted(track, key=lambda mark: mark.width)
        short = next(m for m in widest if abs(m.width - (axis.right - axis.left) / 4) < 0.1)
        long = next(m for m in reversed(widest) if m.width < (axis.right - axis.left) / 2 - 1)
        assert abs(_grey(short.fill) - _grey(long.fill)) > 60


def _grey(colour: str) -> float:
    """The luma of a colour, 0 to 255 (ITU-R BT.601)."""
    red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue
