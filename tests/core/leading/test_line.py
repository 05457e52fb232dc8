"""Cheapest lines against networkx on costs by the scalar definition.

Outside reference: networkx (BSD), shortest path through the same candidates.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest

from gripwright import Chart, Chord, Instrument, Pitch, Voicing, find_voicings, load_registry
from gripwright.errors import NoCandidateError
from gripwright.leading import Line, LineWeights, StepCost, lead
from gripwright.leading.cost import TOP_LINES, TopLine
from gripwright.neck.ranking import teaching
from tests.core.leading.scalar_model import Layered, ease_costs, step_cost
from tests.core.leading.tunes import FANNED, GUITAR, UKULELE, chords, sung, tables

TURNAROUND = "Cmaj7 A7b9 Dm7 G13"
WEIGHTS = LineWeights(motion=0.9, stranger=3, travel=0.06, top=1.2, ease=0.1)


def voicings(line: Line) -> list[Voicing]:
    """Return the grips of a line."""
    return [step.voicing for step in line.steps]


def parts_of(line: Line, top: str, weights: LineWeights, surcharges: Sequence[int]) -> None:
    """Hold each step of a line to the scalar definition, and their sum to the cost."""
    grips = voicings(line)
    befores: list[Voicing | None] = [grips[-1] if line.loop else None, *grips[:-1]]
    total = 0
    for before, step, surcharge in zip(befores, line.steps, surcharges, strict=True):
        table = find_voicings(step.chord, step.voicing.instrument)
        row = next(row for row, own in enumerate(table) if own.frets == step.voicing.frets)
        (ease,) = ease_costs(table[row : row + 1], weights)
        plain = step_cost(before, step.voicing, ease, top, weights)
        own = StepCost(plain.motion, plain.travel, plain.top, plain.ease, surcharge)
        assert step.cost == own
        total += own.total
    assert line.cost == total


@pytest.mark.parametrize("top", TOP_LINES)
@pytest.mark.parametrize(
    ("own", "symbols"), [(GUITAR, TURNAROUND), (FANNED, "Fm7 Bb7 Ebmaj7"), (UKULELE, "F D7 G7 C7")]
)
def test_the_cheapest_line_is_networkx_s_shortest_path(
    own: Instrument, symbols: str, top: TopLine
) -> None:
    """Among twenty-four candidates a chord, for every kind of top line."""
    tune = chords(symbols)
    graph = Layered(tables(tune, own, 24), WEIGHTS, top)
    line = lead(tune, own, candidates=24, weights=WEIGHTS, top=top)
    assert line.cost == graph.cheapest()
    parts_of(line, top, WEIGHTS, [0] * len(tune))


@pytest.mark.parametrize("top", ["smooth", "rising"])
@pytest.mark.parametrize("symbols", [TURNAROUND, "Gm7 C7", "E7#9"])
def test_the_cheapest_loop_is_the_best_over_all_starts(symbols: str, top: TopLine) -> None:
    """The way home is part of the first step, and networkx finds none that is cheaper."""
    tune = chords(symbols)
    graph = Layered(tables(tune, GUITAR, 12), WEIGHTS, top)
    line = lead(tune, GUITAR, candidates=12, weights=WEIGHTS, top=top, loop=True)
    assert line.loop
    assert line.cost == graph.cheapest_round()
    parts_of(line, top, WEIGHTS, [0] * len(tune))


def test_conditions_and_strategies_choose_the_candidates() -> None:
    """Every grip is one of the search with the same settings."""
    drops = load_registry().strategies["drop-2"]
    conditions: dict[str, Any] = {"strings": (5, 4, 3, 2), "lowest_fret": 3, "highest_fret": 9}
    tune = chords("Dm7 G7 Cmaj7")
    line = lead(tune, GUITAR, strategy=drops, **conditions)
    for step in line.steps:
        found = find_voicings(step.chord, GUITAR, strategy=drops, **conditions)
        assert step.voicing in list(found)


def test_first_and_last_are_played_as_asked() -> None:
    """Even where the line would be cheaper with others, and beyond the usual candidates."""
    tune = chords(TURNAROUND)
    free = lead(tune, GUITAR, candidates=30)
    late = [find_voicings(chord, GUITAR).order_by(teaching)[700] for chord in (tune[0], tune[-1])]
    line = lead(tune, GUITAR, candidates=30, first=late[0], last=late[1])
    assert [line.steps[0].voicing, line.steps[-1].voicing] == late
    assert line.cost > free.cost
    middle = [
        find_voicings(tune[0], GUITAR).order_by(teaching)[700:701],
        *tables(tune[1:-1], GUITAR, 30),
        find_voicings(tune[-1], GUITAR).order_by(teaching)[700:701],
    ]
    assert line.cost == Layered(middle, LineWeights()).cheapest()


def test_a_top_line_that_is_given_is_met_exactly() -> None:
    """Octave and all; where nothing is given the top is free."""
    given = [Pitch.parse("E4"), Pitch.parse("C#5"), None, Pitch.parse("B3")]
    line = lead(chords(TURNAROUND), GUITAR, top=given)
    found = [pitch.midi for pitch in line.top_line]
    assert [found[0], found[1], found[3]] == [64, 73, 59]
    assert all(step.cost.top == 0 for step in line.steps)


def test_the_top_line_is_the_highest_note_of_each_grip() -> None:
    """Spelled for its chord."""
    line = lead(chords("Fm7 Bb7 Ebmaj7"), GUITAR)
    assert [pitch.midi for pitch in line.top_line] == [max(own.midi) for own in voicings(line)]
    assert all(
        pitch.note in step.voicing.notes
        for pitch, step in zip(line.top_line, line.steps, strict=True)
    )


def test_rising_falling_and_held_lines_do_what_they_say() -> None:
    """Where the weights leave nothing else to pay for."""
    only_top = LineWeights(motion=0, travel=0, ease=0)
    tune = chords(TURNAROUND)
    found = {
        top: [pitch.midi for pitch in lead(tune, GUITAR, weights=only_top, top=top).top_line]
        for top in TOP_LINES
    }
    assert all(low < high for low, high in pairwise(found["rising"]))
    assert all(low > high for low, high in pairwise(found["falling"]))
    assert max(map(abs, (low - high for low, high in pairwise(found["held"])))) <= 2


MELODY = (
    sung("E4", 0, 4),
    sung("C#4", 4, 2),
    sung("E4", 6, 2),
    sung("C4", 8, 4),
    sung("B3", 12, 4),
)


def test_a_melody_is_a_ceiling_that_is_not_rubbed() -> None:
    """No voice above its lowest note while a chord sounds, nor a semitone beside any of them."""
    tune = chords(TURNAROUND)
    line = lead(tune, GUITAR, melody=MELODY)
    ceilings, beside = [64, 61, 60, 59], [{64}, {61, 64}, {60}, {59}]
    for step, ceiling, notes in zip(line.steps, ceilings, beside, strict=True):
        assert max(step.voicing.midi) <= ceiling
        assert all(abs(own - note) != 1 for own in step.voicing.midi for note in notes)


def test_a_melody_note_counts_for_each_chord_under_it_and_for_no_other() -> None:
    """Over the bar line it binds two chords; one that ends where a chord starts binds it not."""
    tune = chords("C C C")
    free = lead(tune, GUITAR, first=find_voicings(tune[0], GUITAR, top_note="G4")[0])
    assert max(free.steps[0].voicing.midi) > 60
    over = lead(tune, GUITAR, melody=[sung("C4", 3, 2)], top=[None, None, Pitch.parse("G4")])
    assert [max(own.midi) <= 60 for own in voicings(over)] == [True, True, False]
    before = lead(tune, GUITAR, melody=[sung("C4", 0, 4)], top=[None, *[Pitch.parse("G4")] * 2])
    assert [max(own.midi) <= 60 for own in voicings(before)] == [True, False, False]


def test_a_melody_note_that_starts_where_a_chord_ends_does_not_bind_it() -> None:
    """G4 on top of the first C, and C4 sung from the second on."""
    top = [Pitch.parse("G4"), None]
    line = lead(chords("C C"), GUITAR, melody=[sung("C4", 4, 4)], top=top)
    assert [max(own.midi) <= 60 for own in voicings(line)] == [False, True]


def test_the_lowest_of_several_melody_notes_is_the_ceiling() -> None:
    """E4 lies below the C5 of the second half, and above the C4 of the first."""
    with pytest.raises(NoCandidateError):
        lead(
            chords("C"),
            GUITAR,
            melody=[sung("C4", 0, 2), sung("C5", 2, 2)],
            top=[Pitch.parse("E4")],
        )


def test_the_same_chord_twice_has_the_top_and_the_melody_of_each_place() -> None:
    """What is kept of the first is not taken for the second."""
    tops = lead(chords("C C"), GUITAR, top=[Pitch.parse("E4"), Pitch.parse("G4")])
    assert [pitch.midi for pitch in tops.top_line] == [64, 67]
    melody = [sung("C5", 0, 4), sung("C4", 4, 4)]
    free = find_voicings(tops.steps[0].chord, GUITAR, top_note=Pitch.parse("G4"))[0]
    under = lead(chords("C C"), GUITAR, melody=melody, first=free)
    assert max(under.steps[0].voicing.midi) == 67
    assert max(under.steps[1].voicing.midi) <= 60


def test_a_rub_is_avoided_that_the_ceiling_alone_would_allow() -> None:
    """C4 sung over Cmaj7: B3 lies below it, and a semitone beside it."""
    (cmaj7,) = chords("Cmaj7")
    under = find_voicings(cmaj7, GUITAR).where(top_midi=lambda top: top <= 60)
    assert any(59 in own.midi for own in under)
    line = lead([cmaj7] * 3, GUITAR, melody=[sung("C4", 0, 12)], candidates=5000)
    allowed = lead([cmaj7], GUITAR, melody=[sung("C4", 0, 4)], candidates=5000)
    assert all(59 not in own.midi for own in (*voicings(line), *voicings(allowed)))


def test_no_chord_gets_no_voicing() -> None:
    """N.C. is passed over; bars and onsets are those of the chart."""
    line = lead(Chart.parse("| C | N.C. | F G7 |"), GUITAR)
    assert [(str(step.chord), step.bar, step.onset, step.length) for step in line.steps] == [
        ("C", 1, Fraction(0), Fraction(4)),
        ("F", 3, Fraction(8), Fraction(2)),
        ("G7", 3, Fraction(10), Fraction(2)),
    ]
    assert all(isinstance(step.onset, Fraction) for step in line.steps)


@pytest.mark.parametrize("loop", [False, True])
def test_where_no_chord_is_there_is_no_step(*, loop: bool) -> None:
    """An empty sequence, and a chart that says N.C. throughout."""
    nothing: tuple[list[Chord] | Chart[Chord], ...] = ([], Chart.parse("| N.C. | % |"))
    for chart in nothing:
        line = lead(chart, GUITAR, loop=loop)
        assert (line.steps, line.cost, line.loop, line.top_line) == ((), 0, loop, ())


def test_a_chart_is_led_as_it_is_played() -> None:
    """Repeat and endings by hand: bars 1 2 3, 1 2 4 as written, six bars as played."""
    chart = Chart.parse("|: Dm7 | G7 |1. Em7 A7 :|2. Cmaj7 |")
    line = lead(chart, GUITAR, candidates=60)
    played = "Dm7 G7 Em7 A7 Dm7 G7 Cmaj7"
    assert [str(step.chord) for step in line.steps] == played.split()
    assert [step.bar for step in line.steps] == [1, 2, 3, 3, 4, 5, 6]
    assert [step.onset for step in line.steps] == [0, 4, 8, 10, 12, 16, 20]
    # The same chords in a row cost the same.
    assert line.cost == lead(chords(played), GUITAR, candidates=60).cost


def test_chords_alone_are_bars_of_four_quarters() -> None:
    """As is said."""
    line = lead(chords("C F"), GUITAR)
    assert [(step.bar, step.onset, step.length) for step in line.steps] == [
        (1, Fraction(0), Fraction(4)),
        (2, Fraction(4), Fraction(4)),
    ]


def test_equal_requests_give_equal_lines() -> None:
    """Grips and costs."""
    tune = chords(TURNAROUND)
    assert lead(tune, GUITAR) == lead(tune, GUITAR)
