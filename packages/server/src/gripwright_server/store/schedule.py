"""When a grip is due again, by the reviews that it had.

The scheduling is that of the library ``fsrs``, without its random spread and with intervals of
whole days: grips are reviewed once a day and not minutes apart. A card is a function of the log
alone, whatever the order in which reviews arrive: they count in the order of their times.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Final

import attrs
from fsrs import Card, Rating, Scheduler, State

from gripwright.errors import ConditionError
from gripwright.vocabulary.entry import aware, in_utc
from gripwright.vocabulary.grade import GRADES
from gripwright_server.store.moment import to_text

RATINGS: Final = {
    "looked": Rating.Again,
    "slowly": Rating.Hard,
    "in-time": Rating.Good,
    "any-key": Rating.Easy,
}
"""What the player's grades are to the scheduler."""

LONGEST_INTERVAL: Final = 365
"""Days after which a grip comes again, however well it is known (our own proposal)."""

SCHEDULER: Final = Scheduler(
    learning_steps=(),
    relearning_steps=(),
    maximum_interval=LONGEST_INTERVAL,
    enable_fuzzing=False,
)
"""The scheduler, whose settings are part of the store's version."""

_LONGEST_ID: Final = 400


def _check_id(_instance: object, _attribute: object, value: str) -> None:
    if not 1 <= len(value) <= _LONGEST_ID or not value.isprintable():
        raise ConditionError(
            name="id", value=value, expected=f"1 to {_LONGEST_ID} printable characters"
        )


@attrs.frozen
class Review:
    """One line of the log.

    Args:
        id: Made by who reviews, 1 to 400 characters; the same review sent twice counts once.
        entry_id: The entry.
        grade: How it came, a name of `gripwright.vocabulary.grade.GRADES`.
        reviewed_at: When, with a time zone; kept in UTC.

    Raises:
        ConditionError: An id too long or empty, or a time without a zone.
        UnknownNameError: No such grade.

    Example:
        >>> from datetime import UTC
        >>> Review("one", "guitar:x-3-5-4-5-x", "in-time", datetime(2026, 1, 5, tzinfo=UTC)).grade
        'in-time'
    """

    id: str = attrs.field(validator=_check_id)
    entry_id: str
    grade: str = attrs.field()
    reviewed_at: datetime = attrs.field(converter=in_utc, validator=aware)

    @grade.validator
    def _check_grade(self, _attribute: object, value: str) -> None:
        GRADES[value]

    @property
    def order(self) -> tuple[str, str]:
        """Where it stands in the log of its entry."""
        return to_text(self.reviewed_at, name="reviewed_at"), self.id


@attrs.frozen
class Schedule:
    """When a grip is due, and what the scheduler knows of it.

    Args:
        stability: Days after which nine times in ten it is still known.
        difficulty: 1 to 10.
        due: When it is due.
        last_review: Its last review.

    Example:
        >>> from datetime import UTC
        >>> first = Review("a", "grip", "in-time", datetime(2026, 1, 5, 20, tzinfo=UTC))
        >>> after(None, first).last_review == first.reviewed_at
        True
    """

    stability: float
    difficulty: float
    due: datetime
    last_review: datetime


def after(schedule: Schedule | None, review: Review) -> Schedule:
    """The schedule after one more review, later than all before it.

    Args:
        schedule: The schedule before it; None where it is the first.
        review: The review.

    Example:
        >>> from datetime import UTC
        >>> first = Review("a", "grip", "in-time", datetime(2026, 1, 5, 20, tzinfo=UTC))
        >>> str(after(None, first).due)
        '2026-01-07 20:00:00+00:00'
    """
    # An id is given since fsrs would else wait for a free millisecond of the clock.
    card = Card(card_id=1, due=review.reviewed_at)
    if schedule is not None:
        card = Card(
            card_id=1,
            state=State.Review,
            stability=schedule.stability,
            difficulty=schedule.difficulty,
            due=schedule.due,
            last_review=schedule.last_review,
        )
    card, _ = SCHEDULER.review_card(card, RATINGS[review.grade], review.reviewed_at)
    if card.stability is None or card.difficulty is None:  # pragma: no cover - by fsrs's types
        message = "fsrs left a reviewed card without stability"
        raise AssertionError(message)
    return Schedule(card.stability, card.difficulty, card.due, review.reviewed_at)


def schedule_of(reviews: Iterable[Review]) -> Schedule | None:
    """The schedule of one grip from all of its reviews, in whatever order.

    Args:
        reviews: The reviews of one entry.

    Returns:
        The schedule; None without reviews.
    """
    schedule = None
    for review in sorted(reviews, key=lambda review: review.order):
        schedule = after(schedule, review)
    return schedule
