"""The day's plan: what to play today, and for how long."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Any, Final, Literal

import attrs

from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.tune.chart import Chart
from gripwright.vocabulary.caution import CAUTIONS, WARM_UP_CAUTION, stretch_caution
from gripwright.vocabulary.entry import Facts, aware, in_utc
from gripwright.vocabulary.new_grip import NewGrip, choose_new_grip
from gripwright.vocabulary.passage import Passage, passage_of
from gripwright.vocabulary.placing import fits_hand, is_movable, middle_fret, on_root
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.prompt import Prompt, prompt_for
from gripwright.vocabulary.time_table import shared_out, with_breaks
from gripwright.vocabulary.words import listed

BlockKind = Literal["warm-up", "review", "new grip", "tune", "ladder", "break"]

_WARM_UP_GRIPS: Final = 3
_WARM_UP_FRET: Final = 7.0


@attrs.frozen
class Due:
    """An entry whose review is due.

    Args:
        facts: What is known of its grip.
        since: When it fell due, with a time zone.

    Example:
        >>> from datetime import UTC
        >>> from gripwright import Chord, Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> due = Due(Facts.of(grip), datetime(2026, 1, 5, 20, tzinfo=UTC))
        >>> due.since.hour
        20
    """

    facts: Facts
    since: datetime = attrs.field(converter=in_utc, validator=aware)


@attrs.frozen
class Rung:
    """The rung of the ladder that the player stands on.

    Args:
        name: Its name or number.
        summary: What is played on it, a sentence.
        tempo: The tempo in words, such as ``"80 beats a minute, a click on 2 and 4"``.

    Example:
        >>> Rung("3", "A chord on one, short.", "60 beats a minute").name
        '3'
    """

    name: str
    summary: str
    tempo: str


@attrs.frozen
class Block:
    """A part of the day.

    Args:
        kind: What is done.
        minutes: How long.
        lines: What to do, for a reader.
        again: Whether it goes on with what a break has cut.

    Example:
        >>> Block("warm-up", 2, ("Cmaj7 x-3-5-4-5-x",)).minutes
        2
    """

    kind: BlockKind
    minutes: int
    lines: tuple[str, ...]
    again: bool = False


@attrs.frozen
class DayPlan:
    """What to play on a day.

    Args:
        day: The day.
        blocks: Its parts in order; their minutes add up to those of the session.
        prompts: The reviews, in the order in which they are asked.
        waiting: How many more are due and wait for another day.
        paused: Why there is no new grip, or None.
        new: The new grip, or None.
        passage: The phrase of the tune, or None.
        rung: The rung of the ladder, or None.
        cautions: What to mind.

    Example:
        >>> from gripwright import Instrument
        >>> plan = plan_day(date(2026, 1, 5), Profile(Instrument.from_text("G4 C4 E4 A4")), ())
        >>> plan.minutes, plan.waiting, plan.paused
        (20, 0, None)
    """

    day: date
    blocks: tuple[Block, ...]
    prompts: tuple[Prompt, ...]
    waiting: int
    paused: str | None
    new: NewGrip | None
    passage: Passage | None
    rung: Rung | None
    cautions: tuple[str, ...]

    @property
    def minutes(self) -> int:
        """Minutes of the session, breaks included."""
        return sum(block.minutes for block in self.blocks)


def plan_day(
    day: date,
    profile: Profile,
    facts: Sequence[Facts],
    *,
    minutes: int = 20,
    due: Iterable[Due] = (),
    tune: Chart[Chord] | None = None,
    rung: Rung | None = None,
    learned: Sequence[Facts] = (),
    seed: int = 0,
    **conditions: Any,
) -> DayPlan:
    """Plan a day: warm-up, reviews, the new grip, the tune, a rung of the ladder, and a break.

    The same arguments give the same plan. Reviews come in the order in which they fell due.

    Args:
        day: The day, as the player's calendar has it.
        profile: The player.
        facts: The known grips of the profile's instrument that count.
        minutes: Minutes of the session, 5 to 240.
        due: The reviews that are due.
        tune: The tune at hand.
        rung: The rung of the ladder.
        learned: New grips that were learned on the day already: one a day is enough, and the tune
            is played with the last of them.
        seed: Chooses keys and questions of the reviews, together with the day.
        **conditions: Conditions of the search for new grips, as in `find_voicings`.

    Raises:
        ConditionError: The minutes are out of range.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> plan = plan_day(date(2026, 1, 5), Profile(guitar), ())
        >>> [(block.kind, block.minutes) for block in plan.blocks]
        [('warm-up', 2), ('new grip', 9), ('break', 1), ('tune', 8)]
        >>> str(plan.new.grip.chord), plan.new.grip.shape
        ('Cmaj7', 'x-3-5-4-5-x')
    """
    asked = sorted(due, key=lambda one: (one.since, one.facts.id))
    work: dict[str, Any] = {"due": len(asked), "tune": True, "rung": rung is not None}
    table = shared_out(minutes, new=not learned, **work)
    chords = () if tune is None else _chords(tune)
    new = None
    if not learned and not table.paused:
        new = choose_new_grip(facts, profile, tune=chords, **conditions)
        if new is None:
            table = shared_out(minutes, new=False, **work)
    grip = None if new is None else new.grip
    if learned:
        grip = learned[-1].voicing(profile.instrument)
    passage = None if tune is None else passage_of(tune, profile, grip)
    prompts = tuple(
        prompt_for(one.facts, profile.instrument, seed=f"{seed}/{day.isoformat()}")
        for one in asked[: table.reviews]
    )
    waiting = len(asked) - len(prompts)
    lines: dict[BlockKind, tuple[str, ...]] = {
        "warm-up": tuple(_warm_up(facts, profile)),
        "review": tuple(_reviews(len(prompts), waiting)),
        "new grip": () if new is None else tuple(_new_grip(new)),
        "tune": tuple(_tune(tune, passage, new)),
        "ladder": () if rung is None else (f"{rung.name}: {rung.summary}", rung.tempo),
        "break": ("Put the instrument down, and let the hands hang.",),
    }
    spells = with_breaks(list(table.minutes.items()), table.breaks)
    kinds: list[tuple[BlockKind, int, bool]] = [
        (spell.what or "break", spell.minutes, spell.again)  # type: ignore[misc]
        for spell in spells
    ]
    return DayPlan(
        day=day,
        blocks=tuple(
            Block(kind, length, lines[kind], again=again) for kind, length, again in kinds
        ),
        prompts=prompts,
        waiting=waiting,
        paused=_paused(len(asked), learned, too_many=table.paused),
        new=new,
        passage=passage,
        rung=rung,
        cautions=tuple(_cautions(new)),
    )


def _chords(tune: Chart[Chord]) -> tuple[Chord, ...]:
    spans = tune.unfolded().spans
    return tuple(span.symbol for span in spans if span.symbol is not None)


def _paused(due: int, learned: Sequence[Facts], *, too_many: bool) -> str | None:
    if learned:
        grips = listed([fact.id for fact in learned])
        return f"no new grip any more today: {grips} is learned, and one a day is enough"
    if too_many:
        return f"no new grip today: {due} reviews are due, more than their time allows"
    return None


def _warm_up(facts: Sequence[Facts], profile: Profile) -> Iterator[str]:
    yield WARM_UP_CAUTION
    easy = [grip for fact in _easiest(facts) for grip in _comfortable(fact, profile)]
    if easy:
        grips = ", ".join(f"{grip.chord} {grip.shape}" for grip in easy[:_WARM_UP_GRIPS])
        yield f"Slowly, one after the other: {grips}."


def _easiest(facts: Sequence[Facts]) -> list[Facts]:
    """Known grips of few fingers close together, some more than are needed."""

    def effort(fact: Facts) -> tuple[int, int, str]:
        fretted = [fret for fret in fact.frets if fret > 0]
        return max(fretted, default=0) - min(fretted, default=0), len(fretted), fact.id

    movable = [fact for fact in facts if fact.movable]
    return sorted(movable, key=effort)[: 2 * _WARM_UP_GRIPS]


def _comfortable(fact: Facts, profile: Profile) -> list[Voicing]:
    """The place of a grip where frets lie close, if the hand can hold it there."""
    grip = fact.voicing(profile.instrument)
    places = [place for place in on_root(grip, grip.chord.root) if fits_hand(place, profile.hand)]
    return sorted(places, key=lambda place: abs(middle_fret(place) - _WARM_UP_FRET))[:1]


def _reviews(asked: int, waiting: int) -> Iterator[str]:
    yield f"{asked} review{'' if asked == 1 else 's'}; say how each came."
    if waiting:
        yield f"{waiting} more {'waits' if waiting == 1 else 'wait'} for another day."


def _new_grip(new: NewGrip) -> Iterator[str]:
    grip = new.grip
    tones = ", ".join(
        f"{note} the {degree}" for note, degree in zip(grip.notes, grip.degrees, strict=True)
    )
    yield f"{grip.chord}: {grip.shape}; note by note, from the bass side: {tones}."
    yield f"Why: {'; '.join(new.reasons)}."
    yield f"Hear it over {new.root}; sing its top note, {new.sing}."
    around = ", ".join(f"{one.chord} {one.shape}" for one in new.context.grips)
    yield f"Between its neighbours: {around}."
    if is_movable(grip) and len(new.cycle) > 1:
        cycle = ", ".join(f"{one.chord} {one.shape}" for one in new.cycle)
        yield f"Round the fourths: {cycle}."


def _tune(tune: Chart[Chord] | None, passage: Passage | None, new: NewGrip | None) -> Iterator[str]:
    if passage is not None:
        yield f"{passage.sentence}."
        if passage.place is not None:
            step = passage.line.steps[passage.place]
            yield f"The new grip is {step.chord} in bar {step.bar}."
    elif tune is not None:
        yield "The tune has no phrase that can be voiced: play it with the grips you know."
    if passage is None and new is not None:
        around = ", ".join(f"{one.chord} {one.shape}" for one in new.context.grips)
        yield f"Time, round and round: {around}."
    elif tune is None:
        yield "A tune that you know, with the grips of the reviews."


def _cautions(new: NewGrip | None) -> Iterator[str]:
    yield from CAUTIONS
    stretch = None if new is None else stretch_caution(new.grip.reach_mm)
    if stretch is not None:
        yield stretch
