"""A month with a store: starter set, reviews, new grips, gaps that close, a backlog that holds."""

import random
import shutil
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from gripwright import Chart, ConditionError
from gripwright.vocabulary import DayPlan, check_answer
from gripwright_server.store import Review, Store, begin, know_already, learn, overview, today
from gripwright_server.store.day import STARTER_SOURCE
from gripwright_server.store.moment import day_of, from_text, to_text
from gripwright_server.store.place import VARIABLE, store_path
from tests.server.store.shelf import NOW, PLAYER, entries

BERLIN = ZoneInfo("Europe/Berlin")
TUNE = Chart.parse("title: Rain\n| Gm7 | C7 | Fmaj7 | % | Em7b5 | A7b9 | Dm6 | % |")
FIRST = datetime(2026, 3, 9, 19, tzinfo=BERLIN)


def practise(store: Store, plan: DayPlan, now: datetime, dice: random.Random) -> None:
    """Do what a plan says: answer the reviews, and enter the new grip."""
    for place, prompt in enumerate(plan.prompts):
        assert check_answer(prompt, (prompt.answers or ("C",))[0]).right or not prompt.answers
        grade = dice.choice(["slowly", "in-time", "in-time", "any-key"])
        at = now + timedelta(seconds=40 * place)
        store.review(Review(f"{now.date()}/{place}", prompt.entry_id, grade, at))
    assert (learn(store, plan, now) is None) == (plan.new is None)


def test_a_month_with_a_store(tmp_path: Path) -> None:
    """Thirty days of twenty minutes, over the change of clocks, the file copied and carried over.

    The plan of a day is the same from the file, from a copy of it, and from an export.
    """
    dice = random.Random(1)  # noqa: S311 - a player's luck, no secret
    path, copy, other = tmp_path / "grips.db", tmp_path / "copy.db", tmp_path / "other.db"
    learned, waiting, paused = [], [], 0
    with Store.open(path) as store:
        assert begin(store, PLAYER, FIRST) >= 30
        for entry in store.entries()[:20]:
            know_already(store, entry.id, FIRST)
        first_gaps = {gap.sentence for gap in overview(store, limit=400).gaps}
        for day in range(30):
            # The same hour by the player's clock, summer time or not; a day left out now and then.
            now = FIRST + timedelta(days=day)
            if day % 9 == 5:
                continue
            plan = today(store, now, minutes=20, tune=TUNE)
            assert plan == today(store, now, minutes=20, tune=TUNE)
            assert plan.minutes == 20
            waiting.append(plan.waiting)
            paused += plan.paused is not None
            if plan.new is not None:
                learned.append(plan.new.gap.sentence)
            practise(store, plan, now, dice)
        last_gaps = {gap.sentence for gap in overview(store, limit=400).gaps}
        assert store.check() == ()
        data = store.export()
        later = FIRST + timedelta(days=30)
        wanted = today(store, later, tune=TUNE)
    assert len(learned) >= 15
    assert not set(learned) & last_gaps
    assert first_gaps - last_gaps
    assert max(waiting) <= 40
    assert waiting[-1] <= waiting[0] + 5
    assert paused < 15
    shutil.move(path, copy)
    shutil.copy(copy, path)
    with Store.open(path) as store:
        assert today(store, later, tune=TUNE) == wanted
    with Store.open(other) as store:
        store.bring_in(data)
        assert today(store, later, tune=TUNE) == wanted
        assert store.export() == data


def test_the_starter_set_comes_once(tmp_path: Path) -> None:
    """Beginning again adds nothing, and a second instrument adds its own."""
    with Store.open(tmp_path / "grips.db") as store:
        count = begin(store, PLAYER, NOW)
        assert begin(store, PLAYER, NOW + timedelta(days=1)) == 0
        held = store.entries()
        assert len(held) == count
        assert {entry.source for entry in held} == {STARTER_SOURCE}
        assert all(entry.tags for entry in held)
        assert {entry.added for entry in held} == {NOW}


def test_what_is_known_already_counts_once(tmp_path: Path) -> None:
    """Said twice it is one review, with the best grade, and the grip rests for days."""
    with Store.open(tmp_path / "grips.db") as store:
        store.add(entries()[:1])
        name = entries()[0].id
        first = know_already(store, name, NOW)
        second = know_already(store, name, NOW + timedelta(days=1))
        assert (first.new, second.new) == (True, False)
        assert first.schedule == second.schedule
        assert first.schedule.due - NOW >= timedelta(days=5)
        assert [review.grade for review in store.reviews()] == ["any-key"]


def test_a_day_has_one_new_grip(tmp_path: Path) -> None:
    """Once it is learned there is no other until midnight, and the tune is played with it."""
    tune = Chart.parse("| Cmaj7 | Am7 | Dm7 | G7 |")
    with Store.open(tmp_path / "grips.db") as store:
        store.keep_profile(PLAYER)
        plan = today(store, NOW, tune=tune)
        entry = learn(store, plan, NOW)
        assert entry is not None
        again = today(store, NOW + timedelta(hours=1), tune=tune)
        assert again.new is None
        assert again.paused is not None
        assert entry.id in again.paused
        assert learn(store, again, NOW) is None
        assert again.passage is not None
        assert plan.passage is not None
        assert again.passage.place == plan.passage.place is not None
        tomorrow = today(store, NOW + timedelta(days=1), tune=tune)
        assert tomorrow.new is not None
        assert tomorrow.paused is None
        assert [prompt.entry_id for prompt in tomorrow.prompts] == [entry.id]


def test_a_plan_needs_a_profile(tmp_path: Path) -> None:
    """It says so."""
    with Store.open(tmp_path / "grips.db") as store:
        for ask in (lambda: today(store, NOW), lambda: overview(store)):
            with pytest.raises(ConditionError, match="profile"):
                ask()


def test_an_overview_counts_and_names_gaps(tmp_path: Path) -> None:
    """What is retired counts no more, and its gap is open again."""
    with Store.open(tmp_path / "grips.db") as store:
        begin(store, PLAYER, NOW)
        before = overview(store, limit=400)
        assert sum(one.count for one in before.categories) == len(store.entries())
        for entry in store.entries(category="dim7"):
            store.change(entry.id, state="retired")
        after = overview(store, limit=400)
        assert "no diminished seventh" in {gap.sentence for gap in after.gaps}
        assert "no diminished seventh" not in {gap.sentence for gap in before.gaps}
        assert len(overview(store, limit=3).gaps) == 3


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        # The clocks of Berlin went forward on 29 March 2026 and back on 25 October (tz database).
        ("Europe/Berlin", (2026, 3, 29), 23),
        ("Europe/Berlin", (2026, 10, 25), 25),
        ("Europe/Berlin", (2026, 7, 1), 24),
        ("Pacific/Auckland", (2026, 4, 5), 25),
    ],
)
def test_days_are_as_long_as_clocks_make_them(
    zone: str, day: tuple[int, int, int], hours: int
) -> None:
    """From its first moment to the first of the next."""
    begins, ends = day_of(datetime(*day, 12, tzinfo=ZoneInfo(zone)))
    assert ends - begins == timedelta(hours=hours)
    assert begins.astimezone(ZoneInfo(zone)).hour == 0


def test_moments_sort_as_their_texts_do() -> None:
    """To the microsecond, and only in one form."""
    moments = [NOW, NOW + timedelta(microseconds=1), NOW + timedelta(days=400)]
    assert sorted(map(to_text, moments)) == list(map(to_text, moments))
    assert [from_text(to_text(moment)) for moment in moments] == moments
    for text in ("2026-01-05T20:00:00Z", "2026-01-05T20:00:00.000000+00:00", "2026-01-05", "soon"):
        with pytest.raises(ValueError, match=text[:4]):
            from_text(text)


def test_the_store_is_where_one_says() -> None:
    """What is asked for, then the environment, then the user's data folder."""
    assert store_path("a.db", {VARIABLE: "b.db"}) == Path("a.db")
    assert store_path(None, {VARIABLE: "b.db"}) == Path("b.db")
    assert store_path(None, {VARIABLE: ""}) == store_path(None, {})
    assert "gripwright" in str(store_path(None, {}))
