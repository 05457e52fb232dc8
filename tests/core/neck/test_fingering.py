"""Fingering of known grips, and its laws."""

from itertools import pairwise

import attrs
import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from gripwright import Hand, Instrument
from gripwright.errors import ConditionError
from gripwright.laws.drawing import instruments
from gripwright.neck.fingering import Barre, Fingering, FingerPress, fingering_of
from gripwright.neck.presses import Press, presses_of
from gripwright.neck.strain import StrainWeights, strain_of
from tests.core.neck.enumerator import presses as enumerated_presses
from tests.core.neck.reference import frets_of, instrument

GUITAR = instrument("guitar")
FEWEST = StrainWeights(extra_finger=1000)


@st.composite
def shapes(draw: st.DrawFn) -> tuple[tuple[int, ...], Instrument]:
    """A shape that at most five presses hold, on any instrument."""
    neck = draw(instruments())
    low = draw(st.integers(1, neck.frets))
    frets = draw(
        st.tuples(
            *(
                st.one_of(
                    st.integers(
                        max(low, neck.lowest_press(i)), max(low, neck.lowest_press(i)) + 4
                    ).map(lambda fret: min(fret, neck.frets)),
                    st.sampled_from([-1, 0]),
                )
                for i in range(len(neck.strings))
            )
        ).filter(lambda frets: len(presses_of(frets)) <= 5)
    )
    return frets, neck


def fingers(shape: str) -> str:
    """Return the fingers of a shape on the guitar, written as the shape is."""
    given_fingers = fingering_of(frets_of(shape), GUITAR).fingers
    return "-".join("." if finger == 0 else str(finger) for finger in given_fingers)


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        ("x-3-2-0-1-0", ".-3-2-.-1-."),
        ("3-2-0-0-0-3", "2-1-.-.-.-3"),
        ("x-x-0-2-3-2", ".-.-.-1-3-2"),
        ("x-0-2-2-2-0", ".-.-1-2-3-."),
        ("x-0-2-2-1-0", ".-.-2-3-1-."),
        ("0-2-2-1-0-0", ".-2-3-1-.-."),
        ("0-2-2-0-0-0", ".-1-2-.-.-."),
        ("x-x-0-2-3-1", ".-.-.-2-3-1"),
        ("x-x-3-2-1-1", ".-.-3-2-1-1"),
        ("x-x-0-2-1-1", ".-.-.-2-1-1"),
        ("x-3-2-3-1-0", ".-3-2-4-1-."),
        ("1-3-3-2-1-1", "1-3-4-2-1-1"),
        ("5-7-5-5-5-5", "1-3-1-1-1-1"),
        ("x-3-5-4-5-3", ".-1-3-2-4-1"),
        ("x-3-5-3-4-3", ".-1-3-1-2-1"),
        ("x-5-7-5-6-x", ".-1-3-1-2-."),
        ("x-3-5-4-5-x", ".-1-3-2-4-."),
        ("x-2-3-2-3-x", ".-1-2-1-3-."),
        ("3-x-3-3-3-x", "2-.-3-3-3-."),
        ("x-3-2-3-3-3", ".-2-1-3-3-3"),
        ("x-3-2-3-4-x", ".-2-1-3-4-."),
        ("8-x-8-9-10-x", "1-.-2-3-4-."),
        ("x-3-5-5-5-x", ".-1-3-3-3-."),
        ("x-x-10-9-8-7", ".-.-4-3-2-1"),
        ("x-x-7-7-6-8", ".-.-2-3-1-4"),
        ("x-x-5-5-x-x", ".-.-1-1-.-."),
        ("x-x-5-x-x-x", ".-.-1-.-.-."),
    ],
)
def test_known_grips_have_the_fingers_that_are_taught(shape: str, expected: str) -> None:
    """Common practice."""
    assert fingers(shape) == expected


@pytest.mark.parametrize("low", range(1, 12))
def test_two_frets_apart_are_index_and_ring(low: int) -> None:
    """A finger a fret: common practice."""
    fingering = fingering_of((-1, -1, low, low + 2, -1, -1), GUITAR)
    assert fingering.fingers == (0, 0, 1, 3, 0, 0)


def test_a_barre_tells_the_strings_that_it_spans() -> None:
    """Also those between that other fingers hold higher up."""
    fingering = fingering_of((1, 3, 3, 2, 1, 1), GUITAR)
    assert fingering.barres == (Barre(finger=1, fret=1, first_string=0, last_string=5),)
    assert fingering.presses[0] == FingerPress(finger=1, fret=1, strings=(0, 4, 5))
    assert fingering.presses[1:] == (
        FingerPress(2, 2, (3,)),
        FingerPress(3, 3, (1,)),
        FingerPress(4, 3, (2,)),
    )
    assert fingering.least_presses == 3


def test_a_heavy_extra_finger_keeps_to_the_fewest_presses() -> None:
    """The ring finger of F then takes both strings."""
    fingering = fingering_of((1, 3, 3, 2, 1, 1), GUITAR, weights=FEWEST)
    assert fingering.fingers == (1, 3, 3, 2, 1, 1)
    assert len(fingering.presses) == fingering.least_presses


@pytest.mark.parametrize(
    ("shape", "reach_mm", "words"),
    [
        (
            "x-x-5-5-5-8",
            115,
            "index bars strings 4 to 2 at fret 5, little on string 1 at fret 8; reach 77 mm of 115",
        ),
        (
            "3-x-4-4-3-x",
            115,
            (
                "index on string 6 at fret 3, middle on string 2 at fret 3,"
                " ring on string 4 at fret 4, little on string 3 at fret 4;"
                " string 5 muted; reach 31 mm of 115"
            ),
        ),
        (
            "8-x-9-x-8-12",
            80.5,
            (
                "index on string 6 at fret 8, middle on string 2 at fret 8,"
                " ring on string 4 at fret 9, little on string 1 at fret 12;"
                " strings 5 and 3 muted; reach 84 mm of 80.5, 3.7 mm too far"
            ),
        ),
        (
            "x-3-2-0-1-0",
            115,
            (
                "index on string 2 at fret 1, middle on string 4 at fret 2,"
                " ring on string 5 at fret 3; reach 67 mm of 115"
            ),
        ),
        (
            "5-x-x-x-5-x",
            115,
            (
                "index on string 6 at fret 5, middle on string 2 at fret 5;"
                " strings 5, 4 and 3 muted; reach 0 mm of 115"
            ),
        ),
        ("x-x-x-5-x-x", 115, "index on string 3 at fret 5; reach 0 mm of 115"),
        ("0-0-0-0-0-0", 115, "no finger is needed"),
        ("x-0-x-0-0-x", 115, "no finger is needed; string 4 muted"),
    ],
)
def test_a_fingering_in_words(shape: str, reach_mm: float, words: str) -> None:
    """Strings are numbered as players do, 1 on the treble side."""
    assert fingering_of(frets_of(shape), GUITAR).explain(Hand(reach_mm=reach_mm)) == words


def test_of_equal_ways_the_one_with_fewer_and_lower_fingers_is_taken() -> None:
    """Where nothing weighs, the fewest presses are held from the index on.

    Where only barres weigh, both barres over three strings weigh alike, and to part the one that
    presses two of them takes a finger less.
    """
    nothing = StrainWeights(0, (0,) * 4, (0,) * 4, 0, (0,) * 5, 0, (0,) * 5, 0, 0)
    assert fingering_of((1, 3, 3, 2, 1, 1), GUITAR, weights=nothing).fingers == (1, 3, 3, 2, 1, 1)
    assert fingering_of((-1, -1, 5, 5, -1, -1), GUITAR, weights=nothing).fingers[2:4] == (1, 1)
    barres = attrs.evolve(nothing, barre=(1,) * 5)
    five = fingering_of((1, 2, 1, 3, 3, 3), GUITAR, Hand(fingers=5), barres)
    assert (five.fingers, five.strain.barres) == ((1, 3, 2, 4, 4, 4), 3)


def test_no_finger_needs_no_reach() -> None:
    """Open strings lie nowhere along the neck."""
    fingering = fingering_of((0, 0, 0, 0, 0, 0), GUITAR)
    assert (fingering.reach_mm, fingering.presses, fingering.strain.total) == (0, (), 0)


def test_a_shape_beyond_the_hand_is_fingered_all_the_same() -> None:
    """Four presses take four fingers, however far apart."""
    fingering = fingering_of((1, 9, 10, 11, -1, -1), GUITAR)
    assert fingering.fingers == (1, 2, 3, 4, 0, 0)


@pytest.mark.parametrize(("part", "fingers"), [(0.99, {1, 4}), (1.0, {1, 2, 3, 4})])
def test_fingers_by_choice_reach_exactly_as_far_as_the_spread(
    part: float, fingers: set[int]
) -> None:
    """Heavy barres ask for a finger a string, if the gap is no wider than the spread."""
    gap_mm = GUITAR.place_mm(2, 4) - GUITAR.place_mm(0, 1)
    hand, heavy = Hand(reach_mm=gap_mm * 1.5 * part), StrainWeights(barre=(100,) * 5)
    fingering = fingering_of((1, -1, 4, 4, 4, -1), GUITAR, hand, heavy)
    assert set(fingering.fingers) - {0} == fingers


def test_on_fanned_frets_another_way_to_part_may_keep_the_spread() -> None:
    """The first fret of the treble side lies nearer to fret 4 than that of the bass side does.

    So a hand of three fingers cannot part the upper barre, but it can part the lower one.
    """
    fanned = Instrument(
        id="fanned",
        name="fanned",
        strings=tuple(
            attrs.evolve(string, scale_mm=720.0 - 24.0 * n)
            for n, string in enumerate(GUITAR.strings)
        ),
        frets=22,
        align_fret=12,
    )
    low, high, far = fanned.place_mm(0, 1), fanned.place_mm(5, 1), fanned.place_mm(1, 4)
    assert low < high < far
    hand = Hand(fingers=3, reach_mm=1.5 * (far - low) - 5)
    heavy = StrainWeights(barre=(100, 90, 90, 90, 90))
    fingering = fingering_of((1, 4, 4, -1, -1, 1), fanned, hand, heavy)
    assert fingering.fingers == (1, 3, 3, 0, 0, 2)


def test_a_fifth_finger_presses_where_the_hand_has_one() -> None:
    """Numbers 1 to 5; nothing is said of how such a hand is held."""
    frets = (1, 2, 3, 4, 5, -1)
    with pytest.raises(ConditionError, match="at most 4 presses"):
        fingering_of(frets, GUITAR, Hand(fingers=4))
    assert fingering_of(frets, GUITAR, Hand(fingers=5)).fingers == (1, 2, 3, 4, 5, 0)
    assert fingering_of(frets, GUITAR).presses[-1].name == "fifth finger"


@pytest.mark.parametrize(
    ("frets", "expected"),
    [
        ((1, 2, 3), "6 of them, one a string"),
        ((-1, -1, -1, -1, -1, 23), "-1, 0 or 1 to 22 on string 1"),
        ((-2, -1, -1, -1, -1, 3), "-1, 0 or 1 to 22 on string 6"),
        ((6, 5, 4, 3, 2, 1), "at most 5 presses"),
    ],
)
def test_what_is_no_shape_of_the_instrument_is_refused(
    frets: tuple[int, ...], expected: str
) -> None:
    """Too few frets, frets beyond the neck, more presses than any hand has fingers."""
    with pytest.raises(ConditionError) as caught:
        fingering_of(frets, GUITAR)
    assert str(caught.value) == f"frets cannot be {frets}: expected {expected}"


def test_a_short_string_cannot_be_pressed_below_its_start() -> None:
    """The fifth string of the banjo starts at its fifth fret."""
    banjo = instrument("banjo")
    assert fingering_of((6, -1, -1, -1, -1), banjo).fingers == (1, 0, 0, 0, 0)
    with pytest.raises(ConditionError, match="6 to 22 on string 5"):
        fingering_of((5, -1, -1, -1, -1), banjo)


@given(shapes())
def test_fingers_rise_with_fret_and_string(drawn: tuple[tuple[int, ...], Instrument]) -> None:
    """Each higher finger presses a higher fret, or the same one more to the treble side."""
    presses = fingering_of(*drawn).presses
    event(f"fingers: {len(presses)}")
    for low, high in pairwise(presses):
        assert low.finger < high.finger
        assert (low.fret, low.strings) < (high.fret, high.strings)


@given(shapes())
def test_fingers_press_what_the_fewest_presses_hold(
    drawn: tuple[tuple[int, ...], Instrument],
) -> None:
    """Each press is held by one finger, or by a finger for each of its strings."""
    frets, neck = drawn
    fingering = fingering_of(frets, neck)
    held = {press.strings: press for press in fingering.presses}
    for press in presses_of(frets):
        parts = [press.strings] if press.strings in held else [(s,) for s in press.strings]
        assert all(held.pop(part).fret == press.fret for part in parts)
    assert not held
    assert fingering.least_presses == len(enumerated_presses(frets))
    assert all(
        (finger > 0) == (fret > 0) for finger, fret in zip(fingering.fingers, frets, strict=True)
    )


@given(shapes())
def test_kept_to_the_fewest_presses_it_has_just_those(
    drawn: tuple[tuple[int, ...], Instrument],
) -> None:
    """The presses are those of the search."""
    fingering = fingering_of(*drawn, weights=FEWEST)
    assert presses_of(drawn[0]) == tuple(
        sorted(
            (Press(press.fret, press.strings) for press in fingering.presses),
            key=lambda press: (press.fret, press.strings),
        )
    )


@given(shapes(), st.integers(1, 20))
def test_a_shape_moved_along_the_neck_keeps_its_presses(
    drawn: tuple[tuple[int, ...], Instrument], up: int
) -> None:
    """As many, on the same strings, where no open string stays behind."""
    frets, neck = drawn
    frets = tuple(fret or -1 for fret in frets)
    longer = attrs.evolve(neck, frets=48)
    moved = tuple(fret + up if fret > 0 else fret for fret in frets)
    here = fingering_of(frets, longer, weights=FEWEST)
    there = fingering_of(moved, longer, weights=FEWEST)
    assert [press.strings for press in there.presses] == [press.strings for press in here.presses]
    assert [press.fret - up for press in there.presses] == [press.fret for press in here.presses]


@given(shapes())
def test_a_barre_spans_its_strings(drawn: tuple[tuple[int, ...], Instrument]) -> None:
    """From the first to the last, and no string between is held lower or open."""
    frets, neck = drawn
    for barre in fingering_of(frets, neck).barres:
        between = frets[barre.first_string : barre.last_string + 1]
        assert min(between) == between[0] == between[-1] == barre.fret


@given(shapes(), st.integers(4, 5), st.floats(20, 150))
def test_a_hand_stays_within_its_spread_by_choice(
    drawn: tuple[tuple[int, ...], Instrument], count: int, reach_mm: float
) -> None:
    """With all fingers in use though fewer would do, each lies near enough to the next."""
    frets, neck = drawn
    hand = Hand(fingers=count, reach_mm=reach_mm)
    if len(presses_of(frets)) > count:
        return
    fingering = fingering_of(frets, neck, hand)
    if fingering.least_presses < len(fingering.presses) == count:
        places = [neck.place_mm(press.strings[0], press.fret) for press in fingering.presses]
        assert all(abs(high - low) <= hand.spread_mm + 1e-9 for low, high in pairwise(places))


@given(shapes())
def test_no_other_choice_of_fingers_strains_less(
    drawn: tuple[tuple[int, ...], Instrument],
) -> None:
    """Against the strain of fingers moved up or down by one where there is room."""
    frets, neck = drawn
    fingering = fingering_of(frets, neck)
    held = [(press.finger, Press(press.fret, press.strings)) for press in fingering.presses]
    chosen = [finger for finger, _ in held]
    for index, step in ((i, step) for i in range(len(held)) for step in (-1, 1)):
        moved = [*chosen]
        moved[index] += step
        if moved != sorted(set(moved)) or not 1 <= moved[index] <= max(4, fingering.least_presses):
            continue
        other = tuple(zip(moved, (press for _, press in held), strict=True))
        strain = strain_of(frets, neck, other, fingering.least_presses)
        assert strain.total >= fingering.strain.total - 1e-9


@given(shapes())
def test_a_fingering_repeats_itself(drawn: tuple[tuple[int, ...], Instrument]) -> None:
    """Equal requests give equal values."""
    assert fingering_of(*drawn) == fingering_of(*drawn)
    assert isinstance(hash(fingering_of(*drawn)), int)
    assert attrs.evolve(fingering_of(*drawn)) == Fingering(
        **attrs.asdict(fingering_of(*drawn), recurse=False)
    )
