"""The day at a store: its plan, its gaps, and how a vocabulary begins."""

from __future__ import annotations

from datetime import datetime
from itertools import islice
from typing import Any, Final

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.tune.chart import Chart
from gripwright.vocabulary.category import Category, categories
from gripwright.vocabulary.entry import Entry
from gripwright.vocabulary.gap import Gap, gaps
from gripwright.vocabulary.grade import KNOWN_ALREADY
from gripwright.vocabulary.plan import DayPlan, Rung, plan_day
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.starter import starter_set
from gripwright_server.store.review_rows import PLAN_SOURCE
from gripwright_server.store.schedule import Review
from gripwright_server.store.store import Reviewed, Store

STARTER_SOURCE: Final = "starter set"
"""Where the entries of the starter set come from."""

SHOWN_GAPS: Final = 20


@attrs.frozen
class Overview:
    """A vocabulary by kind of chord.

    Args:
        categories: What there is.
        gaps: The first of what there is not, the earliest to fill first.

    Example:
        >>> Overview(categories=(), gaps=()).gaps
        ()
    """

    categories: tuple[Category, ...]
    gaps: tuple[Gap, ...]


def today(
    store: Store,
    now: datetime,
    *,
    minutes: int = 20,
    tune: Chart[Chord] | None = None,
    rung: Rung | None = None,
    seed: int = 0,
    **conditions: Any,
) -> DayPlan:
    """The plan of the day, by the vocabulary that is kept.

    Args:
        store: The store, which has a profile.
        now: With the player's time zone, which says what day it is.
        minutes: Minutes of the session, 5 to 240.
        tune: The tune at hand.
        rung: The rung of the ladder.
        seed: Chooses keys and questions.
        **conditions: Conditions of the search for new grips, as in `find_voicings`.

    Raises:
        ConditionError: There is no profile yet, a time without a zone, or minutes out of range.
        StoreError: The store cannot be read.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     added = begin(store, player, now)
        ...     today(store, now).minutes
        ...     store.close()
        20
    """
    profile = profile_of(store)
    standing = store.standing(profile.instrument.id, now)
    return plan_day(
        now.date(),
        profile,
        standing.facts,
        minutes=minutes,
        due=standing.due,
        learned=standing.learned,
        tune=tune,
        rung=rung,
        seed=seed,
        **conditions,
    )


def overview(store: Store, *, limit: int | None = SHOWN_GAPS, **conditions: Any) -> Overview:
    """What the vocabulary has by kind of chord, and the first of what it lacks.

    Args:
        store: The store, which has a profile.
        limit: How many gaps at most; None for all.
        **conditions: Conditions of the search, as in `find_voicings`.

    Raises:
        ConditionError: There is no profile yet.
        StoreError: The store cannot be read.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     added = begin(store, player, now)
        ...     overview(store, limit=1).gaps[0].sentence
        ...     store.close()
        'no minor sixth'
    """
    profile = profile_of(store)
    facts = store.facts(profile.instrument.id)
    asked = {"stroke": profile.stroke, **conditions}
    lacking = gaps(facts, profile.instrument, hand=profile.hand, **asked)
    return Overview(categories(facts), tuple(islice(lacking, limit)))


def begin(store: Store, profile: Profile, now: datetime) -> int:
    """Begin a vocabulary: keep the profile, and add the starter set of its instrument.

    Args:
        store: The store.
        profile: The player.
        now: With a time zone.

    Returns:
        How many entries are new.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     begin(store, player, now), begin(store, player, now)
        ...     store.close()
        (22, 0)
    """
    kept = store.keep_profile(profile)
    return store.add(
        Entry(one.grip, now, tags=(one.stage,), source=STARTER_SOURCE) for one in starter_set(kept)
    )


def learn(store: Store, plan: DayPlan, now: datetime) -> Entry | None:
    """Add the new grip of a plan: the day then has had its own.

    Args:
        store: The store.
        plan: The plan.
        now: With a time zone.

    Returns:
        The entry, or None where the plan has no new grip.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     kept = store.keep_profile(player)
        ...     learn(store, today(store, now), now).source
        ...     store.close()
        'the plan of the day'
    """
    if plan.new is None:
        return None
    entry = Entry(plan.new.grip, now, source=PLAN_SOURCE)
    store.add([entry])
    return entry


def know_already(store: Store, entry_id: str, now: datetime) -> Reviewed:
    """Mark an entry as one that the player knew before it was entered.

    It counts as a first review with the best grade, once, however often it is said.

    Args:
        store: The store.
        entry_id: The entry.
        now: With a time zone.

    Raises:
        UnknownNameError: There is no such entry.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     added = begin(store, player, now)
        ...     know_already(store, store.names()[0], now).new
        ...     store.close()
        True
    """
    name = f"known/{entry_id}"
    said = [review for review in store.reviews(entry_id) if review.id == name]
    review = said[0] if said else Review(name, entry_id, KNOWN_ALREADY.name, now)
    return store.review(review)


def profile_of(store: Store) -> Profile:
    """The profile of a store.

    Raises:
        ConditionError: There is none yet.

    Example:
        >>> import tempfile
        >>> from datetime import UTC
        >>> from pathlib import Path
        >>> from gripwright import Instrument
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> player = Profile(Instrument.from_text("G4 C4 E4 A4"))
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     store = Store.open(Path(folder) / "v.db")
        ...     added = begin(store, player, now)
        ...     profile_of(store) == player
        ...     store.close()
        True
    """
    profile = store.profile()
    if profile is None:
        raise ConditionError(
            name="profile", value=None, expected="a profile in the store: set the instrument first"
        )
    return profile
