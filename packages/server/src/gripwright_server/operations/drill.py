"""A drill: the grips of a tune in strict time, for every exporter, as an operation."""

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

from gripwright.errors import ConditionError, NoCandidateError
from gripwright_server.operations.chart_text import ChartOptions, ReadChart, read_chart
from gripwright_server.operations.file_options import FileOptions
from gripwright_server.operations.lines import LineOptions, LinesRequest, led_lines
from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.player import hand_of
from gripwright_server.operations.rhythm_choice import ChosenRhythm, RhythmOptions, rhythm_of
from gripwright_server.operations.time_options import ENDINGS, TimeOptions

if TYPE_CHECKING:
    from gripwright import ChordEvent, Score
    from gripwright.leading.line import Line

FRETTED: Final = (
    "Short chords: fretted grips are chosen where there are any, since an open string rings on"
    " when the hand lifts."
)
"""Why a drill with short chords has other grips."""

MOST_KEYS: Final = 100
"""Keys that the choruses of a drill go through at most."""

_FINEST: Final = 1000


@attrs.frozen(kw_only=True, slots=False)
class DrillLineOptions:
    """The lines of the choruses."""

    heading: ClassVar[str] = LineOptions.heading

    new_lines: bool = option(help="a new line of grips in every chorus", default=False)
    keys: str | None = option(
        help='the keys of the choruses in turn, such as "C F Bb"', default=None, form="KEYS"
    )
    apart: bool = option(
        help="each key a drill of its own, one after the other in one sheet", default=False
    )
    seed: int | None = option(
        help="shuffles new lines, and chooses where a rhythm is random", default=None, ge=0
    )


@attrs.frozen(kw_only=True, slots=False)
class FurtherTunes:
    """What else stands in the sheet."""

    heading: ClassVar[str] = ChartOptions.heading

    also: tuple[str, ...] | None = option(
        help="a further tune as text, once for each, a drill of its own after the first in one"
        " sheet",
        default=None,
        form="CHART",
        document=True,
    )


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class DrillRequest(
    FurtherTunes, FileOptions, DrillLineOptions, LinesRequest, TimeOptions, RhythmOptions
):
    """A tune or several, the player, a rhythm, and how it is played."""


@attrs.frozen(kw_only=True)
class DrillRow:
    """A row: one chord as it is played.

    Args:
        drill: Which of several drills, counted from 1.
        key: The key of the chorus, or None.
        chorus: The number of the chorus, from 1; 0 in the count-in.
        bar: The number of the bar as played, counted from 1; a pickup, which is not counted, has
            that of the bar before it.
        beat: The beat on which it starts, as a fraction.
        onset: Quarters from the start of the form, as a fraction, as it sounds.
        end: Quarters from the start of the form to its end.
        start_s: Seconds from the first click to its start.
        end_s: Seconds from the first click to its end.
        symbol: Canonical symbol.
        id: Instrument and shape.
        shape: The shape as players write it.
        pitches: Pitches of the sounding strings.
        dynamic: How loud, as a MIDI velocity.
        stroke: What the right hand does.
        push: Whether it anticipates its chord.
        approach: Whether it leads to the next.
        short: Whether it is cut before something else would end it.
    """

    drill: int
    key: str | None
    chorus: int
    bar: int
    beat: str
    onset: str
    end: str
    start_s: float
    end_s: float
    symbol: str
    id: str
    shape: str
    pitches: tuple[str, ...]
    dynamic: int
    stroke: str
    push: bool
    approach: bool
    short: bool


@attrs.frozen
class DrillResult:
    """A drill, or one for each of several tunes or keys.

    Args:
        sources: The charts as they were read.
        scores: The score, or one for each tune, and for each key that is apart.
    """

    sources: tuple[ReadChart, ...]
    scores: "tuple[Score, ...]"

    @property
    def score(self) -> "Score":
        """The score, or the first of several."""
        return self.scores[0]

    @property
    def count(self) -> int:
        """Chords as they are played."""
        return sum(len(score.events) for score in self.scores)

    @property
    def returned(self) -> int:
        """Chords that `rows` yields: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the charts leave open."""
        return tuple(warning for source in self.sources for warning in source.warnings)

    @property
    def facts(self) -> dict[str, Any]:
        """How long it lasts, and what the player should know."""
        return {
            "rhythm": self.score.rhythm,
            "click": self.score.click,
            "seconds": round(float(sum(score.seconds for score in self.scores)), 3),
            "notes": tuple(dict.fromkeys(note for score in self.scores for note in score.notes)),
        }

    def rows(self) -> Iterator[DrillRow]:
        """One row a chord, in the order of playing."""
        for number, score in enumerate(self.scores, 1):
            for event in score.events:
                yield _row(number, score, event)


def drill(request: DrillRequest, registry: RegistrySource) -> DrillResult:
    """Play a tune, or one after the other, by a rhythm in strict time.

    Args:
        request: Tunes, player, rhythm and time.
        registry: Asked for the instrument, the strategy and the rhythm families.

    Raises:
        UnreadableChartError: The chart cannot be read; holds every fault.
        LeadSheetError: The lead sheet is broken or refused.
        NotationError: A key, a pattern, a click, a shape or a pitch cannot be read.
        UnknownNameError: A name that is none.
        ConditionError: A value that contradicts the tune, such as a pattern of another metre.
        RowBoundError: A chord has more voicings than the library holds.
        NoCandidateError: A chord has no voicing under these conditions; the bar is told.
        NothingFoundError: The chart holds no chord.
    """
    sources = tuple(map(read_chart, _alone(request)))
    return DrillResult(
        sources, tuple(score for one in sources for score in _played(one, request, registry))
    )


def _alone(request: DrillRequest) -> Iterator[DrillRequest]:
    """The request for each of its tunes."""
    yield attrs.evolve(request, also=None)
    for text in request.also or ():
        yield attrs.evolve(request, chart=text, form=None, also=None)


def _played(
    source: ReadChart, request: DrillRequest, registry: RegistrySource
) -> "Iterator[Score]":
    """A tune as it is played: one score, or one for each key that is apart."""
    from gripwright_rhythm.drill import make_drill  # noqa: PLC0415 - needs NumPy, help does not
    from gripwright_rhythm.drill.form import usual_meter  # noqa: PLC0415

    tunes = _tunes(source, request)
    choruses = _choruses(request, len(tunes))
    rhythm = rhythm_of(request, usual_meter(source.chart), registry(), request.seed or 0)
    fretted = rhythm.pattern is not None and any(
        attack.length != "long" for attack in rhythm.pattern.attacks
    )
    lines = []
    for tune in tunes:
        count = -(-choruses // (1 if request.apart else len(tunes)))
        found, fretted = _lines(
            tune, request, registry, count if request.new_lines else 1, fretted=fretted
        )
        lines.append(found)
    if request.apart:
        performances = lines
    else:
        # Chorus after chorus through the keys, each time with the next line in that key.
        turns = range(max(len(one) for one in lines))
        performances = [tuple(one[turn % len(one)] for turn in turns for one in lines)]
    for one in performances:
        try:
            score = make_drill(one, rhythm.pattern, rhythm.click, **_settings(request, choruses))
        except ConditionError as error:
            if error.name != "pattern" or request.pattern is not None:
                raise
            # The pattern is that of a rung: nobody has named it.
            value = f"{request.rung or 1} in {usual_meter(source.chart)}"
            raise ConditionError(name="rung", value=value, expected=error.expected) from error
        yield _told(score, rhythm, fretted=fretted)


def _settings(request: DrillRequest, choruses: int) -> dict[str, Any]:
    """What the request says of time, as `make_drill` takes it."""
    return {
        "tempo_bpm": _exact(request.tempo),
        "tempo_of": request.tempo_of,
        "tempo_step": _exact(request.tempo_step),
        "choruses": choruses,
        "count_in": request.count_in,
        "swing": request.swing,
        "staccato": _exact(request.staccato),
        "ring_over": request.ring_over,
        "stroke": "pluck" if request.stroke == "pluck" else "strum",
        "bass": request.bass,
        "root": None if request.root_beneath == "none" else request.root_beneath,
        "ending": ENDINGS[request.ending],
        "hand": hand_of(request),
    }


def _choruses(request: DrillRequest, keys: int) -> int:
    """How often the form is played: at least once in each key, where they are not apart."""
    least = 1 if request.apart else keys
    if request.choruses is None:
        return least
    if request.choruses < least:
        raise ConditionError(
            name="choruses", value=request.choruses, expected=f"{least} or more, one for each key"
        )
    return request.choruses


def _tunes(source: ReadChart, request: DrillRequest) -> list[ReadChart]:
    """The tune in each key that is asked for."""
    if request.keys is None:
        if request.apart:
            raise ConditionError(name="apart", value=True, expected="keys to be apart")
        return [source]
    from gripwright.tune.key import Key  # noqa: PLC0415 - as elsewhere
    from gripwright.tune.transpose import transposed  # noqa: PLC0415

    words = request.keys.split()
    if not 1 <= len(words) <= MOST_KEYS:
        raise ConditionError(
            name="keys", value=request.keys, expected=f'1 to {MOST_KEYS} keys such as "C F Bb"'
        )
    keys = [Key.parse(word) for word in words]
    if source.chart.key is None:
        raise ConditionError(
            name="key", value=None, expected="the key of the chart, to move it into others"
        )
    tunes = []
    for key in keys:
        try:
            chart = transposed(source.chart, key)
        except ConditionError as error:
            raise ConditionError(name="keys", value=str(key), expected=error.expected) from error
        tunes.append(attrs.evolve(source, chart=chart))
    return tunes


def _lines(
    tune: ReadChart, request: DrillRequest, registry: RegistrySource, count: int, *, fretted: bool
) -> "tuple[tuple[Line, ...], bool]":
    """The lines of a tune, without open strings where that is wanted and can be had."""
    if fretted and not request.no_open:
        try:
            return led_lines(tune, request, registry, count, no_open=True)[1], True
        except (ConditionError, NoCandidateError):
            # What the request itself asks for may need an open string.
            return led_lines(tune, request, registry, count)[1], False
    return led_lines(tune, request, registry, count)[1], fretted


def _told(score: "Score", rhythm: ChosenRhythm, *, fretted: bool) -> "Score":
    """The score with what the rung says, and why grips are fretted."""
    notes = (FRETTED, *score.notes) if fretted else score.notes
    words = rhythm.sentence.rstrip(".") or score.rhythm
    return attrs.evolve(score, notes=notes, rhythm=words)


def _exact(value: float) -> Fraction:
    return Fraction(value).limit_denominator(_FINEST)


def _row(number: int, score: "Score", event: "ChordEvent") -> DrillRow:
    chorus = score.chorus_at(event.onset)
    return DrillRow(
        drill=number,
        key=None if chorus.key is None else str(chorus.key),
        chorus=chorus.number,
        bar=event.bar,
        beat=str(event.beat),
        onset=str(event.onset),
        end=str(event.end),
        start_s=round(float(score.seconds_at(event.onset)), 6),
        end_s=round(float(score.seconds_at(event.end)), 6),
        symbol=str(event.chord),
        id=event.voicing.id,
        shape=event.voicing.shape,
        pitches=tuple(map(str, event.voicing.pitches)),
        dynamic=event.dynamic,
        stroke=event.stroke,
        push=event.push,
        approach=event.approach,
        short=event.short,
    )


DRILL: Final = Operation(
    name="drill",
    summary="Play a tune by a rhythm in strict time: sheet, sound, MIDI, MusicXML",
    collection="chords",
    request=DrillRequest,
    function=drill,
    result=DrillResult,
    row=DrillRow,
    formats=("ndjson",),
    scored=True,
)
"""Drills as an operation."""
