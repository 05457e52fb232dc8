"""Grips, entries and times that the tests of the store share."""

import functools
from datetime import UTC, datetime, timedelta
from itertools import product
from pathlib import Path

from hypothesis import strategies as st

from gripwright.vocabulary import GRADES, Entry, Facts, Profile, starter_set
from gripwright_server.store import Review, Store
from tests.core.neck.reference import instrument

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
PLAYER = Profile(instrument("guitar"))
GUITAR_ID = PLAYER.instrument.id


@functools.cache
def entries() -> tuple[Entry, ...]:
    """Return entries of two instruments, worked out once."""
    players = (PLAYER, Profile(instrument("ukulele")))
    grips = [one.grip for player in players for one in starter_set(player)]
    facts = Facts.of_all(grips)
    return tuple(
        Entry(grip, NOW, tags=("starter",), source="the shelf", facts=fact)
        for grip, fact in zip(grips, facts, strict=True)
    )


def filled(path: Path, count: int = 5) -> Store:
    """Return an open store with a profile, some entries and some reviews."""
    store = Store.open(path)
    store.keep_profile(PLAYER)
    store.add(entries()[:count])
    for place, (entry, grade) in enumerate(product(entries()[:count], GRADES)):
        store.review(Review(f"first-{place}", entry.id, grade, NOW + timedelta(minutes=place)))
    return store


MOMENTS = st.datetimes(
    min_value=datetime(2020, 1, 1),  # noqa: DTZ001 - drawn with a time zone
    max_value=datetime(2030, 1, 1),  # noqa: DTZ001 - the same
    timezones=st.timezones(),
)
"""Moments in any time zone."""

GRADE_NAMES = st.sampled_from(list(GRADES))
