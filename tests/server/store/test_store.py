"""A store: what is put in comes out, once, whoever says it how often."""

import contextlib
import json
import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import attrs
import pytest

from gripwright import Hand, Instrument
from gripwright.errors import ConditionError, UnknownNameError
from gripwright.vocabulary import Entry, LadderPlace, Profile, grip_for
from gripwright_server.store import Review, Store
from tests.server.store.shelf import GUITAR_ID, NOW, PLAYER, entries, filled


def test_entries_come_out_as_they_went_in(tmp_path: Path) -> None:
    """Also after the store was closed."""
    whole = tuple(
        attrs.evolve(entry, note=f"page {place}\n'quoted' \u266d", tags=("b", "a"))
        for place, entry in enumerate(entries())
    )
    with Store.open(tmp_path / "grips.db") as store:
        assert store.add(whole) == len(whole)
    with Store.open(tmp_path / "grips.db", create=False) as store:
        held = store.entries()
        assert held == tuple(sorted(whole, key=lambda entry: entry.id))
        assert [entry.facts for entry in held] == [store.entry(entry.id).facts for entry in held]
        assert {entry.id: entry.facts for entry in held} == {e.id: e.facts for e in whole}
        assert store.check() == ()


def test_adding_twice_adds_once(tmp_path: Path) -> None:
    """The entry that is there stays as it is, whatever comes with the second."""
    with filled(tmp_path / "grips.db") as store:
        known = store.entries()[0]
        assert store.add([attrs.evolve(known, note="other")]) == 0
        assert store.add([entries()[7], entries()[7]]) == 1
        assert store.entry(known.id) == known


def test_entries_are_found_by_what_they_are(tmp_path: Path) -> None:
    """By kind of chord, by state and by tag."""
    with filled(tmp_path / "grips.db", 20) as store:
        name = store.entries()[0].id
        store.change(name, tags=("mine",), state="suspended")
        assert [entry.id for entry in store.entries(tag="mine")] == [name]
        assert [entry.id for entry in store.entries(state="suspended")] == [name]
        assert {entry.facts.category for entry in store.entries(category="m")} == {"m"}
        with pytest.raises(UnknownNameError, match="entry"):
            store.entry("no such grip")


def test_a_review_counts_once(tmp_path: Path) -> None:
    """A retry is told what the first came to; another review of the same id is refused."""
    with Store.open(tmp_path / "grips.db") as store:
        store.add(entries()[:2])
        review = Review("once", entries()[0].id, "in-time", NOW)
        first, second = store.review(review), store.review(review)
        assert (first.new, second.new) == (True, False)
        assert first.schedule == second.schedule
        for other in (
            attrs.evolve(review, grade="looked"),
            attrs.evolve(review, entry_id=entries()[1].id),
            attrs.evolve(review, reviewed_at=NOW + timedelta(seconds=1)),
        ):
            with pytest.raises(ConditionError, match="no other review"):
                store.review(other)
        assert store.reviews() == (review,)
        with pytest.raises(UnknownNameError, match="entry"):
            store.review(attrs.evolve(review, id="more", entry_id="no such grip"))


def test_states_say_what_is_asked_and_what_counts(tmp_path: Path) -> None:
    """Suspended: known and at rest. Retired: neither. Both come back."""
    with Store.open(tmp_path / "grips.db") as store:
        store.add(entries()[:3])
        one, two, three = (entry.id for entry in entries()[:3])
        store.change(one, state="suspended")
        store.change(two, state="retired")
        standing = store.standing(GUITAR_ID, NOW)
        assert {facts.id for facts in standing.facts} == {one, three}
        assert {due.facts.id for due in standing.due} == {three}
        assert {facts.id for facts in store.facts(GUITAR_ID)} == {one, three}
        store.change(two, state="active")
        assert {due.facts.id for due in store.standing(GUITAR_ID, NOW).due} == {two, three}


def test_reviewed_entries_cannot_be_removed(tmp_path: Path) -> None:
    """The log is kept; what was entered by mistake can go."""
    with filled(tmp_path / "grips.db") as store:
        store.add([entries()[9]])
        store.remove(entries()[9].id)
        with pytest.raises(UnknownNameError):
            store.entry(entries()[9].id)
        with pytest.raises(ConditionError, match="retire"):
            store.remove(entries()[0].id)


def test_a_profile_is_kept(tmp_path: Path) -> None:
    """The last one counts, with its own instrument."""
    own = Instrument.from_text("E2 A2 D3 G3 C4 F4", frets=20, scale_mm=610.5)
    profile = Profile(own, Hand(3, 99.5), left_handed=True, stroke="pluck", band="bass")
    with Store.open(tmp_path / "grips.db") as store:
        assert store.profile() is None
        store.keep_profile(PLAYER)
        assert store.keep_profile(profile) == profile
    with Store.open(tmp_path / "grips.db") as store:
        assert store.profile() == profile


def test_profile_of_before_the_ladder_was_kept_stands_at_its_foot(tmp_path: Path) -> None:
    """A store and a document that an earlier Gripwright wrote open, and then keep the place."""
    with Store.open(tmp_path / "grips.db") as store:
        store.keep_profile(PLAYER)
        document = json.loads(store.export())
    file = sqlite3.connect(tmp_path / "grips.db")
    with contextlib.closing(file), file:
        (text,) = file.execute("SELECT value FROM about WHERE name = 'profile'").fetchone()
        record = json.loads(text)
        del record["ladder"], document["profile"]["ladder"]
        file.execute("UPDATE about SET value = ? WHERE name = 'profile'", [json.dumps(record)])
    climbed = attrs.evolve(PLAYER, ladder=LadderPlace(12, 3, 72.5))
    with Store.open(tmp_path / "grips.db") as store:
        assert store.profile() == PLAYER
        assert store.check() == ()
        store.keep_profile(climbed)
        assert store.profile() == climbed
    with Store.open(tmp_path / "other.db") as store:
        store.bring_in(json.dumps(document).encode())
        assert store.profile() == PLAYER


def test_one_name_is_one_tuning(tmp_path: Path) -> None:
    """Other strings under a known name are refused; another neck keeps the one that is known."""
    with filled(tmp_path / "grips.db") as store:
        other = Instrument.from_text("D2 A2 D3 G3 B3 E4", id=GUITAR_ID)
        chord = entries()[0].voicing.chord
        with pytest.raises(ConditionError, match="strings"):
            store.add([Entry(grip_for(chord, other, (-1, 3, 2, 0, 1, 3)), NOW)])
        longer = attrs.evolve(PLAYER.instrument, frets=24)
        assert store.keep_profile(Profile(longer)).instrument == PLAYER.instrument


def test_an_entry_never_reviewed_is_due(tmp_path: Path) -> None:
    """Also where the clock stood wrong when it was added."""
    with Store.open(tmp_path / "grips.db") as store:
        late = attrs.evolve(entries()[0], added=NOW + timedelta(days=4000))
        store.add([late])
        assert [due.facts.id for due in store.standing(GUITAR_ID, NOW).due] == [late.id]


def test_the_day_is_the_players(tmp_path: Path) -> None:
    """Due this evening is due this morning; due after the player's midnight is not."""
    entry = entries()[0]
    with Store.open(tmp_path / "grips.db") as store:
        store.add([entry])
        due = store.review(Review("one", entry.id, "in-time", NOW)).schedule.due
        assert due == datetime(2026, 1, 7, 20, tzinfo=UTC)
        zones = {"UTC": 1, "Pacific/Auckland": 0, "America/Los_Angeles": 1}
        for zone, count in zones.items():
            morning = datetime(2026, 1, 7, 8, tzinfo=ZoneInfo(zone))
            assert len(store.standing(GUITAR_ID, morning).due) == count, zone
        with pytest.raises(ConditionError, match="time zone"):
            store.standing(GUITAR_ID, datetime(2026, 1, 7))  # noqa: DTZ001 - what is refused


def test_a_clock_that_was_ahead_does_not_lose_a_grip(tmp_path: Path) -> None:
    """A review of the year 2035 does not count until then; the schedule goes on meanwhile."""
    entry = entries()[0]
    with Store.open(tmp_path / "grips.db") as store:
        store.add([entry])
        store.review(Review("right", entry.id, "in-time", NOW))
        before = store.schedule(entry.id)
        store.review(Review("ahead", entry.id, "in-time", NOW.replace(year=2035)))
        assert before is not None
        late = before.due + timedelta(hours=1)
        assert [due.since for due in store.standing(GUITAR_ID, late).due] == [before.due]
        assert store.standing(GUITAR_ID, NOW + timedelta(hours=1)).due == ()
        after = store.review(Review("again", entry.id, "in-time", late))
        assert store.standing(GUITAR_ID, late + timedelta(hours=1)).due == ()
        month = store.standing(GUITAR_ID, late + timedelta(days=40)).due
        assert [due.facts.id for due in month] == [entry.id]
        assert after.schedule.last_review.year == 2035
        assert store.check() == ()


def test_a_clock_that_was_behind_does_no_harm(tmp_path: Path) -> None:
    """A review of 1970 counts as the first; the next comes to the same as without the wait."""
    entry = entries()[0]
    with Store.open(tmp_path / "grips.db") as store:
        store.add([entry])
        store.review(Review("behind", entry.id, "in-time", datetime(1970, 1, 1, tzinfo=UTC)))
        assert len(store.standing(GUITAR_ID, NOW).due) == 1
        store.review(Review("now", entry.id, "slowly", NOW))
        assert store.standing(GUITAR_ID, NOW + timedelta(hours=1)).due == ()
        assert store.check() == ()
