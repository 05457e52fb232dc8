"""Laws of cheapest lines."""

from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gripwright import Chord, Instrument, Interval, Pitch, find_voicings
from gripwright.errors import NoCandidateError
from gripwright.leading import Band, Line, LineWeights, lead
from gripwright.leading.cost import TOP_LINES, TopLine
from tests.core.leading.tunes import GUITAR, Sung
from tests.core.neck.reference import instrument

FOURTHS = Instrument.from_text("E2 A2 D3 G3 C4 F4", frets=22, id="fourths")
SEVEN = instrument("seven-string")
ONLY_MOTION = {"travel": 0.0, "top": 0.0, "ease": 0.0}
MOST = 5000
FRETS = 22

roots = [letter + sign for letter in "CDEFGAB" for sign in ("", "b", "#")]
suffixes = ["", "m", "7", "m7", "maj7", "m7b5", "dim7", "9", "13", "m6", "7b9", "sus4", "6/9"]
symbols = st.builds(str.__add__, st.sampled_from(roots), st.sampled_from(suffixes))
tunes = st.lists(symbols, min_size=1, max_size=4).map(
    lambda texts: [Chord.parse(text) for text in texts]
)


def led(*arguments: Any, **settings_: Any) -> Line:
    """Lead, or pass over what cannot be led."""
    try:
        return lead(*arguments, **settings_)
    except NoCandidateError:
        assume(condition=False)
        raise


def semitones_up(number: int) -> Interval:
    """Return an interval of so many semitones, however spelled."""
    octaves, rest = divmod(number, 12)
    steps = (0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6)[rest]
    return Interval(7 * octaves + steps, number)


@settings(max_examples=40)
@given(
    tune=tunes,
    own=st.sampled_from([GUITAR, FOURTHS, SEVEN]),
    low=st.integers(1, 8),
    width=st.integers(3, 5),
    up=st.integers(1, 12),
    stranger=st.integers(0, 8),
    lowest=st.none() | st.integers(40, 55),
    ceiling=st.none() | st.integers(58, 72),
    loop=st.booleans(),
)
def test_transposing_up_with_all_limits_never_raises_the_cost(
    *,
    tune: list[Chord],
    own: Instrument,
    low: int,
    width: int,
    up: int,
    stranger: int,
    lowest: int | None,
    ceiling: int | None,
    loop: bool,
) -> None:
    """By voice motion alone, without open strings: frets lie closer up there, none is lost."""
    assume(low + width + up <= FRETS)
    weights = LineWeights(stranger=stranger, **ONLY_MOTION)

    def cost(symbols_: list[Chord], more: int) -> int:
        band = None
        if lowest is not None:
            band = Band("own", "", ("optional",), lowest=Pitch.from_midi(lowest + more))
        melody = [] if ceiling is None else [Sung(Pitch.from_midi(ceiling + more), 0, 100)]  # type: ignore[arg-type]
        conditions: dict[str, Any] = {
            "no_open": True,
            "max_notes": 4,
            "lowest_fret": low + more,
            "highest_fret": low + width + more,
        }
        # The law needs every candidate, not the first of an order that the place on the neck sways.
        assert all(len(find_voicings(chord, own, **conditions)) <= MOST for chord in symbols_)
        return led(
            symbols_,
            own,
            weights=weights,
            top="free",
            candidates=MOST,
            band=band,
            melody=melody,
            loop=loop,
            **conditions,
        ).cost

    here = cost(tune, 0)
    there = cost([chord.transposed(semitones_up(up)) for chord in tune], up)
    assert there <= here


@settings(max_examples=40)
@given(
    tune=tunes,
    few=st.integers(1, 60),
    more=st.integers(1, 200),
    loop=st.booleans(),
    ease=st.sampled_from([0, 0.12]),
)
def test_more_candidates_never_raise_the_cost(
    *, tune: list[Chord], few: int, more: int, loop: bool, ease: float
) -> None:
    """The cheaper line is still among them."""
    weights = LineWeights(ease=ease)
    costs = [
        lead(tune, GUITAR, candidates=number, loop=loop, weights=weights).cost
        for number in (few, few + more)
    ]
    assert costs[1] <= costs[0]


@settings(max_examples=40)
@given(tunes, st.sampled_from(TOP_LINES))
def test_a_loop_costs_no_less_than_the_open_line(tune: list[Chord], top: TopLine) -> None:
    """The way home is paid on top."""
    open_cost, loop_cost = (
        lead(tune, GUITAR, candidates=40, top=top, loop=loop).cost for loop in (False, True)
    )
    assert loop_cost >= open_cost


@settings(max_examples=30)
@given(tune=tunes, first=st.integers(0, 200), last=st.integers(0, 200), loop=st.booleans())
def test_asking_for_a_first_and_a_last_grip_never_lowers_the_cost(
    *, tune: list[Chord], first: int, last: int, loop: bool
) -> None:
    """They were among the candidates of the free line."""
    tune = [*tune, Chord.parse("C6")]
    conditions: dict[str, Any] = {"max_notes": 4, "highest_fret": 5, "loop": loop}
    free = lead(tune, GUITAR, candidates=MOST, **conditions)
    ends = [
        list(find_voicings(chord, GUITAR, max_notes=4, highest_fret=5))
        for chord in (tune[0], tune[-1])
    ]
    asked = [end[row % len(end)] for end, row in zip(ends, (first, last), strict=True)]
    bound = lead(tune, GUITAR, candidates=MOST, first=asked[0], last=asked[1], **conditions)
    assert [bound.steps[0].voicing, bound.steps[-1].voicing] == asked
    assert bound.cost >= free.cost
