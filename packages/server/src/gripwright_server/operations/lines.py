"""The lines through a tune that a request asks for: its options, and the lines themselves."""

import random
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

from gripwright.errors import ConditionError
from gripwright_server.operations.chart_text import ChartOptions, ReadChart, SungNote
from gripwright_server.operations.conditions import ConditionOptions, conditions_asked
from gripwright_server.operations.cost_row import WeightOptions, weights_of
from gripwright_server.operations.grip import frets_of
from gripwright_server.operations.operation import NothingFoundError, RegistrySource
from gripwright_server.operations.option import option, unknown_name
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)
from gripwright_server.operations.top_line import holds_pitches, pitches_of_line

if TYPE_CHECKING:
    from gripwright import Chord, Instrument, Pitch, Voicing
    from gripwright.leading.line import Line

BANDS: Final = ("solo", "bass", "piano", "singer")
"""Who else plays, as `gripwright.leading.band` names it."""

TOP_LINES: Final = ("smooth", "rising", "falling", "held", "free")
"""What a top line can do, as `gripwright.leading.cost` names it, the usual one first."""

MELODY: Final = "melody"
"""The word for a top line that is the melody of a lead sheet."""


@attrs.frozen(kw_only=True, slots=False)
class LineOptions:
    """What the line should do."""

    heading: ClassVar[str] = "The line"

    strategy: str = option(
        help="the way every voicing is built; any is all of them",
        default="any",
        names="strategies",
        form="NAME",
    )
    band: str | None = option(
        help="who else plays: whether the root sounds, how low and with how many notes; left out,"
        " nothing is assumed",
        default=None,
        choices=BANDS,
    )
    top: str = option(
        help=f"the top line: {', '.join(TOP_LINES)}; melody, that of a lead sheet harmonised; or"
        ' its pitch for each chord, such as "E4 F4 - E4", - where it is free',
        default=TOP_LINES[0],
        form="NAME|PITCHES",
    )
    under_melody: bool = option(
        help="stay below the melody of a lead sheet, and off the half steps beside it",
        default=False,
    )
    first: str | None = option(
        help="the grip of the first chord, such as x-3-5-4-5-x", default=None, form="FRETS"
    )
    last: str | None = option(help="the grip of the last chord", default=None, form="FRETS")
    loop: bool = option(help="the last chord leads back to the first", default=False)
    candidates: int = option(
        help="voicings of each chord that are compared, the first of the teaching order",
        default=400,
        ge=1,
        le=5000,
    )
    surcharge: float = option(
        help="what a grip of an earlier line pays, in half steps of voice motion",
        default=6.0,
        ge=0,
        le=1000,
    )
    seed: int | None = option(
        help="shuffles the choruses; in the order found without it", default=None, ge=0
    )


@attrs.frozen(kw_only=True, slots=False)
class LineWeightOptions(WeightOptions):
    """What each part of a step weighs, with the top line."""

    heading: ClassVar[str] = WeightOptions.heading

    weigh_top: float = option(
        help="weight of a half step that the top line goes elsewhere than it should",
        default=1.0,
        ge=0,
        le=100,
    )


# Bases stand in reverse, since attrs takes fields from the last base first.
@attrs.frozen(kw_only=True, slots=False)
class LinesRequest(
    LineWeightOptions,
    ConditionOptions,
    HandOptions,
    InstrumentOptions,
    LineOptions,
    ChartOptions,
):
    """A chart, the player, and what lines through it should do; however many."""


def led_lines(
    source: ReadChart,
    request: LinesRequest,
    registry: RegistrySource,
    count: int,
    *,
    no_open: bool = False,
) -> "tuple[Instrument, tuple[Line, ...]]":
    """The instrument of a request, and lines through a tune that has been read.

    Args:
        source: The tune.
        request: The player, and what the lines should do.
        registry: Asked for the instrument and the strategy.
        count: How many lines.
        no_open: Leave open strings out, whatever the request says.

    Raises:
        NotationError: The open strings, a shape or a pitch cannot be read.
        UnknownNameError: No instrument or strategy has that name.
        ConditionError: A condition contradicts the instrument, the chart or another one.
        RowBoundError: A chord has more voicings than the library holds.
        NoCandidateError: A chord has no voicing under these conditions; the bar is told.
        NothingFoundError: The chart holds no chord.
    """
    top = _top_of(request.top)
    # Late on purpose: what leads voices needs NumPy, which help must not load.
    from gripwright.leading.band import BANDS as BY_NAME  # noqa: PLC0415

    known = registry()
    instrument = instrument_of(request, known)
    chords = [span.symbol for span in source.chart.unfolded().spans if span.symbol is not None]
    if not chords:
        raise NothingFoundError(sentence="there is no chord in the chart")
    first = _voicing_of(request.first, chords[0], instrument)
    settings = {
        "instrument": instrument,
        "hand": hand_of(request),
        "strategy": known.strategies[request.strategy],
        "weights": weights_of(request, top=request.weigh_top),
        "band": None if request.band is None else BY_NAME[request.band],
        "first": first,
        "last": _voicing_of(request.last, chords[-1], instrument),
        "loop": request.loop,
        "candidates": request.candidates,
        "surcharge": request.surcharge,
        **conditions_asked(request),
        **({"no_open": True} if no_open else {}),
    }
    try:
        return instrument, _lines(source, request, top, settings, count=count)
    except ConditionError as error:
        raise _as_asked(error, first) from error


def _lines(
    source: ReadChart,
    request: LinesRequest,
    top: "str | tuple[Pitch | None, ...]",
    settings: dict[str, Any],
    *,
    count: int,
) -> "tuple[Line, ...]":
    """The lines under a top line that is given, or that goes as a word says."""
    from gripwright.leading.harmonised import harmonised, melody_tops  # noqa: PLC0415 - as above
    from gripwright.leading.line import choruses  # noqa: PLC0415

    ceiling = _melody_of(source, "under_melody") if request.under_melody else ()
    if top == MELODY:
        top = melody_tops(source.chart, _melody_of(source, "top"))
    if isinstance(top, str):
        return choruses(
            source.chart,
            count=count,
            seed=request.seed,
            top=top,
            melody=ceiling,
            **settings,
        )
    if ceiling:
        raise ConditionError(
            name="under_melody", value=True, expected="a top line that is not given by its notes"
        )
    found: list[Line] = []
    for _ in range(count):
        found.append(harmonised(source.chart, tops=top, used=tuple(found), **settings))
    if request.seed is not None:
        random.Random(request.seed).shuffle(found)  # noqa: S311 - variety, no secret
    return tuple(found)


def _top_of(text: str) -> "str | tuple[Pitch | None, ...]":
    """A word for the top line, or its pitches, None where it is free."""
    words = (*TOP_LINES, MELODY)
    if text.strip() in words:
        return text.strip()
    if not holds_pitches(text):
        raise unknown_name("top line", text.strip(), words)
    return pitches_of_line(text)


def _melody_of(source: ReadChart, field: str) -> tuple[SungNote, ...]:
    """The melody, which a field of the request needs."""
    if not source.melody:
        value = MELODY if field == "top" else True
        raise ConditionError(name=field, value=value, expected="a lead sheet that has a melody")
    return source.melody


def _voicing_of(text: str | None, chord: "Chord", instrument: "Instrument") -> "Voicing | None":
    """The voicing of a shape that is asked for at one end of the line."""
    if text is None:
        return None
    from gripwright.neck.voicing import Voicing  # noqa: PLC0415 - needs NumPy

    return Voicing(chord, instrument, frets_of(text, instrument))


def _as_asked(error: ConditionError, first: "Voicing | None") -> ConditionError:
    """The error with the field of the request that it speaks of."""
    if error.name == "tops":
        return ConditionError(name="top", value=error.value, expected=error.expected)
    if error.name != "voicing":
        return error
    name = "first" if first is not None and error.value == first.id else "last"
    return ConditionError(name=name, value=error.value, expected=error.expected)
