"""The plan of the day, and its new grip, as operations."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.vocabulary import DayPlan, Profile
from gripwright.vocabulary import Rung as RungOfDay
from gripwright_rhythm.ladder import RUNGS, Part, rung
from gripwright_server.operations.chart_text import ChartOptions, read_chart
from gripwright_server.operations.operation import NothingFoundError
from gripwright_server.operations.option import option
from gripwright_server.operations.picture import LABELS, PAPERS, THEMES
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entry_row import EntriesResult, EntryRow
from gripwright_server.operations.vocabulary.ladder import moved
from gripwright_server.operations.vocabulary.reviewing import prompt_row
from gripwright_server.store import learn as learn_grip
from gripwright_server.store import profile_of
from gripwright_server.store import today as plan_of_day

if TYPE_CHECKING:
    from gripwright import Chart, Chord
    from gripwright.neck.voicing import Voicing
    from gripwright.vocabulary import LadderPlace, NewGrip
    from gripwright_server.store import Store


@attrs.frozen(kw_only=True, slots=False)
class DayOptions:
    """How long, and by which rung of the ladder: else by the one that the profile keeps."""

    heading: ClassVar[str] = "The session"

    minutes: int = option(help="how long", default=20, ge=5, le=240, unit="min")
    rung: int | None = option(
        help="another rung of the ladder than that of the profile; the command ladder shows them",
        default=None,
        ge=1,
        le=len(RUNGS),
    )
    part: int | None = option(
        help="another drill of the rung, in their order; the first of another rung",
        default=None,
        ge=1,
        le=99,
    )
    tempo: float | None = option(
        help="other beats a minute of that drill", default=None, ge=2, le=800
    )
    seed: int = option(help="chooses keys and questions, together with the day", default=0, ge=0)


@attrs.frozen(kw_only=True, slots=False)
class PaperOptions:
    """What the printed plan or book looks like; the other formats leave it aside."""

    heading: ClassVar[str] = "On paper (formats pdf and svg)"

    paper: str = option(help="the paper", default=PAPERS[0], choices=PAPERS)
    label: str = option(help="what the dots of a grip carry", default=LABELS[0], choices=LABELS)
    theme: str = option(help="colours; print is black on white", default=THEMES[2], choices=THEMES)


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class TodayRequest(PaperOptions, ChartOptions, DayOptions):
    """A session, and the tune at hand."""


@attrs.frozen(kw_only=True, slots=False)
class LearnRequest(ChartOptions, DayOptions):
    """The session whose new grip is learned."""


@attrs.frozen(kw_only=True)
class BlockRow:
    """A row: a part of the day.

    Args:
        kind: What is done: warm-up, review, new grip, tune, ladder or break.
        minutes: How long.
        again: Whether it goes on with what a break has cut.
        lines: What to do, for a reader.
    """

    kind: str
    minutes: int
    again: bool
    lines: tuple[str, ...]


@attrs.frozen
class TodayResult:
    """The plan of a day.

    Args:
        plan: The plan.
        profile: The player.
        part: The drill of the ladder.
        meter: Its metre.
        warnings: What the chart leaves open.
    """

    plan: DayPlan
    profile: Profile
    part: Part
    meter: Meter
    warnings: tuple[str, ...]

    @property
    def count(self) -> int:
        """Parts of the day."""
        return len(self.plan.blocks)

    @property
    def returned(self) -> int:
        """Parts that `rows` yields: all."""
        return len(self.plan.blocks)

    @property
    def facts(self) -> dict[str, Any]:
        """The day, its questions, its new grip, its tune, its rung and its cautions."""
        plan = self.plan
        passage = None
        if plan.passage is not None:
            passage = {
                "title": plan.passage.title,
                "first_bar": plan.passage.first_bar,
                "last_bar": plan.passage.last_bar,
                "grips": [_grip(step.voicing) for step in plan.passage.line.steps],
                "new_at": plan.passage.place,
            }
        return {
            "day": plan.day.isoformat(),
            "minutes": plan.minutes,
            "prompts": [attrs.asdict(prompt_row(prompt)) for prompt in plan.prompts],
            "waiting": plan.waiting,
            "paused": plan.paused,
            "new": None if plan.new is None else _new(plan.new),
            "passage": passage,
            "rung": None if plan.rung is None else attrs.asdict(plan.rung),
            "cautions": plan.cautions,
        }

    def rows(self) -> Iterator[BlockRow]:
        """One row a part of the day, in order."""
        for block in self.plan.blocks:
            yield BlockRow(
                kind=block.kind, minutes=block.minutes, again=block.again, lines=block.lines
            )


def today(request: TodayRequest, desk: Desk) -> TodayResult:
    """Plan the day.

    Raises:
        UnreadableChartError: The tune cannot be read; holds every fault.
        LeadSheetError: The lead sheet is broken or refused.
        ConditionError: There is no profile yet; or the rung makes no sense in the metre.
        StoreError: The store cannot be read.
    """
    with desk.store() as store:
        return _today(request, request, store, desk)


def learn(request: LearnRequest, desk: Desk) -> EntriesResult:
    """Take the new grip of the day into the vocabulary; the day then has had its own.

    Raises:
        NothingFoundError: The day has no new grip; says why.
        ConditionError: There is no profile yet; or the rung makes no sense in the metre.
        StoreError: The store cannot be written.
    """
    with desk.store() as store:
        plan = _today(request, request, store, desk).plan
        entry = learn_grip(store, plan, desk.now)
        if entry is None:
            raise NothingFoundError(sentence=plan.paused or "there is no gap left to fill")
        return EntriesResult((entry,))


def _today(chart: ChartOptions, options: DayOptions, store: "Store", desk: Desk) -> TodayResult:
    tune: Chart[Chord] | None = None
    warnings: tuple[str, ...] = ()
    if chart.chart is not None or chart.form is not None:
        source = read_chart(chart)
        tune, warnings = source.chart, source.warnings
        if tune.title is None and source.title:
            tune = attrs.evolve(tune, title=source.title)
    profile = profile_of(store)
    place = moved(profile.ladder, rung=options.rung, part=options.part, tempo=options.tempo)
    meter = Meter() if tune is None else tune.meter
    try:
        parts = rung(place.rung).parts(meter, seed=options.seed)
        part = rung(place.rung).part(place.part, meter, seed=options.seed)
    except ConditionError:
        # What is kept is no reason to refuse a tune in another metre; what is asked for is.
        if options.rung is not None or options.part is not None:
            raise
        warnings = (*warnings, f"rung {place.rung} has no such drill in {meter}: it is in 4/4")
        meter = Meter()
        parts = rung(place.rung).parts(meter, seed=options.seed)
        part = rung(place.rung).part(place.part, meter, seed=options.seed)
    of_day = RungOfDay(
        name=f"Rung {place.rung}",
        summary=part.sentence,
        tempo=f"{place.tempo_bpm:g} beats a minute; two choruses without a missed change, and"
        f" you go on to {_next(place, len(parts))}.",
    )
    plan = plan_of_day(
        store, desk.now, minutes=options.minutes, tune=tune, rung=of_day, seed=options.seed
    )
    return TodayResult(plan, profile, part, meter, warnings)


def _next(place: "LadderPlace", parts: int) -> str:
    if place.part < parts:
        return f"drill {place.part + 1} of its {parts}"
    if place.rung < len(RUNGS):
        return f"rung {place.rung + 1}"
    return "any rung you like: this is the last"


def _new(new: "NewGrip") -> dict[str, Any]:
    return {
        "gap": new.gap.sentence,
        **_grip(new.grip),
        "degrees": tuple(map(str, new.grip.degrees)),
        "notes": tuple(map(str, new.grip.notes)),
        "reasons": new.reasons,
        "like": new.like,
        "before": _grip(new.context.before),
        "after": _grip(new.context.after),
        "cycle": [_grip(one) for one in new.cycle],
        "root": str(new.root),
        "sing": str(new.sing),
        "reach_mm": round(float(new.grip.reach_mm), 1),
    }


def _grip(grip: "Voicing") -> dict[str, str]:
    return {"symbol": str(grip.chord), "frets": grip.shape}


TODAY: Final = StoreOperation(
    name="today",
    summary="Plan the day: what is due, the new grip, the tune, a rung of the ladder",
    collection="blocks",
    request=TodayRequest,
    function=today,
    result=TodayResult,
    row=BlockRow,
    formats=("json", "ndjson", "svg", "pdf"),
)
"""The plan of the day as an operation."""

LEARN: Final = StoreOperation(
    name="learn",
    summary="Take the new grip of the day into the vocabulary",
    collection="entries",
    request=LearnRequest,
    function=learn,
    result=EntriesResult,
    row=EntryRow,
    writes=True,
)
"""Learning as an operation."""
