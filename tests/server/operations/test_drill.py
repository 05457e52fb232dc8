"""The operation drill: what of a request reaches the score, and what comes back."""

from fractions import Fraction
from typing import Any

import pytest

from gripwright import Chart, ConditionError, NotationError, UnknownNameError, lead
from gripwright_rhythm import make_drill, rung
from gripwright_server.operations.drill import FRETTED, DrillRequest, DrillResult, drill
from tests.server.operations.rhythm_registry import REGISTRY

CADENCE = "| Dm7 G7 | Cmaj7 |"
KEYED = f"key: C\n{CADENCE}"


def _drill(chart: str = CADENCE, **values: Any) -> DrillResult:
    values.setdefault("max_notes", 4)
    return drill(DrillRequest(chart=chart, **values), lambda: REGISTRY)


def test_score_is_that_of_the_library() -> None:
    """Nothing is added to the score and nothing lost."""
    guitar = REGISTRY.instruments["guitar"]
    line = lead(Chart.parse(CADENCE), guitar, max_notes=4)
    part = rung(15).parts(Chart.parse(CADENCE).meter)[3]
    expected = make_drill(
        line, part.pattern, part.click, tempo_bpm=90, choruses=2, swing="2:1", bass=True
    )
    result = _drill(rung=15, part=4, tempo=90.0, choruses=2, swing="2:1", bass=True)
    assert result.score.events == expected.events
    assert result.score.clicks == expected.clicks
    assert result.score.bass == expected.bass
    assert part.sentence.startswith(result.score.rhythm)


def test_rows_are_the_events() -> None:
    """Every chord with its exact start and end, and the seconds of a clock."""
    rows = list(_drill(pattern="1'", tempo=120.0).rows())
    assert [(row.symbol, row.onset, row.end) for row in rows] == [
        ("Dm7", "0", "1"),
        ("G7", "2", "3"),
        ("Cmaj7", "4", "5"),
    ]
    # Two bars of count-in at 120 beats a minute last 4 s.
    assert [(row.start_s, row.end_s) for row in rows] == [(4.0, 4.5), (5.0, 5.5), (6.0, 6.5)]
    assert all(row.short for row in rows)


def test_first_rung_without_another_rhythm() -> None:
    """A drill that names no rhythm begins where everybody does."""
    assert _drill().score.events == _drill(rung=1).score.events


def test_own_text_and_a_name_are_the_same_pattern() -> None:
    """A text of one's own does what the pattern of a family does."""
    named = _drill(pattern="backbeat").score.events
    assert named == _drill(pattern="2 4").score.events


def test_click_of_the_request_goes_before_that_of_the_rung() -> None:
    """The rung proposes; the player disposes."""
    assert len(_drill(rung=1, click="off").score.clicks) == 0
    beats = {click.beat for click in _drill(rung=1, click="2 4").score.clicks if click.bar > 0}
    assert beats == {Fraction(2), Fraction(4)}


def test_tempo_of_clicks() -> None:
    """Fifty clicks a minute on 2 and 4 are a hundred beats (common practice)."""
    score = _drill(pattern="1", click="2 4", tempo=50.0, tempo_of="clicks").score
    assert score.choruses[0].tempo_bpm == 100


def test_keys_go_round_by_chorus() -> None:
    """Each chorus is in the next key, with its own grips."""
    score = _drill(KEYED, pattern="1", keys="C F", choruses=3).score
    keys = [str(chorus.key) for chorus in score.choruses if chorus.number]
    assert keys == ["C", "F", "C"]
    symbols = [str(event.chord) for event in score.events]
    assert symbols == ["Dm7", "G7", "Cmaj7", "Gm7", "C7", "Fmaj7", "Dm7", "G7", "Cmaj7"]


def test_every_key_has_its_chorus_where_nobody_says_how_many() -> None:
    """No key is passed over in silence."""
    score = _drill(KEYED, pattern="1", keys="C F Bb").score
    assert [str(chorus.key) for chorus in score.choruses if chorus.number] == ["C", "F", "Bb"]
    assert len(_drill(KEYED, pattern="1").score.events) == 3
    with pytest.raises(ConditionError, match="choruses cannot be 2: expected 3 or more"):
        _drill(KEYED, pattern="1", keys="C F Bb", choruses=2)


def test_keys_apart_are_scores_of_their_own() -> None:
    """One drill a key, each from its count-in on."""
    result = _drill(KEYED, pattern="1", keys="C F Bb", apart=True)
    assert [str(score.choruses[0].key) for score in result.scores] == ["C", "F", "Bb"]
    assert result.count == 9


def test_further_tunes_are_drills_of_their_own() -> None:
    """Each in its own metre and key, with the same rung; rows say which drill they belong to."""
    waltz = "title: Round\nkey: G\nmetre: 3/4\n| D7 | G6 | % |"
    result = _drill(KEYED, rung=4, also=(waltz, "| Em7 | A7 |"))
    assert [str(score.bars[0].meter) for score in result.scores] == ["4/4", "3/4", "4/4"]
    assert [score.title for score in result.scores] == [None, "Round", None]
    assert [len(score.events) for score in result.scores] == [8, 9, 8]
    assert result.scores[1].events == _drill(waltz, rung=4).score.events
    assert [row.drill for row in result.rows()] == [1] * 8 + [2] * 9 + [3] * 8
    beside_a_form = drill(
        DrillRequest(form="turnaround", key="C", also=(CADENCE,)), lambda: REGISTRY
    )
    assert len(beside_a_form.scores) == 2


def test_further_tunes_go_through_the_keys_too() -> None:
    """Tune after tune, each in every key."""
    scores = _drill(KEYED, keys="C F", apart=True, also=("key: G\n| D7 | G6 |",)).scores
    assert [str(score.choruses[0].key) for score in scores] == ["C", "F", "C", "F"]
    assert [str(score.events[0].chord) for score in scores] == ["Dm7", "Gm7", "G7", "C7"]


def test_metre_of_the_first_bar_is_that_of_the_tune() -> None:
    """Where the chart says none at its head, the rung is that of its first bar."""
    score = _drill("| 6/8 Dm7 | 6/8 G7 |", rung=4).score
    assert [str(event.end - event.onset) for event in score.events] == ["3/2"] * 4


def test_own_rhythm_does_not_speak_of_a_click_that_is_another() -> None:
    """What the player chooses replaces what the rung has, in the words too."""
    score = _drill(rung=34, click="1").score
    assert score.rhythm == "Your own rhythm"
    assert score.click.startswith("on 1;")


def test_new_lines_differ_by_chorus() -> None:
    """Every chorus has grips of its own."""
    score = _drill(pattern="1", choruses=2, new_lines=True).score
    shapes = [event.voicing.shape for event in score.events]
    assert shapes[:3] != shapes[3:]
    same = [event.voicing.shape for event in _drill(pattern="1", choruses=2).score.events]
    assert same[:3] == same[3:]


def test_short_chords_are_fretted_and_the_sheet_says_why() -> None:
    """An open string does not stop when the hand lifts."""
    short = _drill(rung=2).score
    assert all(0 not in event.voicing.frets for event in short.events)
    assert FRETTED in short.notes
    held = _drill(rung=1).score
    assert any(0 in event.voicing.frets for event in held.events)
    assert FRETTED not in held.notes


def test_short_chords_on_open_strings_where_nothing_else_is_asked_for() -> None:
    """What the request asks for goes first, and the note says what to do about it."""
    score = _drill("| Em7 | % |", rung=2, highest_fret=0, max_notes=6).score
    assert any(0 in event.voicing.frets for event in score.events)
    assert FRETTED not in score.notes
    assert any("open string" in note for note in score.notes)


def test_hits_of_the_chart_go_before_any_rhythm() -> None:
    """What a chart prescribes is played as written; without a rung the rest is the first one."""
    score = _drill("| {1 2.5' 4} Dm7 | G7 |").score
    assert [(str(event.onset), event.short) for event in score.events] == [
        ("0", False),
        ("3/2", True),
        ("3", False),
        ("4", False),
    ]


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"rung": 1, "pattern": "1"}, "pattern", "none beside a rung"),
        ({"rung": 1, "part": 2}, "part", "1: rung 1 has no more in 4/4"),
        ({"rung": 9, "part": 3}, "part", "1 to 2: rung 9 has no more in 4/4"),
        ({"pattern": "1", "part": 2}, "part", "1 beside a pattern"),
        ({"pattern": "waltz-2-3"}, "pattern", "3/4"),
        ({"pattern": "1", "tempo": 5.0}, "tempo", "10 to 400 beats a minute"),
        ({"pattern": "1", "click": "2.5 4", "tempo_of": "clicks"}, "tempo_of", "beats"),
        ({"pattern": "1", "keys": "C F"}, "key", "the key of the chart"),
        ({"pattern": "1", "apart": True}, "apart", "keys to be apart"),
        ({"pattern": "1", "staccato": 2.0}, "staccato", "0.1 to 1"),
    ],
)
def test_contradiction_is_refused_by_its_field(
    values: dict[str, Any], field: str, words: str
) -> None:
    """Each refusal says which field, and what was expected."""
    with pytest.raises(ConditionError) as caught:
        _drill(**values)
    assert caught.value.name == field
    assert words in caught.value.expected


def test_rung_outside_its_metre_is_refused_by_its_number() -> None:
    """A bar of three beats has no fourth."""
    with pytest.raises(ConditionError, match="rung cannot be '14 in 3/4'"):
        _drill("metre: 3/4\n| Dm7 |", rung=14)


def test_bar_with_other_beats_is_refused_by_the_rung() -> None:
    """Nobody has named the pattern that a rung makes."""
    with pytest.raises(ConditionError, match="the metre of bar 2") as caught:
        _drill("| Dm7 | 6/8 G7 |", rung=2)
    assert (caught.value.name, caught.value.value) == ("rung", "2 in 4/4")
    with pytest.raises(ConditionError, match="pattern cannot be 'own'"):
        _drill("| Dm7 | 6/8 G7 |", pattern="1")


def test_unknown_pattern_is_told_what_is_near() -> None:
    """A slip of the hand costs one reading."""
    with pytest.raises(UnknownNameError, match="did you mean 'backbeat'"):
        _drill(pattern="backbeet")


@pytest.mark.parametrize("values", [{"pattern": "1 x"}, {"pattern": "1", "click": "2 x"}])
def test_unreadable_text_says_where(values: dict[str, Any]) -> None:
    """The place of the fault is told."""
    with pytest.raises(NotationError) as caught:
        _drill(**values)
    assert caught.value.position == 2


def test_equal_requests_give_equal_scores() -> None:
    """A seed is an argument, also where a rhythm is random."""
    first, again = (_drill(pattern="random-1", seed=7).score for _ in range(2))
    assert first == again
    assert first != _drill(pattern="random-1", seed=8).score
