"""Lines: one voicing for each chord of a tune, so that the whole is cheapest."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Any, Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError
from gripwright.leading.band import Band
from gripwright.leading.choice import Choice, MelodyNote, Place, only, places_of
from gripwright.leading.cost import (
    THOUSANDTHS,
    Candidates,
    LineWeights,
    StepCost,
    TopLine,
    motion_costs,
    step_costs,
    top_costs,
    travel_costs,
)
from gripwright.leading.path import cheapest_loop, cheapest_path
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.pitch import Pitch
from gripwright.tune.chart import Chart

USUAL_CANDIDATES: Final = 400
USUAL_SURCHARGE: Final = 6.0
_USUAL_HAND: Final = Hand()
_USUAL_WEIGHTS: Final = LineWeights()
_MOST_CANDIDATES: Final = 5000
_DEAREST: Final = 1000
_MOST_CHORUSES: Final = 1000


@attrs.frozen
class LineStep:
    """One chord of a line.

    Args:
        chord: The chord.
        voicing: Its voicing.
        onset: Quarters from the start of the form.
        length: Quarters until the next chord.
        bar: The number of the bar as played, counted from 1.
        cost: What the step to here costs, part by part.

    Example:
        >>> from gripwright import Chart, Instrument, lead
        >>> line = lead(Chart.parse("| Dm7 | G7 |"), Instrument.from_text("G4 C4 E4 A4"))
        >>> step = line.steps[1]
        >>> print(step.chord, step.voicing.shape, step.onset, step.bar)
        G7 x-2-1-2 4 2
    """

    chord: Chord
    voicing: Voicing
    onset: Fraction
    length: Fraction
    bar: int
    cost: StepCost


@attrs.frozen
class Line:
    """One voicing for each chord of a tune.

    Args:
        steps: The chords in the order in which they are played; N.C. has none.
        loop: Whether the step from the last chord to the first counts; it is then part of the
            first step's cost.
        chart: The tune, where it came as a chart; None where it came as chords of a bar each.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> chords = [Chord.parse(symbol) for symbol in ("Dm7", "G7", "Cmaj7")]
        >>> line = lead(chords, guitar, strings=(5, 4, 3, 2), no_doubles=True)
        >>> [step.voicing.shape for step in line.steps]
        ['x-3-3-2-3-x', 'x-2-3-0-3-x', 'x-3-2-0-0-x']
    """

    steps: tuple[LineStep, ...]
    loop: bool = False
    chart: Chart[Chord] | None = attrs.field(default=None, repr=False)

    @property
    def cost(self) -> int:
        """What all steps cost together, in thousandths of a semitone."""
        return sum(step.cost.total for step in self.steps)

    @property
    def top_line(self) -> tuple[Pitch, ...]:
        """The top note of each chord, as notes to sing."""
        return tuple(max(step.voicing.pitches, key=lambda pitch: pitch.midi) for step in self.steps)


def lead(
    chart: Chart[Chord] | Sequence[Chord],
    instrument: Instrument,
    *,
    hand: Hand = _USUAL_HAND,
    strategy: VoicingStrategy | None = None,
    weights: LineWeights = _USUAL_WEIGHTS,
    top: TopLine | Sequence[Pitch | None] = "smooth",
    band: Band | None = None,
    melody: Iterable[MelodyNote] = (),
    first: Voicing | None = None,
    last: Voicing | None = None,
    loop: bool = False,
    candidates: int = USUAL_CANDIDATES,
    used: Iterable[Line] = (),
    surcharge: float = USUAL_SURCHARGE,
    **conditions: Any,
) -> Line:
    """The cheapest line of voicings through a tune, exactly, among the candidates.

    The candidates of a chord are the first of the teaching order that satisfy the conditions.
    The cost of a step adds what `LineWeights` weighs; the line whose sum is least is found by
    dynamic programming over all candidates.

    Args:
        chart: The tune, as unfolded, or chords of a bar of four quarters each.
        instrument: The instrument.
        hand: The fretting hand.
        strategy: How tones are stacked; any way if not given.
        weights: What the parts of a step weigh.
        top: What the top line should do, or its pitch for each chord, None where free.
        band: Who else plays: sets the root, the lowest note and the number of notes where
            the conditions do not.
        melody: A melody above: no voice lies above its lowest note during the chord, nor a
            semitone beside any of its notes.
        first: The voicing of the first chord, whatever top line and melody ask there.
        last: The voicing of the last chord, in the same way.
        loop: Whether the last chord leads back to the first.
        candidates: Voicings of each chord that are compared, 1 to 5000.
        used: Lines whose grips pay the surcharge, once for each line that has them; those of
            another instrument pay nothing.
        surcharge: What a used grip pays, in semitones of voice motion, 0 to 1000.
        **conditions: Conditions of the search, as in `find_voicings`.

    Returns:
        The line, with the cost of each step part by part.

    Raises:
        NoCandidateError: A chord that has no voicing under these conditions; says which bar
            and which condition.
        ConditionError: A value outside its range, or a top line of another length.
        RowBoundError: A chord has too many voicings to choose from.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> line = lead(Chart.parse("| Fm7 | Bb7 | Ebmaj7 | % |"), guitar, max_notes=4)
        >>> len(line.steps), line.steps[1].onset
        (4, Fraction(4, 1))
    """
    places = places_of(chart, top, melody)
    tune = chart if isinstance(chart, Chart) else None
    whole = isinstance(candidates, int) and not isinstance(candidates, bool)
    if not whole or not 1 <= candidates <= _MOST_CANDIDATES:
        raise ConditionError(
            name="candidates", value=candidates, expected=f"1 to {_MOST_CANDIDATES}"
        )
    if not places:
        return Line((), loop, tune)
    search = Choice(instrument, hand, strategy, band, candidates, weights, conditions)
    layers = [search.candidates(place) for place in places]
    if len(places) == 1 and None not in {first, last} and first != last:
        raise ConditionError(
            name="last", value=str(last), expected="the first voicing, where there is one chord"
        )
    layers[0] = only(layers[0], first, places[0], search)
    layers[-1] = only(layers[-1], last, places[-1], search)
    extras = _surcharges(layers, tuple(used), surcharge)
    nodes = [layer.ease + extra for layer, extra in zip(layers, extras, strict=True)]
    direction: TopLine = top if isinstance(top, str) else "free"

    def steps(index: int) -> NDArray[np.int32]:
        following = layers[(index + 1) % len(layers)]
        return step_costs(layers[index], following, direction, weights)

    _, rows = (cheapest_loop if loop else cheapest_path)(nodes, steps)
    chosen = [_Chosen(*one) for one in zip(places, layers, rows, extras, strict=True)]
    return Line(tuple(_steps(chosen, direction, weights, loop=loop)), loop, tune)


def choruses(
    chart: Chart[Chord] | Sequence[Chord],
    instrument: Instrument,
    count: int,
    *,
    seed: int | None = None,
    used: Iterable[Line] = (),
    **settings: Any,
) -> tuple[Line, ...]:
    """Different lines through the same tune, one a chorus.

    Each is found in turn, exactly, with a surcharge for every grip that earlier ones used.

    Args:
        chart: The tune.
        instrument: The instrument.
        count: How many lines, 1 to 1000.
        seed: Shuffles the lines; in the order in which they are found if not given.
        used: Lines whose grips pay the surcharge from the first line on.
        **settings: As for `lead`.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> chords = [Chord.parse(symbol) for symbol in ("Dm7", "G7")]
        >>> one, other = choruses(chords, guitar, 2)
        >>> one.steps[0].voicing == other.steps[0].voicing
        False
    """
    if not 1 <= count <= _MOST_CHORUSES:
        raise ConditionError(name="count", value=count, expected=f"1 to {_MOST_CHORUSES} lines")
    before = tuple(used)
    found: list[Line] = []
    for _ in range(count):
        found.append(lead(chart, instrument, used=(*before, *found), **settings))
    if seed is not None:
        random.Random(seed).shuffle(found)  # noqa: S311 - variety, no secret
    return tuple(found)


def _surcharges(
    layers: list[Candidates], used: tuple[Line, ...], surcharge: float
) -> list[NDArray[np.int32]]:
    if not 0 <= surcharge <= _DEAREST:
        raise ConditionError(
            name="surcharge", value=surcharge, expected=f"semitones from 0 to {_DEAREST}"
        )
    price = round(surcharge * THOUSANDTHS)
    instrument = layers[0].table.instrument
    times: dict[tuple[int, ...], int] = {}
    for line in used:
        for voicing in {step.voicing for step in line.steps}:
            if voicing.instrument == instrument:
                times[voicing.frets] = times.get(voicing.frets, 0) + 1
    extras = []
    for layer in layers:
        extra = np.zeros(len(layer), np.int32)
        for frets, number in times.items():
            extra += price * number * (layer.table.frets == np.array(frets, np.int8)).all(axis=1)
        extras.append(extra)
    return extras


@attrs.frozen(eq=False)
class _Chosen:
    """The row that was chosen at a place."""

    place: Place
    layer: Candidates
    row: int
    extras: NDArray[np.int32]

    def alone(self, weights: LineWeights) -> Candidates:
        return Candidates.of(self.layer.table[self.row : self.row + 1], weights)


def _steps(
    chosen: list[_Chosen], top: TopLine, weights: LineWeights, *, loop: bool
) -> Iterator[LineStep]:
    before = chosen[-1].alone(weights) if loop else None
    for one in chosen:
        here, place = one.alone(weights), one.place
        motion = travel = line = 0
        if before is not None:
            motion = int(motion_costs(before, here, weights)[0, 0])
            travel = int(travel_costs(before, here)[0, 0])
            line = int(top_costs(before, here, top, weights)[0, 0])
        cost = StepCost(motion, travel, line, int(here.ease[0]), int(one.extras[one.row]))
        yield LineStep(place.chord, here.table[0], place.onset, place.length, place.bar, cost)
        before = here
