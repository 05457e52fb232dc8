"""A store against a plain model in memory, over random histories with crashes and reopenings."""

import shutil
import sqlite3
import tempfile
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from sqlalchemy import event

from gripwright import ConditionError, Hand, UnknownNameError
from gripwright.vocabulary import STATES, Entry, Profile
from gripwright_server.store import Document, Review, Schedule, Store, StoreError
from gripwright_server.store.schedule import schedule_of
from tests.core.neck.reference import instrument
from tests.server.store.shelf import GRADE_NAMES, MOMENTS, NOW, entries

SHELF = [*entries()[:6], *entries()[-4:]]
INSTRUMENTS = {entry.voicing.instrument.id for entry in SHELF}
ENTRIES = st.sampled_from(SHELF)
PROFILES = st.builds(
    Profile,
    st.sampled_from([instrument("guitar"), instrument("ukulele")]),
    st.builds(Hand, st.integers(1, 5), st.floats(50, 150)),
    left_handed=st.booleans(),
    stroke=st.sampled_from(["any", "strum", "pluck"]),
    band=st.sampled_from([None, "bass"]),
)
REVIEWS = st.builds(
    Review, st.integers(0, 30).map(str), ENTRIES.map(lambda one: one.id), GRADE_NAMES, MOMENTS
)


class StoreAgainstModel(RuleBasedStateMachine):
    """The model: a dictionary of entries, one of reviews, and a profile."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "grips-0.db"
        self.files = 0
        self.store = Store.open(self.path)
        self.entries: dict[str, Entry] = {}
        self.reviews: dict[str, Review] = {}
        self.profile: Profile | None = None
        self.documents: list[tuple[bytes, dict[str, Entry], dict[str, Review], Profile | None]] = []

    def teardown(self) -> None:
        """End of a history: the file is sound."""
        assert self.store.check() == ()
        self.store.close()
        with closing(sqlite3.connect(self.path)) as raw:
            assert list(raw.execute("PRAGMA integrity_check")) == [("ok",)]
        shutil.rmtree(self.folder)

    @initialize(some=st.lists(ENTRIES, max_size=4))
    def begin(self, some: list[Entry]) -> None:
        """Begin with some entries."""
        self.add(some)

    @rule(some=st.lists(ENTRIES, max_size=3), note=st.text(max_size=5))
    def add_entries(self, some: list[Entry], note: str) -> None:
        """Add entries, known ones among them."""
        self.add([attrs.evolve(entry, note=note) for entry in some])

    def add(self, some: list[Entry]) -> None:
        """Add entries to both."""
        new = {entry.id: entry for entry in some if entry.id not in self.entries}
        assert self.store.add(some) == len(new)
        for entry in some:
            if entry.id in new:
                self.entries[entry.id] = entry

    @rule(review=REVIEWS)
    def review(self, review: Review) -> None:
        """Review: new, again, under an id that is taken, or of an entry that there is not."""
        if review.id in self.reviews and self.reviews[review.id] != review:
            with pytest.raises(ConditionError):
                self.store.review(review)
        elif review.id not in self.reviews and review.entry_id not in self.entries:
            with pytest.raises(UnknownNameError):
                self.store.review(review)
        else:
            done = self.store.review(review)
            assert done.new == (review.id not in self.reviews)
            self.reviews[review.id] = review
            assert done.schedule == self.schedule(review.entry_id)

    @rule(
        entry=ENTRIES,
        state=st.sampled_from([None, *STATES]),
        tags=st.none() | st.lists(st.sampled_from("ab"), max_size=2),
    )
    def change(self, entry: Entry, state: Any, tags: list[str] | None) -> None:  # noqa: ANN401 - drawn
        """Change state and tags."""
        if entry.id not in self.entries:
            with pytest.raises(UnknownNameError):
                self.store.change(entry.id, state=state)
            return
        changes = {"state": state, "tags": tags}
        given = {name: value for name, value in changes.items() if value is not None}
        self.entries[entry.id] = attrs.evolve(self.entries[entry.id], **given)
        assert self.store.change(entry.id, **changes) == self.entries[entry.id]

    @rule(entry=ENTRIES)
    def remove(self, entry: Entry) -> None:
        """Remove what was never reviewed."""
        if entry.id not in self.entries:
            with pytest.raises(UnknownNameError):
                self.store.remove(entry.id)
        elif any(review.entry_id == entry.id for review in self.reviews.values()):
            with pytest.raises(ConditionError):
                self.store.remove(entry.id)
        else:
            self.store.remove(entry.id)
            del self.entries[entry.id]

    @rule(profile=PROFILES)
    def keep_profile(self, profile: Profile) -> None:
        """Keep a profile."""
        self.profile = self.store.keep_profile(profile)
        assert self.profile == profile

    @rule()
    def export(self) -> None:
        """Keep a document for later."""
        state = (dict(self.entries), dict(self.reviews), self.profile)
        self.documents.append((self.store.export(), *state))

    @precondition(lambda self: self.documents)
    @rule(data=st.data())
    def bring_in(self, data: st.DataObject) -> None:
        """Import an older state: what is new comes in, what is there stays."""
        document, known, reviews, profile = data.draw(st.sampled_from(self.documents))
        self.store.bring_in(document)
        self.entries = {**known, **self.entries}
        self.reviews = {**reviews, **self.reviews}
        self.profile = self.profile or profile

    @rule()
    def reopen(self) -> None:
        """Close it and open it again."""
        self.store.close()
        self.store = Store.open(self.path, create=False)

    @rule()
    def crash(self) -> None:
        """Lose the power: what lies on the disk at that moment is what there is."""
        self.files += 1
        path = self.folder / f"grips-{self.files}.db"
        for suffix in ("", "-wal"):
            source = Path(f"{self.path}{suffix}")
            if source.exists():
                shutil.copy(source, f"{path}{suffix}")
        self.store.close()
        self.path = path
        self.store = Store.open(path, create=False)

    @rule(some=st.lists(ENTRIES, min_size=1, max_size=3), review=REVIEWS)
    def fail(self, some: list[Entry], review: Review) -> None:
        """Let the database fail as a step is about to end: nothing of it stays."""

        def refuse(_connection: object) -> None:
            raise sqlite3.OperationalError("disk I/O error")

        engine = self.store._engine  # noqa: SLF001 - the fault is put in from outside
        event.listen(engine, "commit", refuse)
        try:
            document = Document(None, (some[0].voicing.instrument,), tuple(some[:1]), ())
            for step in (
                lambda: self.store.add(some),
                lambda: self.store.review(review),
                lambda: self.store.bring_in(document.dump()),
            ):
                with pytest.raises(
                    (sqlite3.OperationalError, StoreError, ConditionError, KeyError)
                ):
                    step()
        finally:
            event.remove(engine, "commit", refuse)

    @rule()
    def rebuild(self) -> None:
        """Work the cards out anew: nothing changes."""
        reviewed = {review.entry_id for review in self.reviews.values()}
        assert self.store.rebuild() == len(reviewed)

    def schedule(self, entry_id: str, until: datetime | None = None) -> Schedule | None:
        """Return the schedule by the reviews of the model."""
        return schedule_of(
            review
            for review in self.reviews.values()
            if review.entry_id == entry_id and (until is None or review.reviewed_at <= until)
        )

    @rule(now=MOMENTS)
    def look_at_the_day(self, now: datetime) -> None:
        """What is due is due by the model too."""
        midnight = datetime.combine(now.date() + timedelta(days=1), datetime.min.time(), now.tzinfo)
        for name in INSTRUMENTS:
            mine = {
                entry.id: self.schedule(entry.id, now)
                for entry in self.entries.values()
                if entry.voicing.instrument.id == name and entry.state == "active"
            }
            due = {
                entry_id
                for entry_id, schedule in mine.items()
                if schedule is None or schedule.due < midnight.astimezone(UTC)
            }
            standing = self.store.standing(name, now)
            assert {one.facts.id for one in standing.due} == due
            for one in standing.due:
                schedule = mine[one.facts.id]
                assert one.since == (NOW if schedule is None else schedule.due)

    @invariant()
    def equals_the_model(self) -> None:
        """Everything that is kept is what the model has."""
        assert {entry.id: entry for entry in self.store.entries()} == self.entries
        assert {review.id: review for review in self.store.reviews()} == self.reviews
        assert self.store.profile() == self.profile
        for name in self.entries:
            assert self.store.schedule(name) == self.schedule(name)


StoreAgainstModel.TestCase.settings = settings(max_examples=25, stateful_step_count=25)
TestStoreAgainstModel = StoreAgainstModel.TestCase
