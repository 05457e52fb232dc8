"""Scheduling: equal to fsrs called directly on the same log, in whatever order it arrives."""

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from fsrs import Card, Rating, Scheduler
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.vocabulary import GRADES
from gripwright_server.store import RATINGS, Review, Store
from gripwright_server.store.schedule import schedule_of
from tests.server.store.shelf import GRADE_NAMES, MOMENTS, NOW, entries

LOGS = st.lists(st.tuples(GRADE_NAMES, MOMENTS), min_size=1, max_size=12)
BY_HAND = {"looked": 1, "slowly": 2, "in-time": 3, "any-key": 4}


def by_fsrs(log: list[tuple[str, datetime]]) -> Card:
    """Return the card that fsrs itself makes of a log, its settings written out by hand."""
    scheduler = Scheduler(
        learning_steps=(), relearning_steps=(), maximum_interval=365, enable_fuzzing=False
    )
    ordered = sorted(enumerate(log), key=lambda pair: (pair[1][1].astimezone(UTC), f"{pair[0]:03}"))
    card = Card(card_id=1, due=NOW)
    for _, (grade, moment) in ordered:
        card, _ = scheduler.review_card(card, Rating(BY_HAND[grade]), moment.astimezone(UTC))
    return card


def as_reviews(log: list[tuple[str, datetime]], entry_id: str) -> list[Review]:
    """Return a log as reviews."""
    return [
        Review(f"{place:03}", entry_id, grade, moment) for place, (grade, moment) in enumerate(log)
    ]


@given(log=LOGS)
def test_a_schedule_equals_that_of_fsrs(log: list[tuple[str, datetime]]) -> None:
    """Against the library ``fsrs`` (PyPI), on the same grades and moments, to the last bit."""
    mine, card = schedule_of(as_reviews(log, "grip")), by_fsrs(log)
    assert mine is not None
    assert (mine.stability, mine.difficulty) == (card.stability, card.difficulty)
    assert (mine.due, mine.last_review) == (card.due, card.last_review)


@settings(max_examples=20)
@given(log=LOGS, data=st.data())
def test_a_store_schedules_as_fsrs_does(
    log: list[tuple[str, datetime]], data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Reviews may arrive in any order, and twice; card and log come to the same."""
    path = tmp_path_factory.mktemp("store") / "grips.db"
    entry = entries()[0]
    reviews = as_reviews(log, entry.id)
    arriving = data.draw(st.permutations([*reviews, *reviews[:3]]))
    with Store.open(path) as store:
        store.add([entry])
        for review in arriving:
            store.review(review)
        card, held = by_fsrs(log), store.schedule(entry.id)
        assert held is not None
        assert (held.stability, held.difficulty) == (card.stability, card.difficulty)
        assert (held.due, held.last_review) == (card.due, card.last_review)
        assert store.rebuild() == 1
        assert store.schedule(entry.id) == held
        assert len(store.reviews()) == len(log)


def test_players_words_are_ratings() -> None:
    """Every grade has its rating, the better the higher."""
    assert {name: int(rating) for name, rating in RATINGS.items()} == BY_HAND
    assert list(RATINGS) == list(GRADES)


@pytest.mark.parametrize(("better", "worse"), [("any-key", "in-time"), ("in-time", "slowly")])
def test_what_is_known_better_comes_later(better: str, worse: str) -> None:
    """Three reviews a few days apart."""
    dues = []
    for grade in (better, worse):
        reviews = [Review(str(n), "grip", grade, NOW + timedelta(days=3 * n)) for n in range(3)]
        schedule = schedule_of(reviews)
        assert schedule is not None
        dues.append(schedule.due)
    assert dues[0] > dues[1]


def test_nothing_comes_later_than_in_a_year() -> None:
    """However often it came in any key."""
    reviews = [Review(str(n), "grip", "any-key", NOW + timedelta(days=90 * n)) for n in range(20)]
    schedule = schedule_of(reviews)
    assert schedule is not None
    assert schedule.due - schedule.last_review == timedelta(days=365)


def test_time_zones_do_not_count() -> None:
    """The same moments told in other zones make the same schedule."""
    reviews = as_reviews([("in-time", NOW), ("slowly", NOW + timedelta(days=2))], "grip")
    there = [
        Review(
            one.id,
            one.entry_id,
            one.grade,
            one.reviewed_at.astimezone(timezone(timedelta(hours=-9))),
        )
        for one in reviews
    ]
    assert schedule_of(reviews) == schedule_of(there)


def test_the_hour_that_comes_twice_is_two_moments(tmp_path: Path) -> None:
    """Each is itself when it is sent again, in whatever zone (found by Hypothesis)."""
    zone = ZoneInfo("America/Los_Angeles")
    entry = entries()[0]
    with Store.open(tmp_path / "grips.db") as store:
        store.add([entry])
        for fold in (0, 1):
            at = datetime(2024, 11, 3, 1, tzinfo=zone, fold=fold)
            assert store.review(Review(f"fold-{fold}", entry.id, "in-time", at)).new
            for again in (at, at.astimezone(UTC)):
                assert not store.review(Review(f"fold-{fold}", entry.id, "in-time", again)).new
        first, second = store.reviews()
        assert second.reviewed_at - first.reviewed_at == timedelta(hours=1)


def test_wrong_reviews_are_refused(tmp_path: Path) -> None:
    """A naive time, an unknown grade, an empty id, and a year far away."""
    with pytest.raises(ConditionError, match="time zone"):
        Review("a", "grip", "in-time", datetime(2026, 1, 5))  # noqa: DTZ001 - what is refused
    with pytest.raises(UnknownNameError, match="grade"):
        Review("a", "grip", "good", NOW)
    for name in ("", "x" * 401, "a\nb"):
        with pytest.raises(ConditionError, match="id"):
            Review(name, "grip", "in-time", NOW)
    with Store.open(tmp_path / "grips.db") as store:
        store.add(entries()[:1])
        with pytest.raises(ConditionError, match="1900 to 2999"):
            store.review(Review("a", entries()[0].id, "in-time", NOW.replace(year=5000)))
        assert store.reviews() == ()
