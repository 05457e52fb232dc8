"""Top-note studies: voicings of one chord whose top notes walk a scale or a given line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Any, Final, Literal, get_args

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError, NoCandidateError
from gripwright.leading.cost import (
    THOUSANDTHS,
    Candidates,
    LineWeights,
    StepCost,
    motion_costs,
    step_costs,
    travel_costs,
)
from gripwright.leading.line import USUAL_CANDIDATES, Line, LineStep
from gripwright.leading.path import cheapest_path
from gripwright.leading.top_note import TopNotes
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.ranking import teaching
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.table import VoicingTable
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch
from gripwright.theory.scale import Scale, scale_degrees

Contour = Literal["rising", "falling", "arch"]

CONTOURS: Final[tuple[Contour, ...]] = get_args(Contour)
"""The ways to walk a scale: up, down, or up and down again."""

USUAL_ALTERNATION: Final = 6.0
_USUAL_HAND: Final = Hand()
_USUAL_WEIGHTS: Final = LineWeights()
_BAR: Final = Fraction(4)
_MOST_CANDIDATES: Final = 5000


@attrs.frozen
class Study:
    """Voicings of one chord in the order of their top notes.

    Args:
        chord: The chord.
        line: The voicings, each held for a bar of four quarters. The surcharge of a step is what
            it costs to follow a known voicing by a known one, or a new one by a new one.
        known: For each voicing whether the player knew it.
        skipped: Notes of the scale, within the compass of the study, that no voicing has on top.

    Example:
        >>> from gripwright import Chord, Instrument
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> found = study(Chord.parse("C6"), ukulele, max_notes=4)
        >>> [str(pitch) for pitch in found.top_line][:4]
        ['A4', 'B4', 'C5', 'D5']
    """

    chord: Chord
    line: Line
    known: tuple[bool, ...]
    skipped: tuple[Pitch, ...] = ()

    @property
    def voicings(self) -> tuple[Voicing, ...]:
        """The voicings in order."""
        return tuple(step.voicing for step in self.line.steps)

    @property
    def top_line(self) -> tuple[Pitch, ...]:
        """The top notes alone, as notes to sing."""
        return self.line.top_line

    @property
    def cost(self) -> int:
        """What all steps cost together, in thousandths of a semitone."""
        return self.line.cost


def study(
    chord: Chord,
    instrument: Instrument,
    *,
    top: Scale | Sequence[Pitch] | None = None,
    contour: Contour = "rising",
    lowest: Pitch | None = None,
    highest: Pitch | None = None,
    string_sets: Iterable[Iterable[int]] | None = None,
    strategy: VoicingStrategy | None = None,
    hand: Hand = _USUAL_HAND,
    known: Iterable[Voicing] = (),
    alternation: float = USUAL_ALTERNATION,
    weights: LineWeights = _USUAL_WEIGHTS,
    candidates: int = USUAL_CANDIDATES,
    **conditions: Any,
) -> Study:
    """An ordered study of one chord: one voicing for each note of a top line, cheapest motion.

    A note on top that the chord does not have is added to it as a tension, on top alone; its
    essential tones sound below as ever. The line whose steps cost least is found exactly, as by
    `gripwright.leading.line.lead`. With known voicings, each step between two known or two new
    ones pays the price of `alternation`, and so does a new one at either end: new voicings come
    to stand between known ones.

    Args:
        chord: The chord.
        instrument: The instrument.
        top: A scale on the chord's root, or the line of top notes itself; the chord's usual
            scale, without the notes that hide the chord, if not given.
        contour: How a scale is walked.
        lowest: The lowest note of a scale walked; what the voicings allow if not given.
        highest: The highest.
        string_sets: Sets of strings as players number them, such as ``[(4, 3, 2, 1)]``, of
            which a voicing sounds exactly one; any strings if not given.
        strategy: How tones are stacked; any way if not given.
        hand: The fretting hand.
        known: Voicings that the player knows, by their grips.
        alternation: What a step that does not alternate pays, in semitones of voice motion, 0
            to 1000.
        weights: What the parts of a step weigh.
        candidates: Voicings for each note that are compared, 1 to 5000, besides known ones.
        **conditions: Conditions of the search, as in `find_voicings`.

    Returns:
        The study.

    Raises:
        NoCandidateError: A note of a given line that no voicing has on top, or a scale of which
            none has any.
        ConditionError: A value outside its range.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> inner = study(
        ...     Chord.parse("Dm7"), guitar, string_sets=[(4, 3, 2, 1)], lowest=Pitch.parse("A4"),
        ...     highest=Pitch.parse("F5"), no_doubles=True, no_open=True,
        ... )
        >>> [str(pitch) for pitch in inner.top_line]
        ['A4', 'B4', 'C5', 'D5', 'E5', 'F5']
    """
    if not 1 <= candidates <= _MOST_CANDIDATES:
        raise ConditionError(
            name="candidates", value=candidates, expected=f"1 to {_MOST_CANDIDATES}"
        )
    if not 0 <= alternation <= THOUSANDTHS:
        raise ConditionError(
            name="alternation", value=alternation, expected="semitones from 0 to 1000"
        )
    if contour not in CONTOURS:
        raise ConditionError(name="contour", value=contour, expected=" or ".join(CONTOURS))
    search = TopNotes.of(
        chord,
        instrument,
        hand=hand,
        strategy=strategy,
        string_sets=string_sets,
        conditions=conditions,
    )
    skipped: tuple[Pitch, ...] = ()
    if top is None or isinstance(top, Scale):
        walked, skipped = _walk(search, _scale(chord, top), lowest, highest)
        tops = _contoured(walked, contour)
    else:
        tops = tuple(top)
    for place, pitch in enumerate(tops):
        if not len(search.under(pitch)):
            raise NoCandidateError(chord=str(chord), bar=place + 1, reason=search.reason(pitch))
    knowns = {voicing.frets for voicing in known if voicing.instrument == instrument}
    layers = [_Layer.of(search.under(pitch), knowns, weights, candidates) for pitch in tops]
    price = round(alternation * THOUSANDTHS) if knowns else 0
    return _cheapest(chord, layers, weights, price, skipped)


def _scale(chord: Chord, scale: Scale | None) -> tuple[Degree, ...]:
    if scale is not None:
        return scale.degrees
    avoid = {degree.pitch_class for degree in chord.quality.avoid}
    return tuple(one for one in scale_degrees(chord.quality) if one.pitch_class not in avoid)


def _walk(
    search: TopNotes, degrees: tuple[Degree, ...], lowest: Pitch | None, highest: Pitch | None
) -> tuple[tuple[Pitch, ...], tuple[Pitch, ...]]:
    """The pitches of a scale that voicings have on top, rising, and those between without any."""
    root = search.chord.root
    notes = {(root + degree.interval).pitch_class: root + degree.interval for degree in degrees}
    low, high = search.compass()
    low = low if lowest is None else lowest.midi
    high = high if highest is None else highest.midi
    pitches = [
        Pitch.spell(notes[midi % SEMITONES_IN_OCTAVE], midi)
        for midi in range(low, high + 1)
        if midi % SEMITONES_IN_OCTAVE in notes
    ]
    found = [pitch for pitch in pitches if len(search.under(pitch))]
    if not found:
        raise NoCandidateError(chord=str(search.chord), bar=1, reason=search.reason(None))
    # Beyond the voicings' compass nothing is missed, save where the bounds were asked for.
    first = found[0].midi if lowest is None else low
    last = found[-1].midi if highest is None else high
    skipped = tuple(
        pitch for pitch in pitches if pitch not in found and first <= pitch.midi <= last
    )
    return tuple(found), skipped


def _contoured(rising: tuple[Pitch, ...], contour: Contour) -> tuple[Pitch, ...]:
    if contour == "rising":
        return rising
    falling = rising[::-1]
    return falling if contour == "falling" else (*rising, *falling[1:])


@attrs.frozen(eq=False)
class _Layer:
    """The voicings under one top note, and which of them the player knows."""

    candidates: Candidates
    known: NDArray[np.bool_]

    @classmethod
    def of(
        cls, table: VoicingTable, knowns: set[tuple[int, ...]], weights: LineWeights, most: int
    ) -> _Layer:
        ordered = table.order_by(teaching)
        known = np.zeros(len(ordered), bool)
        for frets in knowns:
            known |= (ordered.frets == np.array(frets, np.int8)).all(axis=1)
        rows = np.flatnonzero(known | (np.arange(len(ordered)) < most))
        return cls(Candidates.of(ordered[rows], weights), known[rows])

    def alone(self, row: int, weights: LineWeights) -> _Layer:
        table = self.candidates.table[row : row + 1]
        return _Layer(Candidates.of(table, weights), self.known[row : row + 1])

    def alike(self, other: _Layer) -> NDArray[np.bool_]:
        """Whether both are known or both new, (rows, other rows)."""
        return np.equal.outer(self.known, other.known)


def _cheapest(
    chord: Chord,
    layers: list[_Layer],
    weights: LineWeights,
    price: int,
    skipped: tuple[Pitch, ...],
) -> Study:
    """The study whose steps cost least, one row of each layer."""
    if not layers:
        return Study(chord, Line(()), (), skipped)
    ends = {0, len(layers) - 1}
    edges = [
        np.where(layer.known | (place not in ends), 0, price).astype(np.int32)
        for place, layer in enumerate(layers)
    ]
    nodes = [layer.candidates.ease + edge for layer, edge in zip(layers, edges, strict=True)]

    def steps(place: int) -> NDArray[np.int32]:
        here, there = layers[place], layers[place + 1]
        costs = step_costs(here.candidates, there.candidates, "free", weights)
        return costs + np.int32(price) * here.alike(there)

    _, rows = cheapest_path(nodes, steps)
    chosen = [layer.alone(row, weights) for layer, row in zip(layers, rows, strict=True)]
    paid = [int(edge[row]) for edge, row in zip(edges, rows, strict=True)]
    line = Line(tuple(_line_steps(chord, chosen, paid, weights, price)))
    return Study(chord, line, tuple(bool(one.known[0]) for one in chosen), skipped)


def _line_steps(
    chord: Chord, chosen: list[_Layer], paid: list[int], weights: LineWeights, price: int
) -> Iterator[LineStep]:
    for place, (layer, surcharge) in enumerate(zip(chosen, paid, strict=True)):
        here, motion, travel, alike = layer.candidates, 0, 0, 0
        if place:
            before = chosen[place - 1]
            motion = int(motion_costs(before.candidates, here, weights)[0, 0])
            travel = int(travel_costs(before.candidates, here)[0, 0])
            alike = price * int(before.alike(layer)[0, 0])
        cost = StepCost(motion, travel, 0, int(here.ease[0]), surcharge + alike)
        voicing = attrs.evolve(here.table[0], chord=chord)
        yield LineStep(chord, voicing, _BAR * place, _BAR, place + 1, cost)
