"""The operation lead: what of a request reaches the line, and what comes back."""

import base64
import re
from fractions import Fraction
from typing import Any, get_args

import pytest

from gripwright import Chart, ConditionError, Pitch, Registry, UnknownNameError, load_registry
from gripwright.errors import NoCandidateError, NotationError
from gripwright.leading import BANDS as CORE_BANDS
from gripwright.leading import LineWeights, choruses
from gripwright.leading import lead as core_lead
from gripwright.leading.cost import TopLine
from gripwright.tune.leadsheet_writer import write_leadsheet
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.chart_text import LEAD_SHEET
from gripwright_server.operations.lead import LeadRequest, LeadResult, lead
from gripwright_server.operations.lines import BANDS, TOP_LINES

REGISTRY: Registry = load_registry()
CADENCE = "| Dm7 G7 | Cmaj7 |"


def _lead(chart: str = CADENCE, **values: Any) -> LeadResult:
    return lead(LeadRequest(chart=chart, **values), lambda: REGISTRY)


def _shapes(result: LeadResult) -> list[str]:
    return [row.shape for row in result.rows()]


def test_words_are_those_of_the_library() -> None:
    """What a request can name is what there is."""
    assert set(BANDS) == set(CORE_BANDS)
    assert set(TOP_LINES) == set(get_args(TopLine))


def test_weights_of_the_request_are_by_default_those_of_the_library() -> None:
    """Help tells the true defaults."""
    request = LeadRequest(chart=CADENCE)
    assert LineWeights() == LineWeights(
        motion=request.weigh_motion,
        stranger=request.weigh_stranger,
        travel=request.weigh_travel,
        top=request.weigh_top,
        ease=request.weigh_ease,
    )


def test_rows_are_the_steps_of_the_line_of_the_library() -> None:
    """Nothing is added to the line and nothing lost."""
    guitar = REGISTRY.instruments["guitar"]
    line = core_lead(
        Chart.parse(CADENCE), guitar, strategy=REGISTRY.strategies["drop-2"], loop=True
    )
    result = _lead(strategy="drop-2", loop=True)
    rows = list(result.rows())
    assert [row.id for row in rows] == [step.voicing.id for step in line.steps]
    assert [row.top for row in rows] == list(map(str, line.top_line))
    assert sum(round(row.cost["total"] * 1000) for row in rows) == line.cost
    for row, step in zip(rows, line.steps, strict=True):
        cost = row.cost
        parts = (cost["motion"], cost["travel"], cost["top"], cost["ease"], cost["surcharge"])
        assert [round(1000 * part) for part in parts] == [
            step.cost.motion,
            step.cost.travel,
            step.cost.top,
            step.cost.ease,
            step.cost.surcharge,
        ]


def test_places_count_bars_as_played_and_beats_of_the_metre() -> None:
    """In 6/8 the second dotted quarter is beat 2; a pickup of a beat starts on the last one."""
    rows = list(_lead("metre: 6/8\n|: Am7 D7 :|").rows())
    assert [(row.bar, row.beat) for row in rows] == [(1, "1"), (1, "2"), (2, "1"), (2, "2")]
    rows = list(_lead("pickup: 1\n| G7 | Cmaj7 Am7@3.5 |").rows())
    assert [(row.bar, row.beat, row.onset) for row in rows] == [
        (1, "4", "0"),
        (2, "1", "1"),
        (2, "7/2", "7/2"),
    ]
    assert sum(Fraction(row.length) for row in rows) == 5


def test_facts_are_those_of_each_line() -> None:
    """The top line can be had alone, and the cost of the whole is that of its steps."""
    result = _lead(choruses=2)
    assert result.facts["chart_text"] == CADENCE
    one, other = result.facts["lines"]
    rows = list(result.rows())
    assert (one["line"], other["line"]) == (1, 2)
    assert one["top_line"] == tuple(row.top for row in rows if row.line == 1)
    total = sum(row.cost["total"] for row in rows if row.line == 2)
    assert other["cost"]["total"] == pytest.approx(total)
    assert result.count == result.returned == len(rows) == 6


def test_choruses_differ_and_the_seed_shuffles_them() -> None:
    """They are those of the library."""
    guitar = REGISTRY.instruments["guitar"]
    known = choruses(Chart.parse(CADENCE), guitar, 3, seed=4)
    result = _lead(choruses=3, seed=4)
    assert result.lines == known
    assert len({line.steps[0].voicing.id for line in result.lines}) == 3
    # A grip that costs nothing the second time comes again.
    again = _lead(choruses=2, surcharge=0.0)
    assert again.lines[0].steps == again.lines[1].steps


@pytest.mark.parametrize("band", BANDS)
def test_band_decides_where_the_conditions_do_not(band: str) -> None:
    """Usual values of a request do not override what the band leaves to the guitar."""
    guitar = REGISTRY.instruments["guitar"]
    line = core_lead(Chart.parse(CADENCE), guitar, band=CORE_BANDS[band])
    assert _lead(band=band).lines == (line,)


def test_conditions_of_the_request_go_before_those_of_the_band() -> None:
    """Behind a piano two or three notes are usual, but four were asked for."""
    result = _lead(band="piano", min_notes=4, max_notes=4)
    assert {len(row.pitches) for row in result.rows()} == {4}


def test_conditions_hold_in_every_grip() -> None:
    """Strings, region and strategy are those of the request."""
    result = _lead("| Fm7 | Bb7 |", strings=(4, 3, 2, 1), lowest_fret=5, highest_fret=12)
    for row in result.rows():
        assert row.frets[:2] == (None, None)
        assert all(fret == 0 or 5 <= fret <= 12 for fret in row.frets[2:] if fret is not None)


def test_top_line_is_a_word_or_pitches() -> None:
    """A given line is on top; - leaves a chord free."""
    asked = [row.top for row in _lead(top="F4, - E4").rows()]
    assert (asked[0], asked[2]) == ("F4", "E4")
    rising = [Pitch.parse(row.top).midi for row in _lead(top="rising").rows()]
    assert rising == sorted(rising)
    assert rising[0] < rising[-1]


@pytest.mark.parametrize(
    ("top", "error"),
    [
        ("risng", UnknownNameError),
        ("F4 X4 E4", NotationError),
        ("F4 E4", ConditionError),
        ("", UnknownNameError),
    ],
)
def test_top_line_that_is_none_is_told(top: str, error: type[Exception]) -> None:
    """A misspelt word, an unreadable pitch and a wrong number of pitches."""
    with pytest.raises(error):
        _lead(top=top)


def test_unreadable_pitch_of_the_top_line_has_its_place() -> None:
    """The position is that in the whole text."""
    with pytest.raises(NotationError) as caught:
        _lead(top="F4 X4 E4")
    assert (caught.value.text, caught.value.position) == ("F4 X4 E4", 3)


def test_first_and_last_grip_are_kept() -> None:
    """The line goes from one to the other."""
    shapes = _shapes(_lead(first="x-5-7-5-6-x", last="x-3-5-4-5-x"))
    assert (shapes[0], shapes[-1]) == ("x-5-7-5-6-x", "x-3-5-4-5-x")


@pytest.mark.parametrize("field", ["first", "last"])
def test_grip_that_is_no_voicing_is_told_by_its_field(field: str) -> None:
    """Which of the two is wrong can be seen."""
    with pytest.raises(ConditionError) as caught:
        _lead(**{field: "x-x-0-0-0-0"})
    assert caught.value.name == field


def test_chord_without_a_voicing_is_told_with_its_bar() -> None:
    """Five tones must sound, and there are four strings."""
    with pytest.raises(NoCandidateError) as caught:
        _lead("| C | C13b9#11 |", instrument="ukulele")
    assert (caught.value.chord, caught.value.bar) == ("C13b9#11", 2)


def test_chart_without_chords_has_no_line() -> None:
    """N.C. is no chord."""
    with pytest.raises(NothingFoundError):
        _lead("| N.C. | % |")


def test_melody_is_asked_of_a_lead_sheet_only() -> None:
    """Text has none."""
    with pytest.raises(ConditionError) as caught:
        _lead(under_melody=True)
    assert caught.value.name == "under_melody"


def _sung() -> str:
    """A lead sheet whose melody is a whole note above each chord: E4, E4, D4."""
    data = write_leadsheet(Chart.parse("| Dm7 | G7 | Cmaj7 |")).decode()
    parts = re.split(r"<note.*?</note>", data, flags=re.DOTALL)
    notes = [
        f"<note><pitch><step>{step}</step><octave>4</octave></pitch><duration>32</duration>"
        "<voice>1</voice><type>whole</type></note>"
        for step in "EED"
    ]
    kept = [part for part in parts if "<measure" in part]
    text = "".join(part + note for part, note in zip(kept, notes, strict=True)) + parts[-1]
    return LEAD_SHEET + base64.b64encode(text.encode()).decode("ascii")


def test_melody_of_a_lead_sheet_is_harmonised() -> None:
    """A 9, a 13 and a 9 on top, which the symbols do not name; below them they sound too."""
    rows = list(_lead(_sung(), top="melody", choruses=2).rows())
    assert [row.top for row in rows] == ["E4", "E4", "D4"] * 2
    assert rows[0].added == ("9",)
    assert [row.symbol for row in rows[:3]] == ["Dm7", "G7", "Cmaj7"]
    assert rows[0].id != rows[3].id


def test_melody_of_a_lead_sheet_is_a_ceiling() -> None:
    """No voice lies above it, nor a half step beside it."""
    for row, top in zip(_lead(_sung(), under_melody=True).rows(), (64, 64, 62), strict=True):
        pitches = [Pitch.parse(pitch).midi for pitch in row.pitches]
        assert max(pitches) <= top
        assert all(abs(pitch - top) != 1 for pitch in pitches)


@pytest.mark.parametrize("values", [{"top": "melody"}, {"top": "E4 E4 D4", "under_melody": True}])
def test_melody_that_cannot_be_is_told(values: dict[str, Any]) -> None:
    """There is none in a text, and a given top line is one already."""
    chart = CADENCE if len(values) == 1 else _sung()
    with pytest.raises(ConditionError) as caught:
        _lead(chart, **values)
    assert caught.value.name == ("top" if len(values) == 1 else "under_melody")
