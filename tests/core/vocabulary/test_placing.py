"""Moving grips: the same tones on another root, wherever the neck and the hand allow."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import QUALITIES, Chord, Hand, Note, Voicing, find_voicings
from gripwright.vocabulary import fits_hand, is_movable, on_root, round_the_fourths
from gripwright.vocabulary.placing import moved, nearest_place, reference, usual_root
from tests.core.neck.reference import frets_of, instrument
from tests.core.vocabulary.players import GUITAR, MOVABLE, ROOTS, grip


@given(voicing=MOVABLE, root=ROOTS)
def test_a_moved_grip_keeps_its_degrees(voicing: Voicing, root: Note) -> None:
    """Each place on another root sounds the same degrees on the same strings."""
    places = on_root(voicing, root)
    assert places
    for place in places:
        assert place.degrees == voicing.degrees
        assert place.string_set == voicing.string_set
        assert place.chord == Chord(root, voicing.chord.quality)
        assert all(-1 <= fret <= GUITAR.frets and fret != 0 for fret in place.frets)


@given(voicing=MOVABLE, root=ROOTS)
def test_every_place_is_found(voicing: Voicing, root: Note) -> None:
    """The places are all shifts of the shape that lie on the neck and have the root."""
    frets = [fret for fret in voicing.frets if fret > 0]
    wanted = [
        shift
        for shift in range(-GUITAR.frets, GUITAR.frets + 1)
        if min(frets) + shift >= 1
        and max(frets) + shift <= GUITAR.frets
        and (shift - root.pitch_class + voicing.chord.root.pitch_class) % 12 == 0
    ]
    found = [max(place.frets) - max(frets) for place in on_root(voicing, root)]
    assert found == wanted


@given(voicing=MOVABLE, root=ROOTS)
def test_every_place_has_the_same_reference(voicing: Voicing, root: Note) -> None:
    """A grip has one place that stands for it, from whichever place it is asked."""
    for place in on_root(voicing, root):
        assert reference(place).frets == reference(voicing).frets
        assert reference(place).chord == reference(voicing).chord


def test_a_grip_with_open_strings_stays() -> None:
    """It has its own root alone, and does not go round the fourths."""
    open_c = grip("C", "x-3-2-0-1-0")
    assert not is_movable(open_c)
    assert [place.shape for place in on_root(open_c, Note("C"))] == ["x-3-2-0-1-0"]
    assert on_root(open_c, Note("D")) == ()
    assert round_the_fourths(open_c) == ()
    assert reference(open_c).frets == open_c.frets


@given(voicing=MOVABLE)
def test_the_cycle_of_fourths_visits_twelve_roots(voicing: Voicing) -> None:
    """Each root lies a fourth above the one before (common practice)."""
    cycle = round_the_fourths(voicing)
    tones = [place.chord.root.pitch_class for place in cycle]
    assert tones == [(voicing.chord.root.pitch_class + 5 * turn) % 12 for turn in range(12)]
    assert cycle[0] == voicing


def test_a_short_string_keeps_its_lowest_press() -> None:
    """On a banjo the fifth string starts at its fifth fret: the lowest press is the sixth."""
    banjo = instrument("banjo")
    barred = Voicing(Chord.parse("C"), banjo, (10, 10, 9, 8, 10))
    lowest = {place.frets[0] for place in on_root(barred, Note("A"))}
    assert lowest == {7, 19}
    assert [place.shape for place in on_root(barred, Note("F"))] == ["15-15-14-13-15"]


def test_moving_off_the_neck_gives_nothing() -> None:
    """A shift that leaves the neck, and one to nowhere."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    assert moved(voicing, -3, Note("A")) is None
    assert moved(voicing, 30, Note("C")) is None
    assert nearest_place(grip("C", "x-3-2-0-1-0"), Note("D"), 3.0) is None


SOME_HANDS = st.builds(Hand, st.integers(2, 5), st.floats(40, 160))


@settings(max_examples=25)
@given(
    symbol=st.sampled_from(["Cmaj7", "G7", "Dm7b5", "F", "A13"]),
    hand=SOME_HANDS,
    data=st.data(),
)
def test_a_hand_holds_exactly_what_the_search_finds(
    symbol: str, hand: Hand, data: st.DataObject
) -> None:
    """Of all voicings of a large hand, those that another hand holds are those of its search."""
    chord = Chord.parse(symbol)
    limits = {"highest_fret": 9, "no_inner_mutes": True}
    widest = find_voicings(chord, GUITAR, Hand(5, 200), **limits)  # type: ignore[arg-type]
    narrow = find_voicings(chord, GUITAR, hand, **limits)  # type: ignore[arg-type]
    found = {tuple(row) for row in narrow.frets.tolist()}
    first = data.draw(st.integers(0, 10))
    for voicing in widest[first::11]:
        assert fits_hand(voicing, hand) == (voicing.frets in found)


@pytest.mark.parametrize(
    ("quality", "tone", "name"),
    [("maj7", 0, "C"), ("maj7", 1, "Db"), ("m7", 6, "F#"), ("7", 10, "Bb"), ("m11", 8, "Ab")],
)
def test_roots_are_written_as_players_do(quality: str, tone: int, name: str) -> None:
    """Naturals, else flats, else a sharp that saves accidentals (common practice)."""
    assert str(usual_root(QUALITIES[quality], tone)) == name


def test_a_shape_in_tests_is_what_it_says() -> None:
    """The shapes of these tests are read bass side first."""
    assert frets_of("x-3-5-4-5-x") == grip("Cmaj7", "x-3-5-4-5-x").frets
