"""The plan of a day: its minutes, its reviews, its new grip, and what it says of the hands."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, ConditionError, Instrument
from gripwright.errors import UnknownNameError
from gripwright.vocabulary import (
    GRADES,
    DayPlan,
    Due,
    Facts,
    Profile,
    Rung,
    grade_of,
    plan_day,
    starter_set,
)
from gripwright.vocabulary.caution import LONGEST_STRETCH, stretch_caution
from gripwright.vocabulary.time_table import SECONDS_A_REVIEW, shared_out, with_breaks
from tests.core.vocabulary.players import GUITAR, PLAYER, known

DAY = date(2026, 1, 5)
SINCE = datetime(2026, 1, 4, 20, tzinfo=UTC)
KNOWN = tuple(Facts.of(one.grip) for one in starter_set(PLAYER))
RUNG = Rung("rung 3", "long and short by turns, bar by bar", "80 beats a minute")
TUNE = Chart.parse("| Gm7 | C7 | Fmaj7 | % | Em7b5 | A7b9 | Dm6 | % |")


def due(count: int) -> list[Due]:
    """Return reviews that fell due one after the other."""
    return [
        Due(facts, SINCE + timedelta(minutes=place)) for place, facts in enumerate(KNOWN[:count])
    ]


def stretches(plan: DayPlan) -> list[int]:
    """Return the minutes of playing between breaks."""
    found = [0]
    for block in plan.blocks:
        if block.kind == "break":
            found.append(0)
        else:
            found[-1] += block.minutes
    return found


@given(
    minutes=st.integers(5, 240),
    reviews=st.integers(0, 500),
    new=st.booleans(),
    tune=st.booleans(),
    rung=st.booleans(),
)
def test_minutes_add_up_and_breaks_come_in_time(
    *,
    minutes: int,
    reviews: int,
    new: bool,
    tune: bool,
    rung: bool,
) -> None:
    """Whatever there is to do: every minute is given out, and no stretch is too long."""
    table = shared_out(minutes, due=reviews, new=new, tune=tune, rung=rung)
    spells = list(with_breaks(list(table.minutes.items()), table.breaks))
    assert sum(spell.minutes for spell in spells) == minutes
    assert all(spell.minutes > 0 for spell in spells)
    stretch = longest = 0
    for spell in spells:
        stretch = 0 if spell.what is None else stretch + spell.minutes
        longest = max(longest, stretch)
    assert longest <= LONGEST_STRETCH
    assert spells[0].what == "warm-up"
    assert spells[-1].what is not None
    if minutes >= 15:
        assert any(spell.what is None for spell in spells)


@given(minutes=st.integers(5, 240), reviews=st.integers(0, 500))
def test_the_backlog_is_capped_by_the_time(minutes: int, reviews: int) -> None:
    """Reviews have the time that they need, or new grips pause and the rest wait."""
    table = shared_out(minutes, due=reviews, new=True, tune=True, rung=True)
    given_minutes = table.minutes.get("review", 0)
    assert table.reviews * SECONDS_A_REVIEW <= given_minutes * 60
    if table.reviews < reviews:
        assert table.paused
    assert table.paused == ("new grip" not in table.minutes)


@pytest.mark.parametrize("minutes", [4, 241, True, 20.0])
def test_minutes_out_of_range_are_refused(minutes: int) -> None:
    """Five minutes to four hours."""
    with pytest.raises(ConditionError, match="5 to 240"):
        plan_day(DAY, PLAYER, (), minutes=minutes)


def test_a_day_has_its_parts_in_order() -> None:
    """Warm-up, reviews, the new grip, the tune with it, the ladder, and a break."""
    plan = plan_day(DAY, PLAYER, KNOWN, minutes=25, due=due(6), tune=TUNE, rung=RUNG)
    kinds = [block.kind for block in plan.blocks if block.kind != "break"]
    assert kinds == ["warm-up", "review", "new grip", "tune", "ladder"]
    assert plan.minutes == 25
    assert len(plan.prompts) == 6
    assert plan.waiting == 0
    assert plan.paused is None
    assert plan.new is not None
    assert plan.passage is not None
    assert plan.passage.place is not None
    assert plan.passage.line.steps[plan.passage.place].voicing.degrees == plan.new.grip.degrees
    words = [line for block in plan.blocks for line in block.lines]
    assert "rung 3: long and short by turns, bar by bar" in words
    assert any(line.startswith("Hear it over ") for line in words)
    assert any(line.startswith("Round the fourths: ") for line in words)


def test_a_plan_is_a_function_of_its_arguments() -> None:
    """The same day is the same plan; another day or seed asks other things."""
    settings = {"minutes": 20, "due": due(8), "tune": TUNE}
    plan = plan_day(DAY, PLAYER, KNOWN, **settings)  # type: ignore[arg-type]
    assert plan == plan_day(DAY, PLAYER, KNOWN, **settings)  # type: ignore[arg-type]
    assert plan.prompts != plan_day(DAY, PLAYER, KNOWN, seed=1, **settings).prompts  # type: ignore[arg-type]
    other = plan_day(DAY + timedelta(days=1), PLAYER, KNOWN, **settings)  # type: ignore[arg-type]
    assert plan.prompts != other.prompts
    assert plan.new == other.new


def test_new_grips_pause_while_reviews_exceed_the_time() -> None:
    """The oldest come first, the others wait and are counted."""
    reviews = due(30)
    plan = plan_day(DAY, PLAYER, KNOWN, minutes=15, due=reversed(reviews), tune=TUNE)
    assert plan.new is None
    assert plan.paused is not None
    assert "30 reviews are due" in plan.paused
    assert [prompt.entry_id for prompt in plan.prompts] == [
        one.facts.id for one in reviews[: len(plan.prompts)]
    ]
    assert plan.waiting == 30 - len(plan.prompts) > 0
    assert any("wait for another day" in line for block in plan.blocks for line in block.lines)


def test_the_first_day_has_a_new_grip_and_no_review() -> None:
    """Nothing is known: the plan says how to warm up, and what to learn."""
    plan = plan_day(DAY, PLAYER, ())
    assert plan.prompts == ()
    assert plan.new is not None
    assert plan.blocks[0].lines == ("Warm up first: easy shapes, little pressure, slow changes.",)


def test_warm_up_takes_easy_known_grips_up_the_neck() -> None:
    """Movable grips of a small span, where frets lie close."""
    plan = plan_day(DAY, PLAYER, known(("Cmaj7", "x-3-5-4-5-x"), ("C", "x-3-2-0-1-0")))
    assert plan.blocks[0].lines[1:] == ("Slowly, one after the other: Cmaj7 x-3-5-4-5-x.",)


def test_nothing_to_learn_leaves_the_time_to_the_rest() -> None:
    """A vocabulary without gaps still has its tune and its ladder."""
    one = Profile(Instrument.from_text("E2", frets=12))
    plan = plan_day(DAY, one, (), rung=RUNG)
    assert plan.new is None
    assert plan.paused is None
    assert plan.minutes == 20
    assert {block.kind for block in plan.blocks} == {"warm-up", "tune", "ladder", "break"}


def test_cautions_are_part_of_every_plan() -> None:
    """Pain stops the playing, the ears are thought of, and clinicians have the word."""
    plan = plan_day(DAY, PLAYER, KNOWN)
    said = " ".join(plan.cautions)
    for word in (
        "pain, numbness, tingling or weakness",
        "ears",
        "licensed clinician",
        "never play",
    ):
        assert word in said
    assert "reward" not in said


def test_a_stretch_is_cautioned() -> None:
    """A grip of more than 90 mm is a stretch."""
    assert stretch_caution(90.0) is None
    assert "97 mm" in str(stretch_caution(97.0))


def test_long_days_have_several_breaks() -> None:
    """Two hours: no stretch of more than 25 minutes, and what is cut goes on."""
    plan = plan_day(DAY, PLAYER, KNOWN, minutes=120, due=due(20), tune=TUNE, rung=RUNG)
    assert max(stretches(plan)) <= LONGEST_STRETCH
    assert len(stretches(plan)) == 5
    assert any(block.again for block in plan.blocks)


def test_a_naive_time_is_refused() -> None:
    """A review that fell due at no moment in particular."""
    with pytest.raises(ConditionError, match="time zone"):
        Due(KNOWN[0], datetime(2026, 1, 4))  # noqa: DTZ001 - what is refused


def test_grades_are_players_words() -> None:
    """By name and by words, the worst first."""
    assert [grade.words for grade in GRADES.values()] == [
        "had to look",
        "found it slowly",
        "in time",
        "in time in any key",
    ]
    assert [grade.place for grade in GRADES.values()] == [1, 2, 3, 4]
    for grade in GRADES.values():
        assert grade_of(grade.name) == grade_of(grade.words.upper()) == grade
    with pytest.raises(UnknownNameError, match="in-time"):
        grade_of("good")


@pytest.mark.parametrize("wrong", [{"stroke": "slap"}, {"band": "orchestra"}])
def test_a_profile_refuses_what_there_is_not(wrong: dict[str, str]) -> None:
    """Strokes and bands are named."""
    with pytest.raises(ConditionError):
        Profile(GUITAR, **wrong)  # type: ignore[arg-type]
