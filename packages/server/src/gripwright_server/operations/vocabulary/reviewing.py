"""Reviews: a grade for a grip, and the questions that lead to one, as operations."""

from collections.abc import Iterator
from typing import ClassVar, Final

import attrs

from gripwright.vocabulary import GRADES, Prompt, Verdict, check_answer, prompt_for
from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entries import EntryRequest
from gripwright_server.operations.vocabulary.entry_row import utc
from gripwright_server.operations.vocabulary.handle import handle_of, name_of
from gripwright_server.operations.vocabulary.moment import moment_of
from gripwright_server.store import Review, Reviewed

_KINDS: Final = ("grip", "note", "degree", "other-chord")


@attrs.frozen(kw_only=True, slots=False)
class ReviewRequest(EntryRequest):
    """How a grip came."""

    grade: str = option(
        help="how it came: looked (had to look), slowly (found it slowly), in-time (in time) or"
        " any-key (in time in any key)",
        choices=tuple(GRADES),
        form="GRADE",
    )
    at: str | None = option(
        help="when, with its time zone, such as 2026-01-05T20:00:00+01:00; now if left out",
        default=None,
        form="TIME",
    )
    review_id: str | None = option(
        help="a name of this review: sent twice under one name it counts once; made up if left out",
        default=None,
        form="ID",
    )


@attrs.frozen(kw_only=True, slots=False)
class QuestionOptions:
    """Which question."""

    heading: ClassVar[str] = "The question"

    kind: str | None = option(
        help="what it asks for; chosen by the seed if left out", default=None, choices=_KINDS
    )
    seed: int = option(help="chooses key and question, together with the day", default=0, ge=0)


@attrs.frozen(kw_only=True, slots=False)
class AskRequest(QuestionOptions, EntryRequest):
    """A question about a grip."""

    heading: ClassVar[str] = EntryRequest.heading


@attrs.frozen(kw_only=True, slots=False)
class AnswerRequest(QuestionOptions, EntryRequest):
    """An answer to a question about a grip."""

    heading: ClassVar[str] = EntryRequest.heading

    answer: str = option(
        help="a shape, a note, a degree or a chord symbol, as the question asks",
        positional=True,
        form="ANSWER",
    )


@attrs.frozen(kw_only=True)
class ReviewRow:
    """A row: one review, and what came of it.

    Args:
        review_id: Its name.
        entry: The name of the grip.
        handle: Its handle.
        grade: How it came.
        words: The same as a player says it.
        new: Whether it counted; one that was in the log already did not.
        reviewed_at: When, in UTC.
        due: When the grip is to be reviewed next, in UTC.
        stability_days: Days after which nine times in ten it is still known.
    """

    review_id: str
    entry: str
    handle: str
    grade: str
    words: str
    new: bool
    reviewed_at: str
    due: str
    stability_days: float


@attrs.frozen(kw_only=True)
class PromptRow:
    """A row: one question.

    Args:
        entry: The name of the grip that it is about.
        handle: Its handle.
        kind: What it asks for.
        text: The question.
        hidden: Whether the grip is what is asked for.
        symbol: The chord.
        frets: The shape that is shown; None where it is hidden.
        string: The string that is asked about, 1 on the treble side, or None.
    """

    entry: str
    handle: str
    kind: str
    text: str
    hidden: bool
    symbol: str
    frets: str | None
    string: int | None


@attrs.frozen(kw_only=True)
class VerdictRow:
    """A row: what an answer is worth.

    Args:
        handle: The handle of the grip.
        text: The question.
        right: Whether the answer is right.
        sentence: The same in words.
    """

    handle: str
    text: str
    right: bool
    sentence: str


@attrs.frozen
class _One:
    """A result of one row."""

    @property
    def count(self) -> int:
        """One."""
        return 1

    @property
    def returned(self) -> int:
        """One."""
        return 1

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()


@attrs.frozen
class ReviewResult(_One):
    """A review.

    Args:
        review: The review.
        reviewed: What it came to.
    """

    review: Review
    reviewed: Reviewed

    def rows(self) -> Iterator[ReviewRow]:
        """The review."""
        review, schedule = self.review, self.reviewed.schedule
        yield ReviewRow(
            review_id=review.id,
            entry=review.entry_id,
            handle=handle_of(review.entry_id),
            grade=review.grade,
            words=GRADES[review.grade].words,
            new=self.reviewed.new,
            reviewed_at=utc(review.reviewed_at),
            due=utc(schedule.due),
            stability_days=round(schedule.stability, 2),
        )


@attrs.frozen
class AskResult(_One):
    """A question.

    Args:
        prompt: The question.
    """

    prompt: Prompt

    def rows(self) -> Iterator[PromptRow]:
        """The question."""
        yield prompt_row(self.prompt)


@attrs.frozen
class AnswerResult(_One):
    """What an answer is worth.

    Args:
        prompt: The question.
        verdict: What the answer is worth.
    """

    prompt: Prompt
    verdict: Verdict

    def rows(self) -> Iterator[VerdictRow]:
        """The verdict."""
        yield VerdictRow(
            handle=handle_of(self.prompt.entry_id),
            text=self.prompt.text,
            right=self.verdict.right,
            sentence=self.verdict.sentence,
        )


def review(request: ReviewRequest, desk: Desk) -> ReviewResult:
    """Write down how a grip came.

    Raises:
        UnknownNameError: There is no such entry, or no such grade.
        ConditionError: A time without its zone, or a name that another review has.
        StoreError: The store cannot be written.
    """
    at = desk.now if request.at is None else moment_of(request.at)
    with desk.store() as store:
        name = name_of(request.entry, store)
        identity = desk.new_id() if request.review_id is None else request.review_id
        made = Review(identity, name, request.grade, at)
        return ReviewResult(made, store.review(made))


def ask(request: AskRequest, desk: Desk) -> AskResult:
    """Ask about a grip, as the plan of the day does.

    Raises:
        UnknownNameError: There is no such entry.
        StoreError: The store cannot be read.
    """
    return AskResult(_prompt(request.entry, request, desk))


def answer(request: AnswerRequest, desk: Desk) -> AnswerResult:
    """Say what an answer is worth; nothing is written down.

    Raises:
        UnknownNameError: There is no such entry.
        NotationError: The answer is not of the kind that is asked for.
        StoreError: The store cannot be read.
    """
    prompt = _prompt(request.entry, request, desk)
    return AnswerResult(prompt, check_answer(prompt, request.answer))


def prompt_row(prompt: Prompt) -> PromptRow:
    """The row of a question."""
    return PromptRow(
        entry=prompt.entry_id,
        handle=handle_of(prompt.entry_id),
        kind=prompt.kind,
        text=prompt.text,
        hidden=prompt.hidden,
        symbol=str(prompt.grip.chord),
        frets=None if prompt.hidden else prompt.grip.shape,
        string=prompt.string,
    )


def _prompt(entry: str, options: QuestionOptions, desk: Desk) -> Prompt:
    with desk.store() as store:
        known = store.entry(name_of(entry, store))
        # The same seed as in the plan of the day, so that an answer can be checked there.
        return prompt_for(
            known.facts,
            known.voicing.instrument,
            seed=f"{options.seed}/{desk.now.date().isoformat()}",
            kind=options.kind,  # type: ignore[arg-type]
        )


REVIEW: Final = StoreOperation(
    name="review",
    summary="Write down how a grip came",
    collection="reviews",
    request=ReviewRequest,
    function=review,
    result=ReviewResult,
    row=ReviewRow,
    writes=True,
)
"""A review as an operation."""

ASK: Final = StoreOperation(
    name="ask",
    summary="Ask about a grip, as the plan of the day does",
    collection="prompts",
    request=AskRequest,
    function=ask,
    result=AskResult,
    row=PromptRow,
)
"""A question as an operation."""

ANSWER: Final = StoreOperation(
    name="answer",
    summary="Check an answer to a question",
    collection="verdicts",
    request=AnswerRequest,
    function=answer,
    result=AnswerResult,
    row=VerdictRow,
)
"""An answer as an operation."""
